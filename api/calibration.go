package api

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/weeding"
)

// GetCalibration answers GET /v1/calibration.
func (s storeroom) GetCalibration(c echo.Context) error {
	out, err := calibrationState(c.Request().Context(), s.store.Queries)
	if err != nil {
		return err
	}
	return sendJSON(c, out)
}

// PutCalibration answers PUT /v1/calibration.
func (s storeroom) PutCalibration(c echo.Context, _ PutCalibrationParams) error {
	var body CalibrationChoice
	if err := decode(c, &body); err != nil {
		return err
	}
	change := s.book.Uncalibrate
	if body.Use == CalibrationChoiceUseFitted {
		change = s.book.Calibrate
	}
	ctx := c.Request().Context()
	err := change(ctx, func(q db.Queries) error {
		now, err := calibrationState(ctx, q)
		if err != nil {
			return err
		}
		return matches(c, now)
	})
	if errors.Is(err, ledger.ErrFewJobs) {
		return conflict("too_few_jobs", fmt.Sprintf("A fit needs %d jobs of which somebody said how long they took.", calibration.LeastJobs),
			"Report minutes with the outcomes (POST /v1/outcomes).")
	}
	var out *CalibrationState
	if err == nil {
		out, err = calibrationState(ctx, s.store.Queries)
	}
	return sendPut(c, out, err)
}

func calibrationState(ctx context.Context, q db.Queries) (*CalibrationState, error) {
	used, err := ledger.Calibration(ctx, q)
	if err != nil {
		return nil, err
	}
	proposed, timed, err := ledger.Propose(ctx, q, time.Now())
	if err != nil {
		return nil, err
	}
	out := &CalibrationState{InUse: showCalibration(used), Jobs: timed, LeastJobs: calibration.LeastJobs}
	if proposed != nil {
		out.Proposed = ptr(showCalibration(proposed))
	}
	return out, nil
}

// showCalibration shows all values, those that are not fitted as they are at the
// start.
func showCalibration(c *calibration.Calibration) Calibration {
	out := Calibration{Text: c.Words()}
	var cutter, bench *calibration.Fit
	if c != nil {
		out.Day, cutter, bench = c.Day, c.Cutter, c.Bench
	}
	if cutter != nil {
		out.CutterNoise = cutter.Noise
	}
	if bench != nil {
		out.BenchNoise = bench.Noise
	}
	out.Values = append(out.Values, showCalibrated("motion_factor", 1, cutter, 0))
	names := []CalibratedValueName{"start_s", "contour_s_per_m", "ground_s", "counter_s", "fragile_s"}
	for i, start := range weeding.DefaultTimes().List() {
		out.Values = append(out.Values, showCalibrated(names[i], start, bench, i))
	}
	return out
}

func showCalibrated(name CalibratedValueName, start float64, f *calibration.Fit, i int) CalibratedValue {
	if f == nil {
		return CalibratedValue{Name: name, Start: start, Value: start}
	}
	low, high := f.Interval(i)
	return CalibratedValue{Name: name, Start: start, Value: f.Values[i], Low: &low, High: high}
}
