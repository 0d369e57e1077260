// Package outline keeps polygons with holes in one turn, in the forms that
// nesting asks for: edges that are found by where they lie, circles inside that
// stand for how deep two overlap, and convex parts for exact answers.
//
// Coordinates are steps of the planar kernel's grid, 0.1 µm, from the lower
// left corner of the polygon's own box. Products are rounded by conversions
// before they are added, so that no machine fuses the two and all of them
// compute the same.
package outline

import "math"

// Point is a corner on the grid.
type Point struct{ X, Y int64 }

// Span is a box.
type Span struct{ Low, High Point }

// Edge is a side of an outline for the search, without a direction.
type Edge struct{ X0, Y0, X1, Y1 float64 }

// Outline is a polygon, in one turn. It does not change once made.
type Outline struct {
	// At is the lower left corner of the box, from the origin of the piece as
	// turned; rings and parts are given from it.
	At Point
	// Rings are the outer rings, anticlockwise, and the holes, clockwise.
	Rings [][]Point
	// Parts are convex polygons, anticlockwise, that make up the outline.
	Parts [][]Point
	// Spans are the boxes of the parts.
	Spans []Span
	// W and H are the width and the height of the box.
	W, H float64
	// Top is how high the upper corner that was given lies in the box, and Tall how
	// far above the lower one: cut corners of a grown piece may reach further.
	Top, Tall float64
	// Hull is the area of the convex hull, in steps squared.
	Hull float64

	edges   []Edge
	poles   []Pole
	anchors []anchor
	corners []anchor
	masks   masks
	scale   float64 // fourth root of the hull's area
	far     float64 // gap at which the poles' overlap ends
}

// anchor is a point just inside an outer ring.
type anchor struct{ x, y float64 }

// New makes the outline of rings: outer ones anticlockwise, holes clockwise. The
// poles are those of the same rings. The box is that from low to high, or
// larger where the rings are. The search sees the outline smaller by give steps
// all round, so that what touches does not count as overlapping.
func New(rings [][]Point, poles []Pole, low, high Point, give float64) *Outline {
	o := &Outline{}
	at, end := Box(rings)
	at = Point{min(at.X, low.X), min(at.Y, low.Y)}
	end = Point{max(end.X, high.X), max(end.Y, high.Y)}
	o.At = at
	o.W, o.H = float64(end.X-at.X), float64(end.Y-at.Y)
	o.Top, o.Tall = float64(high.Y-at.Y), float64(high.Y-low.Y)
	for _, ring := range rings {
		moved := make([]Point, len(ring))
		for i, p := range ring {
			moved[i] = Point{p.X - at.X, p.Y - at.Y}
		}
		o.Rings = append(o.Rings, moved)
	}
	o.Parts = convexParts(o.Rings)
	for _, part := range o.Parts {
		low, high := Box([][]Point{part})
		o.Spans = append(o.Spans, Span{low, high})
	}
	o.Hull = doubleArea(hull(o.Rings)) / 2
	o.poles = make([]Pole, len(poles))
	for i, p := range poles {
		o.poles[i] = Pole{p.X - float64(at.X), p.Y - float64(at.Y), p.R}
	}
	for _, ring := range o.Rings {
		o.addRing(ring, give)
	}
	o.masks = newMasks(o.edges, o.W, o.H)
	o.scale = math.Sqrt(math.Sqrt(o.Hull))
	o.far = reach * math.Sqrt(float64(o.W*o.W)+float64(o.H*o.H))
	return o
}

// addRing adds the sides of a ring, drawn in by give.
func (o *Outline) addRing(ring []Point, give float64) {
	in := drawnIn(ring, give)
	for i, p := range in {
		o.corners = append(o.corners, anchor{float64(ring[i].X), float64(ring[i].Y)})
		q := in[(i+1)%len(in)]
		o.edges = append(o.edges, Edge{p.x, p.y, q.x, q.y})
	}
	if ringArea(ring) > 0 {
		o.anchors = append(o.anchors, in[0])
	}
}

// drawnIn moves the sides of a ring to their left by give: into the area.
func drawnIn(ring []Point, give float64) []anchor {
	n := len(ring)
	out := make([]anchor, n)
	for i, p := range ring {
		ax, ay := normal(ring[(i+n-1)%n], p)
		bx, by := normal(p, ring[(i+1)%n])
		k := 1 + float64(ax*bx) + float64(ay*by)
		k = give / max(k, 0.25)
		out[i] = anchor{float64(p.X) + float64(k*(ax+bx)), float64(p.Y) + float64(k*(ay+by))}
	}
	return out
}

// normal returns the unit vector to the left of the way from p to q.
func normal(p, q Point) (x, y float64) {
	dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
	d := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if d == 0 {
		return 0, 0
	}
	return -dy / d, dx / d
}

// Box returns the lower left and the upper right corner of the box of rings.
func Box(rings [][]Point) (low, high Point) {
	low, high = rings[0][0], rings[0][0]
	for _, ring := range rings {
		for _, p := range ring {
			low = Point{min(low.X, p.X), min(low.Y, p.Y)}
			high = Point{max(high.X, p.X), max(high.Y, p.Y)}
		}
	}
	return low, high
}

// Corners is the number of corners of all rings.
func (o *Outline) Corners() int { return len(o.corners) }

// Corner returns one of the corners.
func (o *Outline) Corner(i int) (x, y float64) {
	return o.corners[i].x, o.corners[i].y
}

// Poles is how many circles stand for the outline.
func (o *Outline) Poles() int { return len(o.poles) }
