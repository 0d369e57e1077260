package motion_test

import (
	"context"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/motion"
)

func TestPathTimeStops(t *testing.T) {
	long := geometry.Path{}
	for i := range 10_000 {
		long.Segments = append(long.Segments, geometry.ArcTo(1-2*float64(i%2), geometry.Pt(float64(i+1)*900, 0)))
	}
	m := motion.Axes{SpeedMMS: 400, AccelMMS2: 1000}
	stop.Check(t, func(ctx context.Context) error {
		return budget.Run(ctx, func(b *budget.Budget) { m.PathTime(b, long, 300) })
	})
}
