package api

import (
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/measured"
	"knifedesk/jobs/queue/trials"
	"knifedesk/jobs/trial"
)

// marksPath is where the marks of the test cut of a setting are reported.
func marksPath(setting, stock, machine string) string {
	return "/v1/settings/" + setting + "/marks/" + stock + "/" + machine
}

// GetMarks answers GET /v1/settings/{item_id}/marks/{stock_id}/{machine_id}.
func (b bench) GetMarks(c echo.Context, id ItemID, stock, machine string) error {
	found, err := b.book.Bench(c.Request().Context(), trials.Asked{Setting: id, Stock: stock, Machine: machine})
	if err != nil {
		return lackingTest(err)
	}
	return sendJSON(c, marksSheet(found))
}

// ReportMarks answers POST /v1/settings/{item_id}/marks/{stock_id}/{machine_id}.
func (b bench) ReportMarks(c echo.Context, id ItemID, stock, machine string, _ ReportMarksParams) error {
	var body Measured
	if err := decode(c, &body); err != nil {
		return err
	}
	answers, err := answersTo(measured.OfMarks(), body)
	if err != nil {
		return err
	}
	if len(answers) != len(measured.OfMarks()) {
		return unprocessable("values", "not_measured", "Only one of the marks was measured.", "Measure both.")
	}
	ctx, asked := c.Request().Context(), trials.Asked{Setting: id, Stock: stock, Machine: machine}
	marks := trial.Marks{AcrossMM: body.Values[measured.Across], AlongMM: body.Values[measured.Along]}
	var location string
	err = b.book.Measure(ctx, asked, marks, func(tx db.Tx, made uuid.UUID) error {
		location = trialsPath + made.String()
		return noteMade(c, tx, location)
	})
	if err != nil {
		return lackingTest(err)
	}
	found, err := b.book.Bench(ctx, asked)
	if err != nil {
		return lackingTest(err)
	}
	out := marksSheet(found)
	out.State, out.Text, out.Answers = MeasureSheetStateReported, reportedText, answers
	c.Response().Header().Set(echo.HeaderLocation, location)
	return c.JSON(http.StatusCreated, out)
}

// marksSheet says what is measured on a test cut. The same lengths of a day are taken
// once.
func marksSheet(found *trials.Bench) MeasureSheet {
	return MeasureSheet{
		Title: "How long are the marks?", About: found.Stock.Name + ", " + found.Machine.Name, State: MeasureSheetStateOpen,
		Text: "Measure both marks of the test cut to a tenth of a millimetre.", Key: "marks-" + today(),
		Fields: each(measured.OfMarks(), showMeasureField), Answers: []MeasureAnswer{},
	}
}
