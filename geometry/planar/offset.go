package planar

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Join says how the border of an offset area goes round a corner.
type Join uint8

// The joins.
const (
	Round   Join = iota // an arc: the border keeps the distance exactly
	Mitre               // the offset sides are drawn out until they meet, or to the limit
	Painted             // as lines are painted: a mitre, beyond the limit none at all
)

// Offset says how to move the border of an area.
type Offset struct {
	// By is how far the border moves in mm: outward, or inward if negative.
	By   float64
	Join Join
	// MitreLimit is the largest distance of a mitre's tip from the corner in
	// multiples of By, at least 1; 0 stands for 4, the initial value of SVG's
	// stroke-miterlimit. Mitre cuts a longer one off square at that distance, so
	// that the border nowhere comes nearer than By (SVG 2, miter-clip). Painted
	// joins the ends of the offset sides straight instead, which passes the corner
	// nearer than By (SVG 2, miter).
	MitreLimit float64
	// ChordMM is the tolerance within which chords stand for arcs, with their
	// ends on the arc; 0 stands for geometry.DefaultChord.
	ChordMM float64
}

// Of returns the region grown, or shrunk, by the offset: with round joins all
// points within By of the region, or all that keep By from its outside.
//
// To grow, every side of the region throws a rectangle outward and every
// corner that points outward a wedge; the union of all is the answer. To
// shrink, the same is thrown inward and taken away. The pieces share their
// corners on the grid to the last step, so that no slivers arise, and pieces
// that overlap in narrow places need no special care.
//
//	      ·———————·  By
//	wedge | \     |
//	  ·———·   ————·———   the side and its rectangle
//	  |   |
func (o Offset) Of(b *budget.Budget, r Region) (Polygons, error) {
	area, err := Union(b, r)
	if err != nil || o.By == 0 || math.IsNaN(o.By) {
		return area, err
	}
	if o.MitreLimit == 0 {
		o.MitreLimit = 4
	}
	if o.ChordMM == 0 {
		o.ChordMM = geometry.DefaultChord
	}
	border := area.Region()
	var band Region
	for _, ring := range border.Rings {
		for i := range ring {
			before, after := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
			band.Rings = o.throw(b, band.Rings, before, ring[i], after)
		}
	}
	if o.By < 0 {
		return Difference(b, border, band)
	}
	border.Rings = append(border.Rings, band.Rings...)
	return Union(b, border)
}

// throw appends the wedge of the corner and the rectangle of the side that
// leaves it. All run anticlockwise, so that overlaps only add turns.
func (o Offset) throw(b *budget.Budget, rings [][]geometry.Point, before, corner, after geometry.Point) [][]geometry.Point {
	b.Step()
	in, out := corner.Sub(before).Unit(), after.Sub(corner).Unit()
	from, to := corner.Sub(in.Perp().Mul(o.By)), corner.Sub(out.Perp().Mul(o.By))
	end := after.Sub(out.Perp().Mul(o.By))
	if o.By > 0 {
		rings = append(rings, []geometry.Point{corner, to, end, after})
	} else {
		rings = append(rings, []geometry.Point{corner, after, end, to})
	}
	if turn := in.Cross(out); turn*o.By <= 0 && (turn != 0 || in.Dot(out) > 0) {
		return rings // the corner points the other way
	}
	wedge := append([]geometry.Point{corner, from}, o.round(b, corner, in, out)...)
	wedge = append(wedge, to)
	if o.By < 0 {
		for i, j := 0, len(wedge)-1; i < j; i, j = i+1, j-1 {
			wedge[i], wedge[j] = wedge[j], wedge[i]
		}
	}
	return append(rings, wedge)
}

// round returns the points of the join between the offset sides at a corner
// where the direction turns from in to out.
func (o Offset) round(b *budget.Budget, corner, in, out geometry.Point) []geometry.Point {
	turn := math.Atan2(in.Cross(out), in.Dot(out))
	if o.By > 0 {
		turn = math.Abs(turn) // a full half turn has no side of its own
	} else {
		turn = -math.Abs(turn)
	}
	if o.Join != Round {
		return o.mitre(corner, in, turn/2)
	}
	radius := math.Abs(o.By)
	step := 2 * math.Acos(math.Max(0, 1-o.ChordMM/radius))
	n := int(math.Ceil(math.Abs(turn) / step))
	var pts []geometry.Point
	for i := 1; i < n; i++ {
		b.Step()
		pts = append(pts, corner.Sub(rotated(in.Perp(), turn*float64(i)/float64(n)).Mul(o.By)))
	}
	return pts
}

// mitre returns the points of a mitre at a corner where the direction in turns
// by twice the angle half. The tip lies By/cos(half) from the corner, along the
// bisector; where that is beyond the limit, the offset sides go on by s until
// they are as far along the bisector as the limit:
//
//	By·cos(half) + s·sin(|half|) = limit
func (o Offset) mitre(corner, in geometry.Point, half float64) []geometry.Point {
	limit := math.Max(1, o.MitreLimit)
	cos := math.Cos(half)
	if 1 <= limit*cos {
		return []geometry.Point{corner.Sub(rotated(in.Perp(), half).Mul(o.By / cos))}
	}
	if o.Join == Painted {
		return nil
	}
	s := math.Abs(o.By) * (limit - cos) / math.Abs(math.Sin(half))
	out := rotated(in, 2*half)
	return []geometry.Point{
		corner.Sub(in.Perp().Mul(o.By)).Add(in.Mul(s)),
		corner.Sub(out.Perp().Mul(o.By)).Sub(out.Mul(s)),
	}
}

// rotated returns v turned anticlockwise by the angle.
func rotated(v geometry.Point, angle float64) geometry.Point {
	sin, cos := math.Sincos(angle)
	return geometry.Pt(v.X*cos-v.Y*sin, v.X*sin+v.Y*cos)
}
