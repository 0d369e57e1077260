package api

import (
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/calibration"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/weeding"
)

// GetCalibration answers GET /v1/calibration.
func (s storeroom) GetCalibration(c echo.Context) error {
	out, err := s.calibration(c)
	if err != nil {
		return err
	}
	return sendJSON(c, out)
}

// PutCalibration answers PUT /v1/calibration.
func (s storeroom) PutCalibration(c echo.Context) error {
	var body CalibrationChoice
	if err := decode(c, &body); err != nil {
		return err
	}
	change := s.book.Uncalibrate
	if body.Use == CalibrationChoiceUseFitted {
		change = s.book.Calibrate
	}
	err := change(c.Request().Context())
	if errors.Is(err, ledger.ErrFewJobs) {
		return conflict("too_few_jobs", fmt.Sprintf("A fit needs %d jobs of which somebody said how long they took.", calibration.LeastJobs),
			"Report minutes with the outcomes (POST /v1/outcomes).")
	}
	if err != nil {
		return err
	}
	out, err := s.calibration(c)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, out)
}

func (s storeroom) calibration(c echo.Context) (*CalibrationState, error) {
	ctx := c.Request().Context()
	used, err := ledger.Calibration(ctx, s.store.Queries)
	if err != nil {
		return nil, err
	}
	proposed, timed, err := ledger.Propose(ctx, s.store.Queries, time.Now())
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
