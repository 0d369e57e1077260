package size

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// holdShare is the share of the artwork's paths that reach into a frame at
// least: artwork may overhang, but a box round a part of it is no frame.
const holdShare = 0.75

// lyingTol is how near, against its longer side, a path lies on a frame to be
// drawn along it: 0.15 mm for A4.
const lyingTol = 5e-4

// framed is a frame that was found, and what belongs to it.
type framed struct {
	quad
	byLayer bool       // the convention keeps its layer for frames
	beside  bool       // declared, and found beside the work and not round it
	doubled int        // further paths of the same look along it
	border  []Part     // paths of another look along it
	work    work       // all that is not the frame
	reach   [2]float64 // of the work, along the frame's own axes
}

// lies reports whether a path runs wholly along the sides of q.
func (s *survey) lies(it item, q *quad) bool {
	tol := lyingTol * math.Max(q.u, q.v)
	if q.onSide(s.path(it).Start) > tol {
		return false
	}
	runs, ok := runsOf(s.path(it), s.runs)
	if !ok {
		return false
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

// paint is the layer and paint of a shape: two lines of one look are one line
// drawn twice, two of different looks mean two things.
type paint struct {
	layer        string
	stroke, fill drawing.Colour
	has          [2]bool
}

func (s *survey) paintOf(shape int) paint {
	sh := &s.drawing.Shapes[shape]
	p := paint{layer: sh.Layer}
	if sh.Stroke != nil {
		p.stroke, p.has[0] = *sh.Stroke, true
	}
	if sh.Fill != nil {
		p.fill, p.has[1] = *sh.Fill, true
	}
	return p
}

// surround collects what belongs to the rectangle q as a frame: copies of it,
// borders that lie on it, and the rest.
func (s *survey) surround(q quad) *framed {
	f := &framed{quad: q, byLayer: s.onFrameLayer(&q)}
	rest := make([]item, 0, len(s.items))
	mine := map[[2]int]bool{}
	looks := map[paint]bool{}
	for _, p := range q.parts {
		mine[[2]int{p.Shape, p.Path}] = true
		looks[s.paintOf(p.Shape)] = true
	}
	for _, it := range s.items {
		s.budget.Step()
		switch {
		case mine[[2]int{it.shape, it.path}]:
		case it.onFrame:
			f.parts = append(f.parts, Part{Shape: it.shape, Path: it.path})
			if s.lies(it, &q) {
				f.doubled++
			}
		case !s.lies(it, &q):
			rest = append(rest, it)
		case looks[s.paintOf(it.shape)] && !f.byLayer:
			f.parts = append(f.parts, Part{Shape: it.shape, Path: it.path})
			f.doubled++
		default:
			f.border = append(f.border, Part{Shape: it.shape, Path: it.path})
			rest = append(rest, it)
		}
	}
	f.parts = mergeParts(f.parts)
	f.work = workOf(s.budget, rest)
	f.reach = f.reaches()
	return f
}

// holdsMost reports whether q holds something, and nearly all of the drawing
// besides what lies along it. It stops as soon as too much lies outside.
func (s *survey) holdsMost(q *quad) bool {
	held, outside := 0, 0
	most := int((1 - holdShare) * float64(len(s.items)))
	slack := 0.01 * math.Max(q.u, q.v)
	bounds := q.bounds().Grow(slack)
	own := func(it item) bool {
		return slices.ContainsFunc(q.parts, func(p Part) bool { return p.Shape == it.shape && p.Path == it.path })
	}
	for _, it := range s.items {
		s.budget.Step()
		switch {
		case own(it):
		case !bounds.Overlaps(it.box) || !q.touches(it.box, slack):
			if outside++; outside > most {
				return false
			}
		case !s.lies(it, q):
			held++
		}
	}
	return held > 0 && float64(held) >= holdShare*float64(held+outside)
}

// overhang lists the artwork that sticks out of the frame by more than tol.
func (f *framed) overhang(tol float64) []item {
	var out []item
	for _, it := range f.work.items {
		for _, c := range it.box.Corners() {
			if !f.holds(c, tol) {
				out = append(out, it)
				break
			}
		}
	}
	return out
}

// reaches is how far the artwork reaches along the frame's own axes.
func (f *framed) reaches() [2]float64 {
	m := f.own()
	b := geometry.EmptyBox()
	for _, it := range f.work.items {
		for _, c := range it.box.Corners() {
			b = b.Include(m.Apply(c))
		}
	}
	return [2]float64{b.Width(), b.Height()}
}

// maxCandidates bounds the rectangles that are weighed as frames.
const maxCandidates = 8

// candidates returns the rectangles that may be the frame, the likeliest
// first: those on a frame layer, then those that hold nearly all of the rest,
// from the outside in, then those with a side missing.
func (s *survey) candidates() []*framed {
	var layer, whole []*framed
	for i := range s.quads {
		q := &s.quads[i]
		switch {
		case len(layer)+len(whole) == maxCandidates:
		case s.onFrameLayer(q):
			layer = append(layer, s.surround(*q))
		case s.holdsMost(q):
			whole = append(whole, s.surround(*q))
		}
	}
	for i := range s.missing {
		q := &s.missing[i]
		if len(layer)+len(whole) < maxCandidates && (s.onFrameLayer(q) || s.holdsMost(q)) {
			whole = append(whole, s.surround(*q))
		}
	}
	return append(layer, whole...)
}

func (s *survey) onFrameLayer(q *quad) bool {
	return slices.ContainsFunc(q.parts, func(p Part) bool { return s.frameLayer[s.drawing.Shapes[p.Shape].Layer] })
}
