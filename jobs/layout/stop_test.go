package layout_test

import (
	"context"
	"testing"

	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/layout"
)

// Large layouts and those that are hard to fill end soon once nobody waits for
// them.
func TestPlaceStops(t *testing.T) {
	for _, c := range []struct {
		name   string
		w, h   float64
		gap    float64
		stock  string
		copies int
	}{
		{"10,000 copies on a roll", 48, 31, 4, "film-removable-610", 10_000},
		{"as many as may be, on a roll", 23.7, 31.3, 2, "film-removable-610", 100_000},
		{"many sheets", 90, 55, 4, "card-160-a4", 10_000},
		{"small ones with many cuts", 5.3, 3.1, 0, "card-220-a3", 100_000},
		{"slivers", 0.5, 29, 0, "card-160-a4", 100_000},
	} {
		t.Run(c.name, func(t *testing.T) {
			req := on(t, c.stock, "wide-610", c.copies)
			req.Stock.GapMM = c.gap
			if req.Stock.LengthMM > 2000 {
				req.Stock.LengthMM = 0 // a roll of any length
			}
			stop.Check(t, func(ctx context.Context) error {
				_, err := layout.Place(ctx, piece(c.w, c.h), req)
				return err
			})
		})
	}
}
