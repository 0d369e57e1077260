package drawing

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// ClipSet collects the clips of a file while it is read and keeps those that
// cut something. The zero value is empty.
type ClipSet struct {
	all  []*knownClip
	used []Clip
	last []int
}

// knownClip is a clip as it is tested against shapes.
type knownClip struct {
	clip   Clip
	number int     // in used; -1 until a shape is cut by it
	window *window // nil for what is none
}

// Add takes up a clip and returns the number by which Cutting knows it.
func (s *ClipSet) Add(c Clip) int {
	s.all = append(s.all, &knownClip{c, -1, windowOf(c.Regions)})
	return len(s.all) - 1
}

// Clips returns the clips that cut some shape, in the order in which they
// first did.
func (s *ClipSet) Clips() []Clip { return s.used }

// Cutting returns the numbers, in Clips, of those of the given clips that may
// take something from a shape of those paths and with that box. Shapes that are
// cut alike share the list.
func (s *ClipSet) Cutting(b *budget.Budget, clips []int, paths []geometry.Path, box geometry.Box) []int {
	var cut []int
	for _, i := range clips {
		c := s.all[i]
		if c.window != nil && c.window.holds(b, paths, box) {
			continue // such as the frame of the page, which cuts nothing
		}
		if c.number < 0 {
			c.number = len(s.used)
			s.used = append(s.used, c.clip)
		}
		cut = append(cut, c.number)
	}
	if slices.Equal(cut, s.last) {
		return s.last
	}
	s.last = cut
	return cut
}

// window is a clip that is one parallelogram, as most are: a page, a viewport, a
// cropped picture.
type window struct {
	square geometry.Affine // takes it to the unit square
	size   float64         // its diagonal
	slack  geometry.Point  // what a unit of slack is in the unit square
}

// clipSlack is how far a shape may stand out of a clip that cuts nothing of it, by the
// size of the clip: programs that print pages write clips with five or six digits,
// and the clip of a page then hides a hair of what lies on its edge. On an A4 page
// it is 7 µm, less than a knife can show (common practice, no source). Of a clip that is
// far larger than a page and than where the shape lies the digits say no less of
// its near sides, so that the slack goes by these.
const (
	clipSlack = 2e-5
	pageSize  = 1000 // drawing units
)

// windowOf returns a clip as a window, nil where it is none.
func windowOf(regions []Region) *window {
	if len(regions) != 1 || len(regions[0].Paths) != 1 {
		return nil
	}
	p := regions[0].Paths[0]
	if len(p.Segments) != 4 || !p.Closed || !p.Finite() {
		return nil
	}
	var c [4]geometry.Point
	for i, s := range p.Segments {
		if s.Kind != geometry.Line {
			return nil
		}
		c[i] = s.End
	}
	size := c[0].Dist(c[2])
	if c[0].Add(c[2]).Dist(c[1].Add(c[3])) > 1e-9*size {
		return nil
	}
	u, v := c[1].Sub(c[0]), c[3].Sub(c[0])
	square, ok := geometry.Affine{A: u.X, B: u.Y, C: v.X, D: v.Y, E: c[0].X, F: c[0].Y}.Inverse()
	area := math.Abs(u.Cross(v))
	if !ok || area <= 1e-9*size*size {
		return nil // as good as flat: it hides all
	}
	return &window{square, size, geometry.Pt(v.Norm(), u.Norm()).Mul(1 / area)}
}

// holds reports whether a shape with the given box lies in the window, to within
// clipSlack. In a window that is turned the box alone does not tell.
func (w *window) holds(b *budget.Budget, paths []geometry.Path, box geometry.Box) bool {
	around, reach := geometry.EmptyBox(), float64(pageSize)
	for _, q := range box.Corners() {
		around, reach = around.Include(w.square.Apply(q)), math.Max(reach, q.Norm())
	}
	slack := w.slack.Mul(clipSlack * math.Min(w.size, reach))
	inside := geometry.Box{Min: slack.Mul(-1), Max: geometry.Pt(1, 1).Add(slack)}
	if inside.ContainsBox(around) {
		return true
	}
	for _, p := range paths {
		b.Spend(len(p.Segments))
		if !inside.ContainsBox(p.Transform(w.square).BoundsIn(b)) {
			return false
		}
	}
	return len(paths) > 0
}
