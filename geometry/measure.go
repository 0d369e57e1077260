package geometry

import (
	"math"

	"knifedesk/geometry/budget"
)

// Bounds returns the tight box of p: curves count by where they run, not by
// their control points. A path without segments has the box of its start.
func (p Path) Bounds() Box { return p.BoundsIn(nil) }

// BoundsIn is Bounds in steps of b, for paths that may be long.
func (p Path) BoundsIn(b *budget.Budget) Box {
	box := BoxAround(p.Start)
	from := p.Start
	for _, s := range p.Segments {
		b.Step()
		box = box.Include(s.End)
		switch s.Kind {
		case Arc:
			box = box.Union(arcBounds(from, s))
		case Cubic:
			box = box.Union(cubicBounds(from, s))
		}
		from = s.End
	}
	return box
}

func arcBounds(from Point, s Segment) Box {
	b := EmptyBox()
	if s.Straight() {
		return b
	}
	c, r, start, sweep := ArcCircle(from, s)
	lo, hi := start, start+sweep
	if lo > hi {
		lo, hi = hi, lo
	}
	for k := math.Ceil(lo / (math.Pi / 2)); k*math.Pi/2 <= hi; k++ {
		dirs := [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
		b = b.Include(c.Add(dirs[((int(k)%4)+4)%4].Mul(r)))
	}
	return b
}

func cubicBounds(from Point, s Segment) Box {
	b := EmptyBox()
	if BoxAround(from, s.End).Contains(s.C1) && BoxAround(from, s.End).Contains(s.C2) {
		return b // the hull adds nothing to the ends
	}
	for _, t := range cubicExtrema(from.X, s.C1.X, s.C2.X, s.End.X) {
		b = b.Include(CubicAt(from, s, t))
	}
	for _, t := range cubicExtrema(from.Y, s.C1.Y, s.C2.Y, s.End.Y) {
		b = b.Include(CubicAt(from, s, t))
	}
	return b
}

// cubicExtrema returns the parameters in (0,1) where one coordinate of the
// cubic stands still.
func cubicExtrema(p0, p1, p2, p3 float64) []float64 {
	a := p3 - p0 + 3*(p1-p2)
	b := 2 * (p0 - 2*p1 + p2)
	c := p1 - p0
	var roots []float64
	keep := func(t float64) {
		if t > 0 && t < 1 {
			roots = append(roots, t)
		}
	}
	if math.Abs(a) <= 1e-12*(math.Abs(b)+math.Abs(c)) {
		if b != 0 {
			keep(-c / b)
		}
		return roots
	}
	disc := b*b - 4*a*c
	if disc < 0 {
		return roots
	}
	q := -0.5 * (b + math.Copysign(math.Sqrt(disc), b)) // avoids cancellation
	keep(q / a)
	if q != 0 {
		keep(c / q)
	}
	return roots
}

// CubicAt returns the point at parameter t of the Bézier segment s that starts
// at from.
func CubicAt(from Point, s Segment, t float64) Point {
	u := 1 - t
	return from.Mul(u * u * u).Add(s.C1.Mul(3 * u * u * t)).Add(s.C2.Mul(3 * u * t * t)).Add(s.End.Mul(t * t * t))
}

// Length returns the length of p along its curves; Béziers by Gauss–Legendre
// quadrature, refined until two estimates agree within 10⁻⁹ of the length.
func (p Path) Length() float64 { return p.LengthIn(nil) }

// LengthIn is Length in steps of b, for paths that may be long.
func (p Path) LengthIn(b *budget.Budget) float64 {
	sum := 0.0
	from := p.Start
	for _, s := range p.Segments {
		sum += s.LengthIn(b, from)
		from = s.End
	}
	return sum
}

// stepsOfCurve is how many steps the length of a Bézier counts for: where it
// has a cusp, finding it takes half a millisecond.
const stepsOfCurve = 8

// LengthIn is Length in steps of b.
func (s Segment) LengthIn(b *budget.Budget, from Point) float64 {
	if s.Kind == Cubic {
		b.Spend(stepsOfCurve)
	} else {
		b.Step()
	}
	return s.Length(from)
}

// Length returns the length of the segment that starts at from.
func (s Segment) Length(from Point) float64 {
	switch s.Kind {
	case Arc:
		if s.Straight() {
			return from.Dist(s.End)
		}
		b := s.Bulge
		return from.Dist(s.End) * (1 + b*b) / math.Abs(b) * math.Abs(math.Atan(b))
	case Cubic:
		return cubicLength(from, s, 0, 1, gaussSpeed(from, s, 0, 1), 12)
	}
	return from.Dist(s.End)
}

func cubicLength(from Point, s Segment, a, b, whole float64, depth int) float64 {
	m := (a + b) / 2
	left, right := gaussSpeed(from, s, a, m), gaussSpeed(from, s, m, b)
	if depth == 0 || math.Abs(left+right-whole) <= 1e-9*whole {
		return left + right
	}
	return cubicLength(from, s, a, m, left, depth-1) + cubicLength(from, s, m, b, right, depth-1)
}

// gaussSpeed integrates |B'(t)| over [a,b] with the five-point rule
// (Abramowitz and Stegun, table 25.4).
func gaussSpeed(from Point, s Segment, a, b float64) float64 {
	nodes := [5]float64{0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640}
	weights := [5]float64{0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891}
	sum := 0.0
	for i, x := range nodes {
		sum += weights[i] * CubicTangent(from, s, (a+b)/2+(b-a)/2*x).Norm()
	}
	return sum * (b - a) / 2
}

// CubicTangent returns the derivative at parameter t of the Bézier segment s
// that starts at from.
func CubicTangent(from Point, s Segment, t float64) Point {
	u := 1 - t
	return s.C1.Sub(from).Mul(3 * u * u).Add(s.C2.Sub(s.C1).Mul(6 * u * t)).Add(s.End.Sub(s.C2).Mul(3 * t * t))
}

// Area returns the signed area that p encloses, positive when it runs
// anticlockwise. An open path counts as closed by a straight line.
func (p Path) Area() float64 {
	sum := 0.0
	o := p.Start // a local origin keeps far-away drawings precise
	from := Point{}
	for _, s := range p.Segments {
		end := s.End.Sub(o)
		switch s.Kind {
		case Cubic:
			c1, c2 := s.C1.Sub(o), s.C2.Sub(o)
			// ∮ x dy − y dx over a cubic, in Bernstein form.
			sum += 0.15 * (2*from.Cross(c1) + from.Cross(c2) + c1.Cross(c2) + c1.Cross(end) + 2*c2.Cross(end) + from.Cross(end)/3)
		case Arc:
			sum += from.Cross(end) / 2
			if !s.Straight() {
				_, r, _, sweep := ArcCircle(from, Segment{Kind: Arc, Bulge: s.Bulge, End: end})
				sum += r * r / 2 * (sweep - math.Sin(sweep))
			}
		default:
			sum += from.Cross(end) / 2
		}
		from = end
	}
	return sum
}
