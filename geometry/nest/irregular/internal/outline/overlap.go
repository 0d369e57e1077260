package outline

import "math"

// reach is the gap at which the overlap of two poles ends, as a share of the
// larger diagonal, so that outlines that overlap without their poles touching
// are still drawn apart.
const reach = 0.02

// quick is how many of the largest poles are looked at before the edges.
const quick = 3

// Near reports whether large poles of o and p overlap, p lying (dx, dy) from o.
// Then the outlines do.
func (o *Outline) Near(p *Outline, dx, dy float64) bool {
	for i := range min(quick, len(o.poles)) {
		a := &o.poles[i]
		for k := range min(quick, len(p.poles)) {
			b := &p.poles[k]
			x, y, r := b.X+dx-a.X, b.Y+dy-a.Y, a.R+b.R
			if float64(x*x)+float64(y*y) < float64(r*r) {
				return true
			}
		}
	}
	return false
}

// Meets reports whether o and p overlap, p lying (dx, dy) from o: whether their
// edges cross or one of them lies in the other.
func (o *Outline) Meets(p *Outline, dx, dy float64) bool {
	if o.Crosses(p, dx, dy) {
		return true
	}
	for i := range p.anchors {
		if o.holds(p.anchors[i].x+dx, p.anchors[i].y+dy) {
			return true
		}
	}
	for i := range o.anchors {
		if p.holds(o.anchors[i].x-dx, o.anchors[i].y-dy) {
			return true
		}
	}
	return false
}

// Depth tells how much o and p overlap, p lying (dx, dy) from o, given that they
// do: the depths to which their poles overlap, weighted with the smaller
// radius, as an area; its root, times a length that stands for the size of
// both, so that large pieces do not bury small ones (Gardeyn, Vanden Berghe and
// Wauters 2025). The depth s − d of circles of the summed radius s at a distance
// d is put as (s² − d²)/2s, which is close where they overlap little and takes
// no root. The result is more than 0. Where it comes to more than the limit,
// any number that is more will do.
func (o *Outline) Depth(p *Outline, dx, dy, limit float64) float64 {
	far := max(o.far, p.far)
	sum := float64(far*far) / 4
	scale := float64(o.scale * p.scale)
	limit /= scale
	limit = float64(limit * limit)
	for i := range o.poles {
		a := &o.poles[i]
		ax, ay, ar := a.X-dx, a.Y-dy, a.R+far
		if ax+ar < 0 || ay+ar < 0 || ax-ar > p.W || ay-ar > p.H {
			continue
		}
		for k := range p.poles {
			b := &p.poles[k]
			x, y, s := b.X-ax, b.Y-ay, b.R+ar
			if left := float64(s*s) - float64(x*x) - float64(y*y); left > 0 {
				sum += float64(left*lesser(a.R, b.R)) / (s + s)
			}
		}
		if sum > limit {
			break
		}
	}
	return float64(math.Sqrt(sum) * scale)
}
