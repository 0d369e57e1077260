package size

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/size/reading"
)

// FrameError says that a frame on which the size rests has not the named size it
// was taken for: a fault of the program, with which no plan is ready.
type FrameError struct {
	Name  string
	OffMM float64 // by how much its sides and diagonals miss
}

// Error names the size and how far off it the frame is.
func (e *FrameError) Error() string {
	return fmt.Sprintf("size: the frame is taken for %s and misses it by %g mm", e.Name, e.OffMM)
}

// prove holds that the corners of the frame, as the result maps them, are those of
// the named size: both sides and diagonals within what is accepted. It measures
// what was made and looks at no reading. The error is a *FrameError.
func (r *Result) prove(named reading.Named) error {
	var c [4]geometry.Point
	for i, corner := range r.Frame.Corners {
		c[i] = r.Transform.Apply(corner)
	}
	off := 0.0
	for i := range c {
		side, next := c[i].Dist(c[(i+1)%4]), c[(i+1)%4].Dist(c[(i+2)%4])
		off = math.Max(off, math.Max(math.Abs(min(side, next)-named.Short), math.Abs(max(side, next)-named.Long)))
	}
	for i := range 2 {
		off = math.Max(off, math.Abs(c[i].Dist(c[i+2])-math.Hypot(named.Short, named.Long)))
	}
	if off > reading.AcceptMM+skewMM {
		return &FrameError{named.Name, off}
	}
	return nil
}
