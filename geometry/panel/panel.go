// Package panel divides work that is larger than the stock into panels: where their
// seams cross the least of what is kept, away from what is small, and never so that
// four corners meet.
//
// Work is divided into bands across its whole width, and each band into panels; the
// seams of neighbouring bands keep apart. A panel reaches over the seam by the overlap,
//
//	     p₁    p₁+o
//	─────┼──────┤      first panel, to p₁ + o
//	     ├──────┼────  second panel, from p₁
//
// so a seam at p is cut twice, at p and at p + o, and crosses what is kept at both. Of
// all places on a raster of a millimetre the seams are chosen together by dynamic
// programming: least kept length and fewest edges crossed, then clear of edges beside it, then nearest to
// an equal division.
package panel

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Work is what is divided, in mm.
type Work struct {
	Bounds geometry.Box
	// Kept are the closed outlines of what is kept: a point within an odd number of
	// them is kept.
	Kept [][]geometry.Point
	// Avoid are boxes of thin parts and counters. A seam through one counts as if it
	// crossed Fine mm more.
	Avoid []geometry.Box
}

// Fine is what a seam through a thin part or a counter counts, in mm of kept length
// (common practice, no source).
const Fine = 50

// Edge is what a seam through an edge of what is kept counts, in mm of kept length: it
// leaves a corner on either side, which lifts (common practice, no source).
const Edge = 40

// Limits are how large a panel may be, x by y, and how far panels overlap, in mm;
// panels of a butt joint by 0.
type Limits struct {
	Width, Length float64
	Overlap       float64
}

// Panel is one part of the work. Its box reaches over its upper and right seams by the
// overlap.
type Panel struct {
	Band int          // from 0, by y or by x
	Code string       // "A1": band A, first in it
	Box  geometry.Box // in the coordinates of the work
}

// Division is how work is divided.
type Division struct {
	Panels    []Panel
	Upright   bool    // the bands lie beside each other, and not one above the other
	CrossedMM float64 // kept length that seams cross, at both cuts of an overlap
	Edges     int     // of what is kept that seams cut through
	Fine      int     // thin parts and counters that a seam goes through
	EqualMM   float64 // what seams of an equal division would cross
}

// Less reports whether a division is better than another: of fewer panels, or of as many
// that cross less.
func (d Division) Less(o Division) bool {
	if len(d.Panels) != len(o.Panels) {
		return len(d.Panels) < len(o.Panels)
	}
	return d.cost() < o.cost()
}

// cost orders divisions that have as many panels.
func (d Division) cost() float64 { return d.CrossedMM + Edge*float64(d.Edges) + Fine*float64(d.Fine) }

// Divide returns the division into as few panels as it can be, of these the one that
// crosses least. It returns false where the overlap leaves nothing of a panel, or
// where more than a thousand were needed.
func Divide(b *budget.Budget, w Work, l Limits) (Division, bool) {
	lying, ok := divide(b, w, l)
	if standing, ok2 := divide(b, w.turned(), Limits{l.Length, l.Width, l.Overlap}); ok2 {
		standing = standing.turned()
		if !ok || standing.Less(lying) {
			lying, ok = standing, true
		}
	}
	return lying, ok
}

const most = 1000 // panels

// divide returns the division into bands one above the other.
func divide(b *budget.Budget, w Work, l Limits) (Division, bool) {
	across, ok1 := count(w.Bounds.Width(), l.Width, l.Overlap)
	along, ok2 := count(w.Bounds.Height(), l.Length, l.Overlap)
	if !ok1 || !ok2 || across*along > most {
		return Division{}, false
	}
	d := Division{EqualMM: w.equally(b, across, along, l.Overlap)}
	profile := w.turned().profile(b, w.Bounds.Min.X, w.Bounds.Max.X)
	cuts, _ := profile.seams(b, along, l.Length, l.Overlap, nil)
	d.count(profile, cuts, l.Overlap)
	var before []float64
	for band, y := range spans(w.Bounds.Height(), cuts, l.Overlap) {
		y0, y1 := w.Bounds.Min.Y+y[0], w.Bounds.Min.Y+y[1]
		inBand := w.profile(b, y0, y1)
		cuts, ok := inBand.seams(b, across, l.Width, l.Overlap, before)
		if !ok { // no room to keep apart: one panel more has it
			cuts, ok = inBand.seams(b, across+1, l.Width, l.Overlap, before)
		}
		if !ok {
			return Division{}, false
		}
		d.count(inBand, cuts, l.Overlap)
		for i, x := range spans(w.Bounds.Width(), cuts, l.Overlap) {
			d.Panels = append(d.Panels, Panel{band, code(band, i), geometry.Box{
				Min: geometry.Pt(w.Bounds.Min.X+x[0], y0), Max: geometry.Pt(w.Bounds.Min.X+x[1], y1),
			}})
		}
		before = cuts
	}
	return d, true
}

// equally returns the kept length that the seams of panels of equal size cross.
func (w Work) equally(b *budget.Budget, across, along int, overlap float64) float64 {
	bands := equal(w.Bounds.Height(), along, overlap)
	sum := w.turned().profile(b, w.Bounds.Min.X, w.Bounds.Max.X).crossed(bands, overlap)
	for _, y := range spans(w.Bounds.Height(), bands, overlap) {
		band := w.profile(b, w.Bounds.Min.Y+y[0], w.Bounds.Min.Y+y[1])
		sum += band.crossed(equal(w.Bounds.Width(), across, overlap), overlap)
	}
	return sum
}

// count adds what seams cross.
func (d *Division) count(p profile, cuts []float64, overlap float64) {
	for _, at := range cuts {
		d.CrossedMM += p.kept(at, overlap)
		d.Edges += p.cut(at, overlap)
		d.Fine += p.fine(at, overlap)
	}
}

// count returns how many panels of a width cover a length: ⌈(L−o)/(W−o)⌉.
func count(length, width, overlap float64) (int, bool) {
	const slack = 1e-9 // keeps an exact fit from being rounded up
	switch {
	case length <= width+slack:
		return 1, true
	case width <= overlap:
		return 0, false
	}
	n := math.Ceil((length-overlap)/(width-overlap) - slack)
	return int(n), n <= most
}

// equal returns the seams of n panels of equal width.
func equal(length float64, n int, overlap float64) []float64 {
	cuts := make([]float64, n-1)
	for i := range cuts {
		cuts[i] = float64(i+1) * (length - overlap) / float64(n)
	}
	return cuts
}

// spans returns from where to where panels reach.
func spans(length float64, cuts []float64, overlap float64) [][2]float64 {
	all := make([][2]float64, 0, len(cuts)+1)
	from := 0.0
	for _, c := range cuts {
		all = append(all, [2]float64{from, c + overlap})
		from = c
	}
	return append(all, [2]float64{from, length})
}

// code names a panel: bands by letters, and by their number where these run out.
func code(band, i int) string {
	letter := ""
	for n := band; ; n = n/26 - 1 {
		letter = string(rune('A'+n%26)) + letter
		if n < 26 {
			break
		}
	}
	digits := ""
	for n := i + 1; n > 0; n /= 10 {
		digits = string(rune('0'+n%10)) + digits
	}
	return letter + digits
}

// turned returns the work with its axes changed for each other.
func (w Work) turned() Work {
	t := Work{Bounds: turnedBox(w.Bounds)}
	for _, ring := range w.Kept {
		pts := make([]geometry.Point, len(ring))
		for i, p := range ring {
			pts[i] = geometry.Pt(p.Y, p.X)
		}
		t.Kept = append(t.Kept, pts)
	}
	for _, box := range w.Avoid {
		t.Avoid = append(t.Avoid, turnedBox(box))
	}
	return t
}

func (d Division) turned() Division {
	d.Upright = !d.Upright
	for i := range d.Panels {
		d.Panels[i].Box = turnedBox(d.Panels[i].Box)
	}
	return d
}

func turnedBox(b geometry.Box) geometry.Box {
	return geometry.Box{Min: geometry.Pt(b.Min.Y, b.Min.X), Max: geometry.Pt(b.Max.Y, b.Max.X)}
}
