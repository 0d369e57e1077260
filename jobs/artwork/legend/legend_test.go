package legend_test

import (
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork/legend"
	"knifedesk/jobs/workshop"
)

// box is round paths.
func box(paths []geometry.Path) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range paths {
		b = b.Union(p.Bounds())
	}
	return b
}

// asHigh counts the outlines whose height is that of flat capitals so high.
func asHigh(paths []geometry.Path, capMM float64) (n int) {
	for _, p := range paths {
		if math.Abs(p.Bounds().Height()-capMM) < 0.001*capMM {
			n++
		}
	}
	return n
}

// The letters of a legend are a measure that people hold against their own: the B of each
// sample is as high as the limit that is said of it, in a frame with room for them, and a
// limit that is not entered has no sample.
func TestSamplesAreAsHighAsTheLimits(t *testing.T) {
	for _, l := range []workshop.Limits{
		{LetterExpertMM: 6, LetterCareMM: 8.5, LetterEasyMM: 12}, {LetterCareMM: 10, LetterEasyMM: 20}, {LetterEasyMM: 15}, {LetterExpertMM: 0.5},
	} {
		bare := legend.Paths(&workshop.Limits{}, nil, 500, 500)
		all := legend.Paths(&l, nil, 500, 500)
		for _, mm := range []float64{l.LetterExpertMM, l.LetterCareMM, l.LetterEasyMM} {
			if mm > 0 && asHigh(all, mm) <= asHigh(bare, mm) {
				t.Errorf("%+v: no capital is %g mm high", l, mm)
			}
		}
		if l.LetterCareMM == 0 && asHigh(all, 8.5) > asHigh(bare, 8.5) {
			t.Errorf("%+v has a sample of 8.5 mm", l)
		}
		most := math.Max(l.LetterExpertMM, math.Max(l.LetterCareMM, l.LetterEasyMM))
		for _, p := range all { // an opening bracket or a tail reaches beyond a capital
			if h := p.Bounds().Height(); h > 1.5*math.Max(most, 3) {
				t.Errorf("%+v: an outline is %g mm high", l, h)
			}
		}
	}
}

// The legend stands in the lower left corner, clear of the frame, in whatever frame; a
// small one has smaller letters.
func TestLegendsStandInTheirFrame(t *testing.T) {
	l := workshop.DefaultLimits()
	layers := []legend.Layer{{Name: "CUT", Means: workshop.MeansCut}}
	for _, f := range [][2]float64{{500, 500}, {297, 210}, {210, 297}, {100, 60}, {60, 100}, {30, 20}, {10, 90}} {
		b := box(legend.Paths(&l, layers, f[0], f[1]))
		edge := math.Min(8, math.Min(f[0], f[1])/10)
		if math.Abs(b.Min.X-edge) > 1e-9 || math.Abs(b.Min.Y-edge) > 1e-9 || b.Max.X > f[0]-edge+1e-9 || b.Max.Y > f[1]-edge+1e-9 {
			t.Errorf("in %g × %g mm it stands in %v", f[0], f[1], b)
		}
	}
	if wide, more := box(legend.Paths(&l, layers, 500, 500)), box(legend.Paths(&l, layers, 1500, 1500)); math.Abs(wide.Height()-more.Height()) > 1e-9 {
		t.Errorf("letters of a large frame are larger: %g and %g mm", wide.Height(), more.Height())
	}
}

// Each layer of which there is something to say has a line of its own, as high as the
// others and clear of them, and a layer of the page has none.
func TestLayersHaveALineEach(t *testing.T) {
	none := workshop.Limits{}
	base := box(legend.Paths(&none, nil, 900, 900))
	if base.Height() > 1.5*3 { // the line on the frame, with a comma; limits that are not entered have none
		t.Errorf("with nothing to say it is %g mm high", base.Height())
	}
	last := base
	var layers []legend.Layer
	for _, one := range []legend.Layer{
		{Name: "HHH", Means: workshop.MeansNothing}, {Name: "HHH", Means: workshop.MeansPen}, {Name: "HHH", Means: workshop.MeansScore}, {Name: "HHH", Means: workshop.MeansPerforate},
		{Name: "HHH", Means: workshop.MeansCut}, {Name: "HHH", Means: workshop.MeansScore, Fold: workshop.Mountain}, {Name: "HHH", Means: workshop.MeansScore, Fold: workshop.Valley},
	} {
		layers = append(layers, one)
		now := box(legend.Paths(&none, layers, 900, 900))
		if step := now.Max.Y - last.Max.Y; len(layers) > 1 && (step < 3 || step > 9) {
			t.Errorf("%+v adds %g mm", one, step)
		}
		last = now
	}
	framed := append([]legend.Layer{{Name: "PAGE", Means: workshop.MeansFrame}}, layers...)
	if got := box(legend.Paths(&none, framed, 900, 900)); got != last {
		t.Errorf("a layer of the page has a line: %v, without it %v", got, last)
	}
	if last.Height() < base.Height()+6*3 {
		t.Errorf("seven layers are told in %g mm, none in %g", last.Height(), base.Height())
	}
}
