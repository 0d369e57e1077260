package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// proposal is a line that may become a tie.
type proposal struct {
	Tie
	length float64
	steps  int64 // length in units of alike
	ok     bool
}

// limit returns the length beyond which no line can replace p: a little more
// than its own, because lines of equal length compete by their slant.
func (p *proposal) limit(reach float64) float64 {
	if !p.ok {
		return reach
	}
	return min(reach, p.length+alike)
}

func (p *proposal) improve(q proposal) {
	if !p.ok || q.before(*p) {
		*p = q
	}
}

// alike is the difference in mm below which two lengths count as equal.
const alike = 1e-7

// before orders proposals: the shorter, then the straighter, then the more
// level, then by place, then by edges: where corners meet, several have the same.
func (p proposal) before(q proposal) bool {
	if p.steps != q.steps {
		return p.steps < q.steps
	}
	if c := cmp.Or(cmp.Compare(p.slant(), q.slant()), cmp.Compare(p.rise(), q.rise())); c != 0 {
		return c < 0
	}
	a, b := p.ends(), q.ends()
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return slices.Compare(p.edges[:], q.edges[:]) < 0
}

// slant is how far the line strays from the nearer axis, in units of alike.
func (p proposal) slant() int64 {
	d := p.To.Sub(p.From)
	return int64(math.Round(min(math.Abs(d.X), math.Abs(d.Y)) / alike))
}

// rise is how far the line runs along y, in units of alike.
func (p proposal) rise() int64 { return int64(math.Round(math.Abs(p.To.Y-p.From.Y) / alike)) }

// ends returns the coordinates of both ends, the lower left end first.
func (p proposal) ends() [4]float64 {
	a, b := p.From, p.To
	if b.X < a.X || (b.X == a.X && b.Y < a.Y) {
		a, b = b, a
	}
	return [4]float64{a.X, a.Y, b.X, b.Y}
}

// propose returns the shortest line between two edges that do not cross. One
// of its ends is an end of an edge, except between parallel edges, where it
// is put in the middle of where they face each other.
func propose(e, f *edge, i, j int) proposal {
	best := Tie{From: e.a, To: f.closest(e.a), edges: [2]int{i, j}}
	length := best.Length()
	for _, c := range [3][2]geometry.Point{{e.b, f.closest(e.b)}, {e.closest(f.a), f.a}, {e.closest(f.b), f.b}} {
		if d := c[0].Dist(c[1]); d < length {
			best.From, best.To, length = c[0], c[1], d
		}
	}
	if mid, ok := facingMiddle(e, f); ok {
		if d := mid[0].Dist(mid[1]); d <= length {
			best.From, best.To, length = mid[0], mid[1], d
		}
	}
	return proposal{Tie: best, length: length, steps: int64(math.Round(length / alike)), ok: true}
}

// facingMiddle returns the line between the middles of the stretches where
// two edges of opposite direction run along each other, parallel to within
// rounding.
func facingMiddle(e, f *edge) ([2]geometry.Point, bool) {
	u := e.dir
	d := f.b.Sub(f.a)
	if math.Abs(u.Cross(d)) > 1e-12*d.Norm() {
		return [2]geometry.Point{}, false
	}
	s, t := u.Dot(f.a.Sub(e.a)), u.Dot(f.b.Sub(e.a))
	lo, hi := max(0, min(s, t)), min(e.size, max(s, t))
	if lo >= hi {
		return [2]geometry.Point{}, false
	}
	p := e.a.Add(u.Mul((lo + hi) / 2))
	return [2]geometry.Point{p, f.closest(p)}, true
}
