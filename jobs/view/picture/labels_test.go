package picture_test

import (
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// On the pictures of the demo, of drawings of our own, of a class set, of films on each
// other, of panels and of test cuts, laid out for a
// desk and for a phone, no two labels overlap, none lies on a line of the work, on the edge of
// the stock or of a part, no leader runs through a label, each text is within its ring, and no text is
// under 2.3 mm in print, which is more than 11 pixels on a phone (the bounds are those of
// the workshop's own style, from memory).
func TestLabelsKeepOffTheWork(t *testing.T) {
	for _, width := range []float64{1000, 340} {
		ctx := figure.Onto(t.Context(), figure.Screen(width))
		check := func(name string, p *figure.Picture) {
			checkLabels(t, fmt.Sprintf("%s at %g", name, width), svgOf(t, p), p.Width)
		}
		eachOwnPicture(ctx, t, check)
		otherPictures(ctx, t, check)
	}
}

// eachOwnPicture calls f with every picture of the demo's plans, of our own drawings and
// of a class set, in order of their names "plan/kind".
func eachOwnPicture(ctx context.Context, t *testing.T, f func(name string, p *figure.Picture)) {
	t.Helper()
	plans := maps.Clone(must(examples()))
	maps.Copy(plans, must(ownPlans()))
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		pictures := plans[name].picturesOn(ctx, t)
		for _, kind := range slices.Sorted(maps.Keys(pictures)) {
			f(name+"/"+kind, pictures[kind])
		}
	}
	class := must(classSet())
	pictures := class.onLoads(ctx, t)
	for _, kind := range slices.Sorted(maps.Keys(pictures)) {
		f("class/"+kind, pictures[kind])
	}
}

// checkLabels measures the labels of a picture.
func checkLabels(t *testing.T, name string, svg []byte, width float64) {
	t.Helper()
	if folder := os.Getenv("KNIFEDESK_SCREENSHOTS"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, strings.ReplaceAll(name, "/", "-")+".svg"), svg, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	all := parse(t, svg)
	work := workOf(t, all)
	var labels []label
	for i, e := range all {
		if e.name != "text" {
			continue
		}
		l := letters{X: e.number(t, "x"), Y: e.number(t, "y"), Size: e.number(t, "font-size"), Anchor: e.attrs["text-anchor"], Weight: e.attrs["font-weight"], Text: e.text}
		if l.Size*figure.PrintMM < 2.3 {
			t.Errorf("%s: %q is %g pixels high", name, l.Text, l.Size)
		}
		one := label{text: l.Text, box: l.box(t)}
		if ring := all[i-1]; ring.name == "path" && ring.zone == "marks" && ring.attrs["fill"] == figure.Paper {
			if box := ring.paths(t)[0].Bounds(); box.Width() < one.box.Width()+1 {
				t.Errorf("%s: %q is %.1f pixels wide in a ring of %.1f", name, one.text, one.box.Width(), box.Width())
			}
			one.box = ring.paths(t)[0].Bounds()
			one.round = len(ring.paths(t)[0].Segments) == 2
		}
		if one.box.Min.X < 0 || one.box.Max.X > width {
			t.Errorf("%s: %q leaves the page", name, one.text)
		}
		for _, other := range labels {
			if one.overlaps(other) {
				t.Errorf("%s: %q lies on %q", name, one.text, other.text)
			}
		}
		if at, ok := work.under(one); ok {
			t.Errorf("%s: %q lies on a line of the work at %.0f, %.0f", name, one.text, at.X, at.Y)
		}
		labels = append(labels, one)
	}
	checkLeaders(t, name, all, labels)
}

// checkLeaders looks for leaders that run through a label other than their own, which they
// end at.
func checkLeaders(t *testing.T, name string, all []element, labels []label) {
	t.Helper()
	for _, e := range all {
		if e.name != "path" || e.zone != "marks" || e.attrs["stroke-width"] != "1.4" {
			continue
		}
		q := e.paths(t)[0]
		if q.Closed || len(q.Segments) != 1 {
			continue
		}
		for _, l := range labels {
			const short = 4 // pixels from either end, where the leader's own label is
			n := math.Ceil(q.Length())
			for k := short; float64(k) <= n-short; k++ {
				if at := q.Start.Lerp(q.End(), float64(k)/n); l.holds(at) {
					t.Errorf("%s: a leader runs through %q at %.0f, %.0f", name, l.text, at.X, at.Y)
					break
				}
			}
		}
	}
}

// label is a text, or a text with the ring or box that it stands in.
type label struct {
	text  string
	box   geometry.Box
	round bool
}

// overlaps reports whether two labels lie on each other.
func (l label) overlaps(o label) bool {
	if l.round && o.round {
		return l.box.Centre().Dist(o.box.Centre()) < (l.box.Width()+o.box.Width())/2
	}
	return l.box.Overlaps(o.box)
}

// holds reports whether a point lies well within a label.
func (l label) holds(q geometry.Point) bool {
	return l.box.Grow(-1).Contains(q) && (!l.round || q.Dist(l.box.Centre()) < l.box.Width()/2-1)
}

// workCell is the side of the cells in which lines of the work are looked up, in pixels.
const workCell = 1.0

// work is where the lines of the work run, by cells.
type work map[[2]int]bool

// workOf takes in what is drawn of the work, the edges of the stock and those of parts: all
// lines of drawings but those of hatches and those that only help, such as the dashed
// rectangle round a copy.
func workOf(t *testing.T, all []element) work {
	t.Helper()
	w := work{}
	clip := geometry.EmptyBox()
	for _, e := range all {
		switch {
		case e.name == "g":
			clip = geometry.EmptyBox()
		case e.name == "svg" && e.attrs["x"] != "":
			at := geometry.Pt(e.number(t, "x"), e.number(t, "y"))
			clip = geometry.BoxAround(at, at.Add(geometry.Pt(e.number(t, "width"), e.number(t, "height"))))
		case e.name == "path" && e.zone == "drawing" && e.attrs["stroke"] != "" && e.attrs["stroke"] != "none" && !slices.Contains(helping, e.attrs["stroke"]),
			e.name == "path" && e.zone == "marks" && isPartEdge(t, e):
			for _, p := range e.paths(t) {
				w.add(p.Flatten(0.3), clip)
			}
		}
	}
	return w
}

// isPartEdge reports whether a path is the edge of an enlarged part, or where one lies.
func isPartEdge(t *testing.T, e element) bool {
	t.Helper()
	return e.attrs["stroke"] == figure.Ink && e.attrs["stroke-width"] == "1.4" && e.attrs["fill"] == "none" && len(e.paths(t)) == 1 && e.paths(t)[0].Closed
}

// helping are the inks of hatches and of lines that only help, and the paper under lines
// that stand off from hatches.
var helping = []string{"#1f5f74", "#7a5a1e", "#9aa0ad", figure.Faint, figure.Paper}

// add notes a polyline, of which what lies in the clip is shown; empty: all of it.
func (w work) add(pts []geometry.Point, clip geometry.Box) {
	for i := 1; i < len(pts); i++ {
		n := max(1, math.Ceil(pts[i-1].Dist(pts[i])/workCell))
		for k := 0.0; k <= n; k++ {
			if at := pts[i-1].Lerp(pts[i], k/n); clip.Empty() || clip.Contains(at) {
				w[[2]int{int(at.X / workCell), int(at.Y / workCell)}] = true
			}
		}
	}
}

// under returns a place where a line runs through a label, a pixel within its edge.
func (w work) under(l label) (geometry.Point, bool) {
	b := l.box.Grow(-1)
	for y := int(b.Min.Y / workCell); float64(y)*workCell <= b.Max.Y; y++ {
		for x := int(b.Min.X / workCell); float64(x)*workCell <= b.Max.X; x++ {
			at := geometry.Pt((float64(x)+0.5)*workCell, (float64(y)+0.5)*workCell)
			if w[[2]int{x, y}] && b.Contains(at) && (!l.round || at.Dist(b.Centre()) < b.Width()/2) {
				return at, true
			}
		}
	}
	return geometry.Point{}, false
}
