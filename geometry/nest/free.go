package nest

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Outline is the border of what lies on a sheet, or an open line on it.
type Outline struct {
	Points []geometry.Point
	Closed bool // what is within is taken too
}

// Moved returns the outline as m maps it.
func (o Outline) Moved(m geometry.Affine) Outline {
	pts := make([]geometry.Point, len(o.Points))
	for i, p := range o.Points {
		pts[i] = m.Apply(p)
	}
	return Outline{pts, o.Closed}
}

// sides is how many straight edges the outline has, one from each point on.
func (o Outline) sides() int {
	if o.Closed && len(o.Points) > 1 {
		return len(o.Points)
	}
	return max(0, len(o.Points)-1)
}

// edges calls do for each straight edge of the outline.
func (o Outline) edges(do func(p, q geometry.Point)) {
	for i := range o.sides() {
		do(o.Points[i], o.Points[(i+1)%len(o.Points)])
	}
}

// Free returns the rectangle of greatest area on a sheet that stays gap, in mm,
// away from all that is taken, along both axes. It may reach the edges of the sheet.
// It is empty where nothing is free.
//
// The rectangle is found on a raster of a thousand cells along the longer side, in
// which every cell that is touched counts as taken, and then pushed out to what
// stops it: it never reaches over what is taken, and misses the greatest area by no
// more than a cell or two along each side.
func Free(b *budget.Budget, sheet geometry.Box, gapMM float64, taken []Outline) geometry.Box {
	if sheet.Width() <= 0 || sheet.Height() <= 0 {
		return geometry.EmptyBox()
	}
	r := newRaster(sheet, gapMM)
	r.mark(b, taken)
	best := r.largest(b)
	if best.Empty() || best.Width() <= 0 || best.Height() <= 0 {
		return geometry.EmptyBox()
	}
	for _, side := range []side{below, above, left, right} {
		best = pushed(b, side, best, sheet, gapMM, taken)
	}
	return best
}

// FreeAcross returns the longest part of a sheet along y, over its whole width,
// that stays gap away from all that is taken; empty where there is none.
func FreeAcross(b *budget.Budget, sheet geometry.Box, gapMM float64, taken []Outline) geometry.Box {
	type span struct{ from, to float64 }
	spans := make([]span, 0, len(taken)+1)
	for _, o := range taken {
		b.Spend(1 + len(o.Points))
		if box := geometry.BoxAround(o.Points...); !box.Empty() {
			spans = append(spans, span{box.Min.Y - gapMM, box.Max.Y + gapMM})
		}
	}
	slices.SortFunc(spans, func(p, q span) int { b.Step(); return compare(p.from, q.from) })
	best, at := geometry.EmptyBox(), sheet.Min.Y
	for _, s := range append(spans, span{sheet.Max.Y, sheet.Max.Y}) {
		if free := math.Min(s.from, sheet.Max.Y) - at; free > best.Height() {
			best = geometry.Box{Min: geometry.Pt(sheet.Min.X, at), Max: geometry.Pt(sheet.Max.X, at+free)}
		}
		at = math.Max(at, s.to)
	}
	return best
}

func compare(p, q float64) int {
	switch {
	case p < q:
		return -1
	case p > q:
		return 1
	}
	return 0
}

// side is a side of a rectangle.
type side int

const (
	below side = iota
	above
	left
	right
)

// pushed moves one side of a free rectangle out to the sheet's edge, or to what
// stops it.
func pushed(b *budget.Budget, s side, free, sheet geometry.Box, gap float64, taken []Outline) geometry.Box {
	// With the axes turned so that the side is the lower one.
	turn := func(p geometry.Point) geometry.Point {
		switch s {
		case above:
			return geometry.Pt(p.X, -p.Y)
		case left:
			return geometry.Pt(p.Y, p.X)
		case right:
			return geometry.Pt(p.Y, -p.X)
		}
		return p
	}
	at, edge := geometry.BoxAround(turn(free.Min), turn(free.Max)), geometry.BoxAround(turn(sheet.Min), turn(sheet.Max))
	from, to := at.Min.X-gap, at.Max.X+gap
	stop := edge.Min.Y
	for _, o := range taken {
		b.Spend(1 + len(o.Points))
		o.edges(func(p, q geometry.Point) {
			p, q = turn(p), turn(q)
			if p.X > q.X {
				p, q = q, p
			}
			if q.X <= from || p.X >= to {
				return
			}
			for _, y := range [2]float64{heightAt(p, q, math.Max(from, p.X)), heightAt(p, q, math.Min(to, q.X))} {
				if y < at.Centre().Y {
					stop = math.Max(stop, math.Min(y+gap, at.Min.Y))
				}
			}
		})
	}
	switch s {
	case above:
		free.Max.Y = -stop
	case left:
		free.Min.X = stop
	case right:
		free.Max.X = -stop
	default:
		free.Min.Y = stop
	}
	return free
}

// heightAt returns y of the line from p to q at x, of an upright one that of its
// higher end.
func heightAt(p, q geometry.Point, x float64) float64 {
	if q.X == p.X {
		return math.Max(p.Y, q.Y)
	}
	return p.Y + (q.Y-p.Y)*(x-p.X)/(q.X-p.X)
}
