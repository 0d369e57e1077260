package planar

import "math"

// shear gives every node of a strip a key that rises along a line which
// crosses the lines of the strip: y, less what a line of the given slope has
// risen since the strip's left side. In a slanted hatch, all the lines of a
// strip overlap in y, but have keys of their own.
type shear struct {
	x0    int32
	slope float64
	scale float64 // brings keys into 32 bits
}

// level returns the shear of slope 0, whose keys are the y of the nodes.
func level() shear { return shear{scale: 1} }

// shearFor returns the shear that suits the listed segments between x0 and
// x1: the mean slope where that shortens them to less than half, else none.
func shearFor(segs []segment, ids []int32, x0, x1 int32) shear {
	var run, rise, tall float64
	for _, id := range ids {
		dx, dy := segs[id].within(x0, x1)
		run, rise, tall = run+dx, rise+dy, tall+math.Abs(dy)
	}
	h := shear{x0: x0, scale: 1}
	if run == 0 || math.Abs(rise) < tall/2 {
		return h
	}
	h.slope = rise / run
	rest := 0.0
	for _, id := range ids {
		dx, dy := segs[id].within(x0, x1)
		rest += math.Abs(dy - h.slope*dx)
	}
	if rest > tall/2 {
		h.slope = 0
		return h
	}
	most := 2*reach + math.Abs(h.slope)*float64(x1-x0+1)
	h.scale = math.Min(1, math.MaxInt32/2/most)
	return h
}

// within returns the sides of the box of the part of s between x0 and x1,
// the height negative where s falls.
func (s segment) within(x0, x1 int32) (dx, dy float64) {
	width, height := float64(s.b.x-s.a.x), float64(s.b.y)-float64(s.a.y)
	part := float64(min(s.b.x, x1) - max(s.a.x, x0))
	if part >= width {
		return width, height
	}
	part = math.Max(part, 0)
	return part, height * part / width
}

// value returns the key before scaling.
func (h shear) value(x int32, y float64) float64 {
	return y - h.slope*float64(x-h.x0)
}

// key returns the key of p.
func (h shear) key(p node) int32 {
	return int32(math.Floor(h.value(p.x, float64(p.y)) * h.scale))
}

// span returns bounds on the keys of the nodes in x0 ≤ x < x1 whose pixels s
// can meet. Such a node lies at most half a step beside s in x and y, which
// is (1+|slope|)/2 in the key. As much again is left for rounding: the
// relative error of a few units in 10¹⁶ comes to less than 10⁻⁶ of it.
func (h shear) span(s segment, x0, x1 int32) (lo, hi int32) {
	from, to := h.value(s.a.x, float64(s.a.y)), h.value(s.b.x, float64(s.b.y))
	if s.a.x < x0 || s.b.x >= x1 {
		rise := (float64(s.b.y) - float64(s.a.y)) / float64(s.b.x-s.a.x)
		left, right := max(s.a.x, x0-1), min(s.b.x, x1)
		from = h.value(left, float64(s.a.y)+rise*float64(left-s.a.x))
		to = h.value(right, float64(s.a.y)+rise*float64(right-s.a.x))
	}
	margin := 1 + math.Abs(h.slope)
	return int32(math.Floor((math.Min(from, to) - margin) * h.scale)), int32(math.Floor((math.Max(from, to) + margin) * h.scale))
}
