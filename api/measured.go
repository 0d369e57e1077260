package api

import (
	"context"
	"errors"
	"math"
	"net/http"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/geometry/number"
	"knifedesk/jobs/measured"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
)

const measuredPart = "/measured"

// GetMeasured answers GET /v1/plans/{plan_id}/measured.
func (s storeroom) GetMeasured(c echo.Context, id PlanID) error {
	out, _, err := s.measureSheet(c, id)
	if err != nil {
		return err
	}
	return sendJSON(c, out)
}

// ReportMeasured answers POST /v1/plans/{plan_id}/measured.
func (s storeroom) ReportMeasured(c echo.Context, id PlanID, _ ReportMeasuredParams) error {
	var body Measured
	if err := decode(c, &body); err != nil {
		return err
	}
	out, fields, err := s.measureSheet(c, id)
	if err != nil {
		return err
	}
	answers, err := answersTo(fields, body)
	if err != nil {
		return err
	}
	seconds := func(name string) int64 { return int64(math.Round(60 * body.Values[name])) }
	outcome := ledger.Outcome{Plan: id, CutterS: seconds(measured.Cutter), BenchS: seconds(measured.Bench), Remark: "told by the code on the worksheet"}
	if mm := body.Values[measured.Length]; mm > 0 {
		outcome.Remark += ": " + number.People(mm) + " mm measured where " + fields[0].Planned() + " is planned"
	}
	location := plansPath + id.String() + measuredPart
	_, err = s.book.Settle(c.Request().Context(), clientOf(c), outcome, func(tx db.Tx, _ uuid.UUID) error { return noteMade(c, tx, location) })
	if err != nil {
		return lacking(err, "plan")
	}
	out.State, out.Text, out.Answers = MeasureSheetStateReported, reportedText, answers
	c.Response().Header().Set(echo.HeaderLocation, location)
	return c.JSON(http.StatusCreated, out)
}

// measuredAgain answers as ReportMeasured did for the request that closed a plan.
func (s storeroom) measuredAgain(c echo.Context, id PlanID, location string) error {
	out, _, err := s.measureSheet(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, location)
	return c.JSON(http.StatusCreated, out)
}

const reportedText = "It is noted. Thank you."

// measureSheet says what is measured of a plan, and how far that is.
func (s storeroom) measureSheet(c echo.Context, id PlanID) (MeasureSheet, []measured.Field, error) {
	ctx := c.Request().Context()
	v, err := s.jobs.View(ctx, clientOf(c), id)
	if err != nil {
		return MeasureSheet{}, nil, lacking(err, "plan")
	}
	fields := measured.OfPlan(&v.Plan)
	out := MeasureSheet{
		Title: "How did it come out?", About: v.Plan.Request.StockName + ", plan " + id.String()[:8], State: MeasureSheetStateNotAccepted,
		Text: "Nobody has accepted this plan yet, so it cannot be closed. Ask the technician to accept it, then open this page again.",
		Key:  "measured", Fields: each(fields, showMeasureField), Answers: []MeasureAnswer{},
	}
	if v.Acceptance == nil || !v.Acceptance.Binds() {
		return out, fields, nil
	}
	out.Key += "-" + strconv.FormatInt(v.Acceptance.Updated.UnixMicro(), 36)
	out.State, out.Text = MeasureSheetStateOpen, "Fill in what you have measured, once the work is done. What you do not know stays empty."
	if v.Acceptance.State == ledger.Closed {
		err = s.reported(ctx, v, &out, fields)
	}
	return out, fields, err
}

// reported fills in what was reported of a plan.
func (s storeroom) reported(ctx context.Context, v *queue.PlanView, out *MeasureSheet, fields []measured.Field) error {
	p, err := s.store.OutcomeOf(ctx, v.Acceptance.ID)
	if err != nil {
		return err
	}
	out.State, out.Text = MeasureSheetStateReported, "This was noted before; nothing more is needed."
	values := map[string]float64{measured.Cutter: minutes(p.CutterS), measured.Bench: minutes(p.BenchS)}
	out.Answers, err = answersTo(fields, Measured{Values: values, Sure: true})
	return err
}

// answersTo compares what was measured with what was planned.
func answersTo(fields []measured.Field, body Measured) ([]MeasureAnswer, error) {
	all, err := measured.Compare(fields, body.Values, body.Sure)
	var doubt *measured.Doubt
	switch {
	case errors.As(err, &doubt):
		return nil, unprocessable(doubt.Field, "doubtful_value", "That is far from what was planned: "+doubt.Text, "Measure again, and say that you did if it is so.")
	case err != nil:
		return nil, unprocessable("values", "not_measured", "A value is of something that is not measured here.", "Take the names of the fields.")
	}
	return each(all, showMeasureAnswer), nil
}

func showMeasureField(f measured.Field) MeasureField {
	return MeasureField{Name: MeasureFieldName(f.Name), Label: f.Label, Unit: MeasureFieldUnit(f.Unit)}
}

func showMeasureAnswer(a measured.Answer) MeasureAnswer {
	return MeasureAnswer{Name: MeasureAnswerName(a.Field.Name), Value: a.Value, Expected: a.Field.Expected, AsPlanned: a.Field.Fits(a.Value), Text: a.Field.Answer(a.Value)}
}
