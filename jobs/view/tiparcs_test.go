package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/view"
)

// Where the machine understands arcs, plotter files have them, and the tip keeps to
// what was drawn as by chords: on shapes with radii from 0.1 mm, by the bare line and by
// every offset.
func TestTheTipCutsTheArcsOfPlotterFiles(t *testing.T) {
	random := rand.New(rand.NewPCG(12, 5))
	p := laid(t, shapes(t))
	p.Passes.Arcs = true
	plotter := readers()[len(readers())-1]
	for _, offset := range []float64{0, 0.25, 0.5, 0.9} {
		t.Run(fmt.Sprintf("%g mm", offset), func(t *testing.T) {
			p.cutBy(t, offset)
			checkTip(t, p, 0, plotter, random.Float64()*2*math.Pi)
			arcs := plotter.read(t, fileOf(t, p, view.AllPasses, view.Plt))[0].arcs
			if arcs < 40 {
				t.Errorf("%d arcs", arcs)
			}
		})
	}
}

// hp2xx draws arcs of the file at the same length and in the same box as our reader:
// it draws them by the chords that the file asks for.
func TestHp2xxReadsArcs(t *testing.T) {
	b := benches()[0]
	shop := b.shop()
	for i := range shop.Machines {
		shop.Machines[i].PlotterArcs = true
	}
	choices := b.choices
	choices.Copies = 2
	p := planIn(t, offsetIn(shop, 0.5), b.file, choices)
	file := fileOf(t, p, view.AllPasses, view.Plt)
	got := byHp2xx(t, file)
	var want []geometry.Path
	arcs := 0
	for _, pass := range readPlotter(t, file) {
		want, arcs = append(want, pass.lines...), arcs+pass.arcs
	}
	wantMM, wantBox := sizes(want)
	mm, box := sizes(got)
	if arcs < 10 || math.Abs(mm-wantMM) > 0.01*wantMM || math.Abs(box.Width()-wantBox.Width()) > 0.06 || math.Abs(box.Height()-wantBox.Height()) > 0.06 {
		t.Errorf("%d arcs, %g mm in %v, want %g in %v", arcs, mm, box, wantMM, wantBox)
	}
}
