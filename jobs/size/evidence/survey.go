// Package evidence measures what a drawing itself says of its size: the lines
// that will be cut, the rectangles that may be frames, how many circles stayed
// round, which parts are placed at another scale. It holds numbers and judges
// nothing; lengths are in drawing units unless a name says mm.
package evidence

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/stray"
	"knifedesk/jobs/workshop"
)

// Part names one path of one shape of the drawing; Segments, where given,
// are the segments of it that are meant and not the whole path.
type Part struct {
	Shape    int   `json:"shape"`
	Path     int   `json:"path"`
	Segments []int `json:"segments,omitempty"`
}

// Layers are the patterns, as workshop.OnLayer reads them, by which a convention
// says what is drawn on a layer.
type Layers struct {
	Frame []string // the frame and nothing else
	Notes []string // what is neither cut nor drawn by the machine
	Work  []string // what the machine runs
}

// Item is one path of the drawing with its box.
type Item struct {
	Shape, Path int
	Box         geometry.Box
	OnFrame     bool // on a layer that the convention keeps for the frame
	idle        bool // not painted, or a note: the machine never runs it
	speck       bool // too small to count when it is asked what a frame holds
}

// is says what a convention keeps a layer for.
type is struct{ frame, notes, work, hidden bool }

// Survey is what was measured of a drawing.
type Survey struct {
	Budget  *budget.Budget
	Drawing *drawing.Drawing
	Items   []Item // that can be cut or be a frame
	Bounds  geometry.Box
	Quads   []Quad // rectangles drawn whole, the largest first

	missing []Quad // rectangles with a side missing, the largest first
	runs    []run  // room for runsOf
	layers  map[string]is
}

// leastSide is the least length of a loose line, against the drawing's
// diagonal, that can be a part of a frame's side.
const leastSide = 0.02

// maxQuads bounds the rectangles that are looked at as frames.
const maxQuads = 64

// Look surveys the drawing. Paths with coordinates that are no numbers, those
// on layers that are off or frozen, and points without an extent do not count.
func Look(b *budget.Budget, d *drawing.Drawing, by Layers) *Survey {
	s := &Survey{
		Budget: b, Drawing: d, Bounds: geometry.EmptyBox(), layers: map[string]is{},
		Items: make([]Item, 0, len(d.Shapes)), runs: make([]run, 0, maxSideSegments),
	}
	for _, l := range d.Layers {
		s.layers[l.Name] = is{hidden: l.Off || l.Frozen}
	}
	for name, l := range s.layers {
		s.layers[name] = by.mark(name, l)
	}
	for i := range d.Shapes {
		b.Step()
		layer := d.Shapes[i].Layer
		l, known := s.layers[layer]
		if !known {
			l = by.mark(layer, l)
			s.layers[layer] = l
		}
		if l.frame || !l.hidden {
			s.take(i, l)
		}
	}
	s.dropIdle()
	s.findQuads()
	return s
}

// mark adds to what is known of a layer what a convention keeps it for.
func (by Layers) mark(name string, l is) is {
	on := func(patterns []string, matches func(pattern, layer string) bool) bool {
		return slices.ContainsFunc(patterns, func(p string) bool { return matches(p, name) })
	}
	l.frame = on(by.Frame, workshop.OnFrameLayer)
	l.notes, l.work = on(by.Notes, workshop.OnLayer), on(by.Work, workshop.OnLayer)
	return l
}

// take lists the paths of one shape.
func (s *Survey) take(shape int, on is) {
	sh := &s.Drawing.Shapes[shape]
	for j := range sh.Paths {
		p := &sh.Paths[j]
		s.Budget.Step()
		if p.Empty() || !p.Finite() {
			continue
		}
		b := p.BoundsIn(s.Budget)
		if b.Min == b.Max {
			continue
		}
		idle := !on.frame && (on.notes || stray.Unpainted(sh, p, 0))
		s.Items = append(s.Items, Item{Shape: shape, Path: j, Box: b, OnFrame: on.frame, idle: idle})
	}
}

// dropIdle leaves out what the machine never runs, unless there is nothing else
// to measure, and marks specks.
func (s *Survey) dropIdle() {
	if slices.ContainsFunc(s.Items, func(it Item) bool { return !it.idle }) {
		s.Items = slices.DeleteFunc(s.Items, func(it Item) bool {
			s.Budget.Step()
			return it.idle
		})
	}
	longest := 0.0
	for _, it := range s.Items {
		s.Budget.Step()
		s.Bounds = s.Bounds.Union(it.Box)
		longest = math.Max(longest, math.Max(it.Box.Width(), it.Box.Height()))
	}
	for i := range s.Items {
		s.Budget.Step()
		b := s.Items[i].Box
		s.Items[i].speck = math.Max(b.Width(), b.Height()) <= speckShare*longest
	}
}

func (s *Survey) findQuads() {
	var edges []edge
	diagonal := s.diagonal()
	for _, it := range s.Items {
		s.Budget.Spend(maxSideSegments / 8)
		if q, ok := s.wholeQuad(it); ok {
			q.Parts = []Part{{Shape: it.Shape, Path: it.Path}}
			if s.Quads = append(s.Quads, q); len(s.Quads) > 64*maxQuads {
				s.Quads = largest(s.Budget, s.Quads)
			}
		}
		if s.Path(it).Closed {
			continue
		}
		runs, _ := runsOf(s.Path(it), s.runs)
		for _, r := range runs {
			if long := length(r); long >= leastSide*diagonal {
				edges = append(edges, edge{run: r, long: long, shape: it.Shape, path: it.Path})
			}
		}
	}
	found, missing := looseQuads(s.Budget, edges, diagonal)
	s.Quads = largest(s.Budget, append(s.Quads, found...))
	if !slices.ContainsFunc(s.Quads, func(q Quad) bool { return s.OnFrameLayer(&q) }) {
		if q, ok := ruledQuad(s); ok {
			s.Quads = largest(s.Budget, append(s.Quads, q))
		}
	}
	s.missing = largest(s.Budget, missing)
}

// diagonal is that of all but specks, which may lie far away.
func (s *Survey) diagonal() float64 {
	b := geometry.EmptyBox()
	for _, it := range s.Items {
		s.Budget.Step()
		if !it.speck {
			b = b.Union(it.Box)
		}
	}
	return math.Hypot(b.Width(), b.Height())
}

// wholeQuad reads a closed path as a rectangle, with round corners or not.
func (s *Survey) wholeQuad(it Item) (Quad, bool) {
	p := s.Path(it)
	if !p.Closed {
		return Quad{}, false
	}
	if runs, ok := runsOf(p, s.runs); ok {
		if sides := sidesOf(runs); len(sides) == 4 {
			return quadOfSides(sides)
		}
		return Quad{}, false
	}
	return roundedQuad(p)
}

// Path returns the path of an item.
func (s *Survey) Path(it Item) *geometry.Path { return &s.Drawing.Shapes[it.Shape].Paths[it.Path] }

// largest sorts rectangles by area, leaves out those that repeat another from
// the same paths, and keeps the first maxQuads.
func largest(b *budget.Budget, qs []Quad) []Quad {
	slices.SortStableFunc(qs, func(p, q Quad) int {
		b.Step()
		return cmp.Compare(q.area(), p.area())
	})
	var out []Quad
	for i := range qs {
		if len(out) == maxQuads {
			break
		}
		b.Spend(len(out))
		again := slices.ContainsFunc(out, func(o Quad) bool {
			return o.Loose && qs[i].Loose && o.coincides(&qs[i], 1e-9*(qs[i].U+qs[i].V))
		})
		if !again {
			out = append(out, qs[i])
		}
	}
	return out
}
