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
// the named size: opposite sides have it in the mean within what is accepted in
// silence, and they and the diagonals differ by no more than corners are drawn off.
// It measures what was made and looks at no reading. The error is a *FrameError.
func (r *Result) prove(named reading.Named) error {
	var c [4]geometry.Point
	for i, corner := range r.Frame.Corners {
		c[i] = r.Transform.Apply(corner)
	}
	var mean, skew [2]float64
	for i := range 2 {
		one, other := c[i].Dist(c[i+1]), c[i+2].Dist(c[(i+3)%4])
		mean[i], skew[i] = (one+other)/2, math.Abs(one-other)
	}
	off := math.Max(math.Abs(min(mean[0], mean[1])-named.Short), math.Abs(max(mean[0], mean[1])-named.Long))
	apart := max(skew[0], skew[1], math.Abs(c[0].Dist(c[2])-c[1].Dist(c[3])))
	if off > reading.AcceptMM || apart > skewMM {
		return &FrameError{named.Name, math.Max(off, apart)}
	}
	return nil
}
