package drawing

import (
	"math"
	"slices"

	"knifedesk/geometry"
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
	clip    Clip
	number  int // in used; -1 until a shape is cut by it
	corners []geometry.Point
}

// Add takes up a clip and returns the number by which Cutting knows it.
func (s *ClipSet) Add(c Clip) int {
	s.all = append(s.all, &knownClip{clip: c, number: -1, corners: quad(c.Regions)})
	return len(s.all) - 1
}

// Clips returns the clips that cut some shape, in the order in which they
// first did.
func (s *ClipSet) Clips() []Clip { return s.used }

// quad returns the corners of a clip that is one parallelogram, nil for any
// other.
func quad(regions []Region) []geometry.Point {
	if len(regions) != 1 || len(regions[0].Paths) != 1 {
		return nil
	}
	p := regions[0].Paths[0]
	if len(p.Segments) != 4 || !p.Closed {
		return nil
	}
	var c []geometry.Point
	for _, s := range p.Segments {
		if s.Kind != geometry.Line {
			return nil
		}
		c = append(c, s.End)
	}
	size := c[0].Dist(c[2])
	if !p.Finite() || c[0].Add(c[2]).Dist(c[1].Add(c[3])) > 1e-9*size {
		return nil
	}
	if math.Abs(c[2].Sub(c[0]).Cross(c[3].Sub(c[1]))) <= 1e-9*size*size {
		return nil // as good as flat: it hides all
	}
	return c
}

// Cutting returns the numbers, in Clips, of those of the given clips that may
// take something from a shape with the given box. Shapes that are cut alike
// share the list.
func (s *ClipSet) Cutting(clips []int, box geometry.Box) []int {
	var cut []int
	for _, i := range clips {
		c := s.all[i]
		if c.corners != nil && holds(c.corners, box) {
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

// clipSlack is how far a box may stand out of a clip that cuts nothing of it, by the
// size of the clip: programs that print pages write clips with five or six digits,
// and the clip of a page then hides a hair of what lies on its edge. On an A4 page
// it is 7 µm, less than a knife can show (common practice, no source).
const clipSlack = 2e-5

// holds reports whether the convex quadrilateral holds box, to within clipSlack of
// its size.
func holds(corners []geometry.Point, box geometry.Box) bool {
	size := corners[0].Dist(corners[2])
	for _, q := range box.Corners() {
		var left, right bool
		for i, a := range corners {
			edge := corners[(i+1)%4].Sub(a)
			side := edge.Cross(q.Sub(a))
			slack := clipSlack * size * edge.Norm()
			left = left || side > slack
			right = right || side < -slack
		}
		if left && right {
			return false
		}
	}
	return true
}
