package size

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/workshop"
)

// item is one path of the drawing with its box.
type item struct {
	shape, path int
	box         geometry.Box
	onFrame     bool // on a layer that the convention keeps for the frame
}

// survey is what was measured of the drawing before anything is judged.
type survey struct {
	budget     *budget.Budget
	drawing    *drawing.Drawing
	items      []item
	bounds     geometry.Box
	quads      []quad          // rectangles drawn whole, the largest first
	missing    []quad          // rectangles with a side missing, the largest first
	runs       []run           // room for runsOf
	frameLayer map[string]bool // layers of the drawing, by whether they are kept for frames
}

// leastSide is the least length of a loose line, against the drawing's
// diagonal, that can be a part of a frame's side.
const leastSide = 0.02

// maxQuads bounds the rectangles that are looked at as frames.
const maxQuads = 64

// look surveys the drawing. Paths with coordinates that are no numbers, and
// those on layers that are off or frozen, do not count.
func look(b *budget.Budget, d *drawing.Drawing, frameLayers []string) *survey {
	s := &survey{
		budget: b, drawing: d, bounds: geometry.EmptyBox(), frameLayer: map[string]bool{},
		items: make([]item, 0, len(d.Shapes)), runs: make([]run, 0, maxSideSegments),
	}
	hidden := map[string]bool{}
	for _, l := range d.Layers {
		hidden[l.Name] = l.Off || l.Frozen
	}
	for i := range d.Shapes {
		b.Step()
		layer := d.Shapes[i].Layer
		onFrame, known := s.frameLayer[layer]
		if !known {
			onFrame = slices.ContainsFunc(frameLayers, func(pattern string) bool { return workshop.OnLayer(pattern, layer) })
			s.frameLayer[layer] = onFrame
		}
		if onFrame || !hidden[layer] {
			s.take(i, onFrame)
		}
	}
	s.findQuads()
	return s
}

// take lists the paths of one shape.
func (s *survey) take(shape int, onFrame bool) {
	paths := s.drawing.Shapes[shape].Paths
	for j := range paths {
		s.budget.Step()
		if paths[j].Empty() || !paths[j].Finite() {
			continue
		}
		b := paths[j].BoundsIn(s.budget)
		s.items = append(s.items, item{shape, j, b, onFrame})
		s.bounds = s.bounds.Union(b)
	}
}

func (s *survey) findQuads() {
	var edges []edge
	diagonal := math.Hypot(s.bounds.Width(), s.bounds.Height())
	for _, it := range s.items {
		s.budget.Spend(maxSideSegments / 8)
		runs, ok := runsOf(s.path(it), s.runs)
		if !ok {
			continue
		}
		if s.path(it).Closed {
			if q, ok := closedQuad(runs); ok {
				q.parts = []Part{{Shape: it.shape, Path: it.path}}
				if s.quads = append(s.quads, q); len(s.quads) > 64*maxQuads {
					s.quads = largest(s.budget, s.quads)
				}
			}
			continue
		}
		for _, r := range runs {
			if long := length(r); long >= leastSide*diagonal {
				edges = append(edges, edge{r, long, it.shape, it.path})
			}
		}
	}
	found, missing := looseQuads(s.budget, edges, diagonal)
	s.quads = largest(s.budget, append(s.quads, found...))
	s.missing = largest(s.budget, missing)
}

func (s *survey) path(it item) *geometry.Path { return &s.drawing.Shapes[it.shape].Paths[it.path] }

func closedQuad(runs []run) (quad, bool) {
	if len(runs) != 4 {
		return quad{}, false
	}
	return quadOfSides(runs)
}

// largest sorts rectangles by area, leaves out those that repeat another from
// the same paths, and keeps the first maxQuads.
func largest(b *budget.Budget, qs []quad) []quad {
	slices.SortStableFunc(qs, func(p, q quad) int {
		b.Step()
		return cmp.Compare(q.area(), p.area())
	})
	var out []quad
	for i := range qs {
		if len(out) == maxQuads {
			break
		}
		b.Spend(len(out))
		again := slices.ContainsFunc(out, func(o quad) bool {
			return o.loose && qs[i].loose && o.coincides(&qs[i], 1e-9*(qs[i].u+qs[i].v))
		})
		if !again {
			out = append(out, qs[i])
		}
	}
	return out
}
