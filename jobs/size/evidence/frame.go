package evidence

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/stray"
)

// holdShare is the share of the artwork's paths that reach into a frame at
// least: artwork may overhang, but a box round a part of it is no frame.
const holdShare = 0.75

// lyingTol is how near, against its longer side, a path lies on a frame to be
// drawn along it: 0.15 mm for A4.
const lyingTol = 5e-4

// Frame is a frame that was found, and what belongs to it.
type Frame struct {
	Quad
	OnLayer bool       // the convention keeps its layer for frames
	Beside  bool       // declared, and found beside the work and not round it
	Doubled int        // further paths of the same look along it
	Border  []Part     // paths of another look along it
	Work    Work       // all that is not the frame
	Aside   []Item     // of it, what lies apart from the frame and is told of by itself
	Reach   [2]float64 // of the work, along the frame's own axes
}

// Lies reports whether a path runs wholly along the sides of q.
func (s *Survey) Lies(it Item, q *Quad) bool {
	tol := lyingTol * math.Max(q.U, q.V)
	if q.onSide(s.Path(it).Start) > tol {
		return false
	}
	runs, ok := runsOf(s.Path(it), s.runs)
	if !ok {
		round, ok := s.wholeQuad(it)
		return ok && round.coincides(q, 2*tol)
	}
	for _, r := range runs {
		for _, t := range [3]float64{0, 0.5, 1} {
			if q.onSide(r.from.Lerp(r.to, t)) > tol {
				return false
			}
		}
	}
	return true
}

// Surround collects what belongs to the rectangle q as a frame: copies of it,
// borders that lie on it, and the rest.
func (s *Survey) Surround(q Quad) *Frame {
	f := &Frame{Quad: q, OnLayer: s.OnFrameLayer(&q)}
	rest := make([]Item, 0, len(s.Items))
	mine := map[[2]int]bool{}
	looks := map[paint]bool{}
	for _, p := range q.Parts {
		mine[[2]int{p.Shape, p.Path}] = true
		looks[s.paintOf(p.Shape)] = true
	}
	for _, it := range s.Items {
		s.Budget.Step()
		switch {
		case mine[[2]int{it.Shape, it.Path}]:
			if s.Lies(it, &q) && partly(s.Path(it), it, &q) { // another line draws the rest of it too
				f.Parts = append(f.Parts, Part{Shape: it.Shape, Path: it.Path})
			}
		case it.OnFrame:
			f.Parts = append(f.Parts, Part{Shape: it.Shape, Path: it.Path})
			if s.Lies(it, &q) {
				f.Doubled++
			}
		case !s.Lies(it, &q):
			rest = append(rest, it)
		case looks[s.paintOf(it.Shape)] && !f.OnLayer:
			f.Parts = append(f.Parts, Part{Shape: it.Shape, Path: it.Path})
			f.Doubled++
		case it.speck: // a stray that happens to lie there
			rest = append(rest, it)
		default:
			f.Border = append(f.Border, Part{Shape: it.Shape, Path: it.Path})
			rest = append(rest, it)
		}
	}
	f.Parts = mergeParts(f.Parts)
	f.Work = WorkOf(s.Budget, rest)
	f.Reach = f.reaches()
	return f
}

// partly reports whether a rectangle is drawn by some segments of a path only.
func partly(path *geometry.Path, it Item, q *Quad) bool {
	return slices.ContainsFunc(q.Parts, func(p Part) bool {
		return p.Shape == it.Shape && p.Path == it.Path && len(p.Segments) > 0 && len(p.Segments) < len(path.Segments)
	})
}

// holdsMost reports whether q holds something, and nearly all of the drawing
// besides what lies along it. It stops as soon as too much lies outside.
func (s *Survey) holdsMost(q *Quad) bool {
	held, outside := 0, 0
	counted := len(s.Items)
	for _, it := range s.Items {
		s.Budget.Step()
		if it.speck {
			counted--
		}
	}
	most := int((1 - holdShare) * float64(counted))
	slack := 0.01 * math.Max(q.U, q.V)
	bounds := q.Bounds().Grow(slack)
	own := func(it Item) bool {
		return slices.ContainsFunc(q.Parts, func(p Part) bool { return p.Shape == it.Shape && p.Path == it.Path })
	}
	for _, it := range s.Items {
		s.Budget.Step()
		switch {
		case it.speck, own(it):
		case !bounds.Overlaps(it.Box) || !q.touches(it.Box, slack):
			if outside++; outside > most {
				return false
			}
		case !s.Lies(it, q):
			held++
		}
	}
	return held > 0 && float64(held) >= holdShare*float64(held+outside)
}

// Overhang lists the artwork that sticks out of the frame by more than tol, without what
// is told of as Aside.
func (f *Frame) Overhang(tol float64) []Item {
	var out []Item
	aside := map[[2]int]bool{}
	for _, it := range f.Aside {
		aside[[2]int{it.Shape, it.Path}] = true
	}
	for _, it := range f.Work.Items {
		if aside[[2]int{it.Shape, it.Path}] {
			continue
		}
		for _, c := range it.Box.Corners() {
			if !f.Holds(c, tol) {
				out = append(out, it)
				break
			}
		}
	}
	return out
}

// reaches is how far the artwork reaches along the frame's own axes.
func (f *Frame) reaches() [2]float64 {
	m := f.Own()
	b := geometry.EmptyBox()
	for _, it := range f.Work.Items {
		for _, c := range it.Box.Corners() {
			b = b.Include(m.Apply(c))
		}
	}
	return [2]float64{b.Width(), b.Height()}
}

// maxCandidates bounds the rectangles that are weighed as frames.
const maxCandidates = 8

// Candidates returns the rectangles that may be the frame, the likeliest
// first: those on a frame layer, then those that hold nearly all of the rest,
// from the outside in, then those with a side missing.
func (s *Survey) Candidates() []*Frame {
	var layer, whole []*Frame
	var parts copies
	for i := range s.Quads {
		q := &s.Quads[i]
		switch {
		case len(layer)+len(whole) == maxCandidates:
		case s.OnFrameLayer(q):
			layer = append(layer, s.Surround(*q))
		case parts.have(q):
		case s.holdsMost(q):
			whole = append(whole, s.Surround(*q))
		default:
			parts = append(parts, q)
		}
	}
	for i := range s.missing {
		q := &s.missing[i]
		if len(layer)+len(whole) < maxCandidates && (s.OnFrameLayer(q) || s.holdsMost(q)) {
			whole = append(whole, s.Surround(*q))
		}
	}
	return append(layer, whole...)
}

// TakeBorder makes the lines of another look on the frame a part of it.
func (s *Survey) TakeBorder(f *Frame) {
	out := map[[2]int]bool{}
	for _, p := range f.Border {
		out[[2]int{p.Shape, p.Path}] = true
	}
	var rest []Item
	for _, it := range f.Work.Items {
		s.Budget.Step()
		if !out[[2]int{it.Shape, it.Path}] {
			rest = append(rest, it)
		}
	}
	f.Parts = mergeParts(append(f.Parts, f.Border...))
	f.Border = nil
	f.Work = WorkOf(s.Budget, rest)
	f.Reach = f.reaches()
}

// Far returns how far the frame or the artwork reaches, whichever is farther.
func (f *Frame) Far() float64 {
	return math.Max(f.Longest(), math.Max(f.Reach[0], f.Reach[1]))
}

// Stretch returns the map from drawing units to mm with a factor for each axis
// of the frame.
func (f *Frame) Stretch(x, y float64) geometry.Affine {
	if x == y || f.Turn == 0 {
		return geometry.Scale(x, y)
	}
	return geometry.Rotate(-f.Turn).Then(geometry.Scale(x, y)).Then(geometry.Rotate(f.Turn))
}

// Measure returns the width and height in mm of the artwork, along the axes of
// the drawing, with a factor for each axis of the frame.
func (s *Survey) Measure(f *Frame, x, y float64) (w, h float64) {
	if x == y || f.Turn == 0 {
		b := f.Work.At(math.Max(x, y))
		return b.Width() * x, b.Height() * y
	}
	m := f.Stretch(x, y)
	b := geometry.EmptyBox()
	for _, it := range f.Work.Items {
		s.Budget.Spend(1 + len(s.Path(it).Segments))
		if one := s.Path(it).Transform(m).Bounds(); !stray.Point(one) {
			b = b.Union(one)
		}
	}
	return b.Width(), b.Height()
}
