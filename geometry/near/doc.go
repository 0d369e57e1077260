// Package near finds what lies near a place in the plane: the boxes that
// overlap a box (Tree), the points round a point (Grid), and whether rings run
// round a point (Winding, Inside).
//
// Searches visit what they find in an order that follows only from what was
// put in and in which order. They change nothing, so several may run at once.
package near
