package irregular_test

import (
	"context"
	"testing"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/nest/irregular"
)

func TestStop(t *testing.T) {
	stop.Check(t, func(ctx context.Context) error {
		var err error
		if stopped := budget.Run(ctx, func(b *budget.Budget) {
			_, err = irregular.Nest(b, mixed(), irregular.Options{})
		}); stopped != nil {
			return stopped
		}
		return err
	})
}
