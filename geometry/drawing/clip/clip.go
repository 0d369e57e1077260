// Package clip cuts shapes off at the clips that a drawing hides parts of them
// with, so that what shows is what is cut.
package clip

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/planar"
)

// maxPairs bounds the pairs of chords that one shape is compared in.
const maxPairs = 20_000_000

// Visible replaces every shape that a clip cuts by what shows of it and
// returns how many were cut and how many had to stay whole, because they or
// their clips are too intricate. Paths that lie wholly inside keep their
// curves; the others become chords that stray by at most chord drawing units.
// It does not change the shapes that d held before.
func Visible(d *drawing.Drawing, chord float64) (cut, whole int) {
	shapes := make([]drawing.Shape, 0, len(d.Shapes))
	for _, s := range d.Shapes {
		if len(s.Clips) > 0 {
			paths, ok := visible(&s, d.Clips, chord)
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
func visible(s *drawing.Shape, clips []drawing.Clip, chord float64) ([]geometry.Path, bool) {
	paths := s.Paths
	for _, number := range s.Clips {
		w := windowOf(clips[number], chord)
		if sidesOf(paths)*w.sides() > maxPairs {
			return nil, false
		}
		var err error
		if s.Stroke == nil && s.Fill != nil {
			paths, err = w.area(paths, s.FillRule, chord)
		} else {
			paths = w.lines(paths, chord)
		}
		if err != nil {
			return nil, false
		}
	}
	return paths, true
}

func sidesOf(paths []geometry.Path) int {
	n := 0
	for _, p := range paths {
		n += 16 * len(p.Segments) // curves become several chords
	}
	return n
}

// window is a clip as rings: inside it something shows.
type window struct {
	regions []planar.Region
}

func windowOf(c drawing.Clip, chord float64) window {
	var w window
	for _, r := range c.Regions {
		w.regions = append(w.regions, regionOf(r.Paths, r.FillRule, chord))
	}
	return w
}

func regionOf(paths []geometry.Path, rule drawing.FillRule, chord float64) planar.Region {
	region := planar.Region{Rule: planar.NonZero}
	if rule == drawing.EvenOdd {
		region.Rule = planar.EvenOdd
	}
	for _, p := range paths {
		if ring := p.Flatten(chord); len(ring) > 2 {
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
func (w window) area(paths []geometry.Path, rule drawing.FillRule, chord float64) ([]geometry.Path, error) {
	shown, err := planar.Union(nil, w.regions...)
	if err != nil {
		return nil, err
	}
	left, err := planar.Intersection(nil, regionOf(paths, rule, chord), shown.Region())
	if err != nil {
		return nil, err
	}
	var out []geometry.Path
	for _, ring := range left.Region().Rings {
		out = append(out, geometry.Polygon(ring...))
	}
	return out, nil
}

// lines cuts stroked paths as lines: each into the runs that show.
func (w window) lines(paths []geometry.Path, chord float64) []geometry.Path {
	var out []geometry.Path
	for _, p := range paths {
		pts := p.Flatten(chord)
		runs, touched := w.runs(pts)
		switch {
		case !touched && len(runs) > 0:
			out = append(out, p) // wholly inside: its curves stay
		case touched:
			out = append(out, joined(runs, p.Closed)...)
		}
	}
	return out
}

// runs returns the stretches of the polyline inside the window, and whether
// the window's edge takes anything off it.
func (w window) runs(pts []geometry.Point) (runs [][]geometry.Point, touched bool) {
	var run []geometry.Point
	flush := func() {
		if len(run) > 1 {
			runs = append(runs, run)
		}
		run = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		from := a
		for _, t := range append(w.crossings(a, b), 1) {
			to := a.Lerp(b, t)
			if !w.shows(from.Lerp(to, 0.5)) {
				touched = true
				flush()
			} else {
				if run == nil {
					run = []geometry.Point{from}
				}
				run = append(run, to)
			}
			from = to
		}
	}
	flush()
	return runs, touched
}

// joined turns runs into paths. The last run of a closed path goes on in the
// first where it starts and ends inside.
func joined(runs [][]geometry.Point, closed bool) []geometry.Path {
	if n := len(runs); closed && n > 1 && runs[n-1][len(runs[n-1])-1] == runs[0][0] {
		runs[0] = append(runs[n-1], runs[0][1:]...)
		runs = runs[:n-1]
	}
	out := make([]geometry.Path, len(runs))
	for i, r := range runs {
		out[i] = geometry.Polyline(r...)
	}
	return out
}

// crossings returns where, from 0 to 1 along a to b, the window's edges cross,
// in order.
func (w window) crossings(a, b geometry.Point) []float64 {
	box := geometry.BoxAround(a, b)
	d := b.Sub(a)
	var at []float64
	w.eachSide(func(p, q geometry.Point) {
		if !box.Overlaps(geometry.BoxAround(p, q)) {
			return
		}
		e := q.Sub(p)
		det := d.Cross(e)
		if det == 0 {
			return // parallel: the neighbours' ends tell
		}
		t, u := p.Sub(a).Cross(e)/det, p.Sub(a).Cross(d)/det
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			at = append(at, t)
		}
	})
	slices.Sort(at)
	return at
}

func (w window) eachSide(do func(p, q geometry.Point)) {
	for _, r := range w.regions {
		for _, ring := range r.Rings {
			for i, p := range ring {
				do(p, ring[(i+1)%len(ring)])
			}
		}
	}
}

// shows reports whether p lies in one of the window's regions.
func (w window) shows(p geometry.Point) bool {
	for _, r := range w.regions {
		n := winding(p, r.Rings)
		if r.Rule == planar.EvenOdd && n%2 != 0 || r.Rule == planar.NonZero && n != 0 {
			return true
		}
	}
	return false
}

// winding counts how often the rings run round p: crossings of a ray to the
// right, signed.
func winding(p geometry.Point, rings [][]geometry.Point) int {
	n := 0
	for _, ring := range rings {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			if (a.Y > p.Y) == (b.Y > p.Y) {
				continue
			}
			x := a.X + (b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y)
			if x > p.X {
				n += int(math.Copysign(1, b.Y-a.Y))
			}
		}
	}
	return n
}
