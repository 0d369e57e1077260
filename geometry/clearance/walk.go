package clearance

import "knifedesk/geometry"

// Walk is a closed walk along the sides of rings and along lines between them.
type Walk struct {
	Points []geometry.Point // its corners, the first not repeated
	// On says of the side that begins at each corner along which side of the rings it
	// runs, or along a part of which: by the corner at which that begins, counted through
	// all rings. NoSide: along a line between them.
	On []int32
}

// NoSide stands for no side of any ring.
const NoSide = -1

// RoundWalk returns the walk along a ring alone.
func RoundWalk(ring []geometry.Point) Walk {
	w := Walk{ring, make([]int32, len(ring))}
	for i := range w.On {
		w.On[i] = int32(i)
	}
	return w
}

// Put adds a corner and what the side that begins there runs along. One that lies on the
// last takes its place: between them there is no side.
func (w *Walk) Put(p geometry.Point, on int32) {
	if n := len(w.Points); n > 0 && w.Points[n-1] == p {
		w.On[n-1] = on
		return
	}
	w.Points, w.On = append(w.Points, p), append(w.On, on)
}

// PutAll puts in a stretch of another walk.
func (w *Walk) PutAll(of Walk, from, to int) {
	if from < to {
		w.Put(of.Points[from], of.On[from]) // those after it differ
		w.Points, w.On = append(w.Points, of.Points[from+1:to]...), append(w.On, of.On[from+1:to]...)
	}
}

// Close leaves out a last corner that lies on the first.
func (w *Walk) Close() {
	if n := len(w.Points); n > 1 && w.Points[0] == w.Points[n-1] {
		w.Points, w.On = w.Points[:n-1], w.On[:n-1]
	}
}
