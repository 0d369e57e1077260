package mend

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
)

// Straight pieces are kept by their bearing, so that a search along one does
// not come by those that stand across it.
const (
	bearings = 4        // equal shares of a half turn
	curved   = bearings // what has no bearing
	classes  = bearings + 1
	widest   = 0.2528 // radians, a little over the angle whose sine is skew
)

// lying is which pieces a search finds: those that were looked at and of which
// something is left. Make it with newLying.
type lying struct {
	class []int8  // of each piece
	place []int32 // of each piece in its class
	items [classes][]int32
	parts [classes]*near.Part
}

// newLying returns none of the pieces with these boxes; along is the way that
// each straight one goes, 0 of curves.
func newLying(b *budget.Budget, boxes []geometry.Box, along []geometry.Point) *lying {
	l := &lying{class: make([]int8, len(boxes)), place: make([]int32, len(boxes))}
	var of [classes][]geometry.Box
	for i, box := range boxes {
		c := curved
		if along[i] != (geometry.Point{}) {
			c = bearing(math.Atan2(along[i].Y, along[i].X))
		}
		l.class[i], l.place[i] = int8(c), int32(len(of[c]))
		l.items[c] = append(l.items[c], int32(i))
		of[c] = append(of[c], box)
	}
	for c := range l.parts {
		l.parts[c] = near.NewPart(b, near.NewTree(b, of[c]))
	}
	return l
}

// bearing returns the class of a direction in radians.
func bearing(angle float64) int {
	turns := angle/math.Pi + 2 // of a half turn, above 0
	return int(bearings*(turns-math.Floor(turns))) % bearings
}

func (l *lying) set(piece int, in bool) {
	l.parts[l.class[piece]].Set(int(l.place[piece]), in)
}

// beside returns the pieces that do not stand across one that goes that way.
func (l *lying) beside(along geometry.Point) boxed {
	s := some{l: l, in: [classes]bool{curved: true}}
	angle := math.Atan2(along.Y, along.X)
	for c := range bearings {
		s.in[c] = along == (geometry.Point{}) || c == bearing(angle-widest) || c == bearing(angle) || c == bearing(angle+widest)
	}
	return s
}

// some is the pieces of some classes.
type some struct {
	l  *lying
	in [classes]bool
}

// Each visits them as near.Part does, class by class.
func (s some) Each(b *budget.Budget, box geometry.Box, visit func(piece int) bool) {
	more := true
	for c := 0; c < classes && more; c++ {
		if s.in[c] {
			s.l.parts[c].Each(b, box, func(item int) bool {
				more = visit(int(s.l.items[c][item]))
				return more
			})
		}
	}
}
