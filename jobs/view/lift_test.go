package view_test

import (
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// turning is the shop with machines that turn a lifted blade.
func turning(shop workshop.Data) workshop.Data {
	for i := range shop.Machines {
		shop.Machines[i].TurnsLifted = true
	}
	return shop
}

// sharpest returns the least angle between two lines of a path that it runs through
// without a lift, in degrees, by their directions alone.
func sharpest(p geometry.Path) float64 {
	least := 180.0
	pts := p.Flatten(1e-3)
	for i := 2; i < len(pts); i++ {
		a, b := pts[i-2].Sub(pts[i-1]), pts[i].Sub(pts[i-1])
		if a.Norm() > 0.2 && b.Norm() > 0.2 {
			least = math.Min(least, math.Acos(math.Max(-1, math.Min(1, a.Dot(b)/a.Norm()/b.Norm())))*180/math.Pi)
		}
	}
	return least
}

// Files for a machine that turns a lifted blade lift it at the corners below the
// angle of the setting, 75° for heavy card, and at no others: together the lines are
// still what was drawn. The replay takes the plan's time, and who cuts is told.
func TestFilesLiftTheKnifeAtSharpCorners(t *testing.T) {
	const star = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 70" fill="none" stroke="#000">
<g id="CUT"><path d="M50 5L60 30L95 35L60 40L50 65L40 40L5 35L40 30Z"/></g></svg>`
	p := planIn(t, turning(compensating(workshop.Neutral(), workshop.CompensatesOffset)), star, plan.Choices{Stock: "card-220-a4", Copies: 1})
	want := planOfLoad(t, p, 0)[0].lines[0]
	pass := &p.Passes.Loads[0].Passes[0]
	// Eight times in each of two rounds, four points and none of the notches: by hand.
	if pass.Turns < 7 || pass.Turns > 9 {
		t.Errorf("turned lifted %d times", pass.Turns)
	}
	for _, r := range ownReaders() {
		got := r.read(t, fileOf(t, p, view.AllPasses, r.format))[0].lines
		if len(got) != pass.Turns+1 {
			t.Errorf("%s: %d lines, the knife is turned lifted %d times", r.name, len(got), pass.Turns)
		}
		var trail []geometry.Point
		for _, l := range got {
			if deg := sharpest(l); deg < 75 {
				t.Errorf("%s: a corner of %g° is cut without a lift", r.name, deg)
			}
			trail = append(trail, l.Flatten(1e-4)...)
		}
		if off := between(trail, want.Flatten(1e-4)); !(off <= tipMM(r.format)) {
			t.Errorf("%s: the lines lie %g mm off what was drawn", r.name, off)
		}
	}
	p.holdTime(t)
	list, err := p.ListPasses(1)
	if err != nil || !strings.Contains(list.Text(), "below 75°, the file lifts the knife") {
		t.Errorf("the list does not say so: %v\n%s", err, list.Text())
	}
}
