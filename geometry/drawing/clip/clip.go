// Package clip cuts shapes off at the clips that a drawing hides parts of them
// with, so that what shows is what is cut.
package clip

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/planar"
)

// maxPairs bounds the pairs of a chord of a shape and a side of a clip; what
// makes more is too intricate.
const maxPairs = 20_000_000

// Visible replaces every shape that a clip cuts by what shows of it and
// returns how many were cut and how many had to stay whole, because they or
// their clips are too intricate. Paths that lie wholly inside keep their
// curves; the others become chords that stray by at most chord drawing units.
// It does not change the shapes that d held before.
func Visible(b *budget.Budget, d *drawing.Drawing, chord float64) (cut, whole int) {
	shapes := make([]drawing.Shape, 0, len(d.Shapes))
	for _, s := range d.Shapes {
		b.Step()
		if len(s.Clips) > 0 {
			paths, ok := visible(b, &s, d.Clips, chord)
			if !ok {
				whole++
			} else {
				cut++
				s.Paths, s.Clips = paths, nil
			}
		}
		if len(s.Paths) > 0 {
			shapes = append(shapes, s)
		}
	}
	d.Shapes = shapes
	return cut, whole
}

// visible returns the parts of the shape that lie inside all of its clips.
func visible(b *budget.Budget, s *drawing.Shape, clips []drawing.Clip, chord float64) ([]geometry.Path, bool) {
	paths := s.Paths
	for _, number := range s.Clips {
		w := windowOf(b, clips[number], chord)
		if sidesOf(paths)*w.sides() > maxPairs {
			return nil, false
		}
		var err error
		if s.Stroke == nil && s.Fill != nil {
			paths, err = w.area(b, paths, s.FillRule, chord)
		} else {
			paths = w.lines(b, paths, chord)
		}
		if err != nil {
			return nil, false
		}
	}
	return paths, true
}

// chordsOfCurve is how many chords a segment counts for: curves become several.
const chordsOfCurve = 16

func sidesOf(paths []geometry.Path) int {
	n := 0
	for _, p := range paths {
		n += chordsOfCurve * len(p.Segments)
	}
	return n
}

// window is a clip as rings: inside it something shows.
type window struct {
	regions []planar.Region
}

func windowOf(b *budget.Budget, c drawing.Clip, chord float64) window {
	var w window
	for _, r := range c.Regions {
		w.regions = append(w.regions, regionOf(b, r.Paths, r.FillRule, chord))
	}
	return w
}

func regionOf(b *budget.Budget, paths []geometry.Path, rule drawing.FillRule, chord float64) planar.Region {
	region := planar.Region{Rule: planar.NonZero}
	if rule == drawing.EvenOdd {
		region.Rule = planar.EvenOdd
	}
	for _, p := range paths {
		if ring := p.FlattenIn(b, chord); len(ring) > 2 {
			region.Rings = append(region.Rings, ring)
		}
	}
	return region
}

func (w window) sides() int {
	n := 0
	for _, r := range w.regions {
		for _, ring := range r.Rings {
			n += len(ring)
		}
	}
	return n
}

// area cuts filled paths as areas.
func (w window) area(b *budget.Budget, paths []geometry.Path, rule drawing.FillRule, chord float64) ([]geometry.Path, error) {
	shown, err := planar.Union(b, w.regions...)
	if err != nil {
		return nil, err
	}
	left, err := planar.Intersection(b, regionOf(b, paths, rule, chord), shown.Region())
	if err != nil {
		return nil, err
	}
	var out []geometry.Path
	for _, ring := range left.Region().Rings {
		out = append(out, geometry.Polygon(ring...))
	}
	return out, nil
}
