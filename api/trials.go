package api

import (
	"bytes"
	"context"
	"errors"
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/queue/trials"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
	"knifedesk/jobs/workshop"
)

// bench answers what is asked of test cuts.
type bench struct {
	*tools
	book trials.Book
}

const trialsPath = "/v1/trials/"

// GetTestCut answers GET /v1/settings/{item_id}/test-cut/{file}.
func (b bench) GetTestCut(c echo.Context, id ItemID, file string, params GetTestCutParams) error {
	ctx := c.Request().Context()
	found, err := b.book.Bench(ctx, trials.Asked{
		Setting: id, Stock: params.StockID, Machine: params.MachineID, Compensates: workshop.Compensation(params.Compensates),
	})
	if err != nil {
		return lackingTest(err)
	}
	link, err := b.measureLink(c, marksPath(id, found.Stock.ID, found.Machine.ID))
	if err != nil {
		return err
	}
	var out content
	err = b.turns.inTurn(ctx, func() (err error) {
		cut, err := b.testCut(ctx, found)
		if err != nil {
			return err
		}
		cut.Link = link
		out, err = writeTestCut(ctx, cut, found.Code(), file)
		return err
	})
	if err != nil {
		return err
	}
	return send(c, out)
}

// testCut lays the sheet that a setting needs next.
func (b bench) testCut(ctx context.Context, found *trials.Bench) (*view.TestCut, error) {
	next := found.Next()
	if next.None != "" {
		return nil, conflict("no_test_cut", view.ObstacleText(next.None), "Change what it says, in the setting or at the machine, and begin again.")
	}
	made, err := testcut.Make(ctx, testcut.Request{Request: found.Request, Setting: found.Setting, Cells: next.Cells})
	if err != nil {
		return nil, err
	}
	for _, f := range made.Passes.Findings {
		if f.Severity == finding.Block {
			return nil, conflict("no_test_cut", f.TechnicianHint, "Choose another machine or another way to hold the stock.")
		}
	}
	return &view.TestCut{
		Sheet: made, Next: next, Setting: found.Listed, Stock: found.Stock, Machine: found.Machine, Standing: found.Standing("", today()),
	}, nil
}

// writeTestCut writes one of the files of a test cut.
func writeTestCut(ctx context.Context, cut *view.TestCut, code, file string) (content, error) {
	var text bytes.Buffer
	switch file {
	case "sheet.json":
		return jsonContent(showTestCut(cut, code))
	case "sheet.pdf":
		err := cut.Worksheet(ctx, &text, code)
		return newContent("application/pdf", text.Bytes()), err
	case "picture.svg":
		drawn, err := cut.Picture(figure.Onto(ctx, figure.Screen(0)))
		if err != nil {
			return content{}, err
		}
		svg, err := drawn.SVG(ctx)
		return newContent("image/svg+xml", svg), err
	}
	format := view.Format(file[len("cut."):])
	if err := cut.Write(ctx, &text, format); errors.Is(err, view.ErrAsked) {
		return content{}, conflict("compensation_unknown", "Nobody said what the machine makes up for by itself, and done twice it spoils every corner.",
			"Add compensates=nothing, offset or offset_and_overcut to the address, or enter it in the data of the machine.")
	} else if err != nil {
		return content{}, err
	}
	out := newContent(fileKind(format), text.Bytes())
	out.file = cut.FileName(format)
	return out, nil
}

// ListTrials answers GET /v1/settings/{item_id}/trials.
func (b bench) ListTrials(c echo.Context, id ItemID, params ListTrialsParams) error {
	found, err := b.book.Bench(c.Request().Context(), trials.Asked{Setting: id, Stock: params.StockID, Machine: params.MachineID})
	if err != nil {
		return lackingTest(err)
	}
	own, cursor, err := turnOf(found.Own(), turn{params.Limit, params.Cursor}, func(t trials.Kept) string { return t.ID.String() })
	if err != nil {
		return err
	}
	next := found.Next()
	return sendJSON(c, Trials{
		Setting: showSetting(found.Listed), Standing: showStanding(found.Standing("", today())), Known: shownOf(next), Next: nextTest(found, next),
		Trials: each(own, showTrial), NextCursor: cursor,
	})
}

// ReportTrial answers POST /v1/settings/{item_id}/trials.
func (b bench) ReportTrial(c echo.Context, id ItemID, _ ReportTrialParams) error {
	var body TrialReport
	if err := decode(c, &body); err != nil {
		return err
	}
	report := trials.Report{
		Sheet: body.Sheet, Verdicts: map[int]trial.Verdict{}, Batch: body.Batch, Blade: body.Blade,
		Marks: maybe(body.Marks, readMarks), Tester: body.TestedBy, Day: body.Day, Proof: body.Proof,
	}
	for v, cells := range map[trial.Verdict][]int{trial.Passed: body.Passed, trial.TooLight: body.TooLight, trial.TooDeep: body.TooDeep} {
		for _, n := range cells {
			if old, twice := report.Verdicts[n]; twice && old != v {
				return unprocessable("passed", "cell_twice", "A cell is in two lists.", "Name each cell once.")
			}
			report.Verdicts[n] = v
		}
	}
	made, err := b.book.Record(c.Request().Context(), trials.Asked{Setting: id, Stock: body.StockID, Machine: body.MachineID}, report,
		func(tx db.Tx, id uuid.UUID) error { return noteMade(c, tx, trialsPath+id.String()) })
	if err != nil {
		return lackingTest(err)
	}
	return b.sendReported(c, made)
}

// sendReported answers with a test cut that was just reported.
func (b bench) sendReported(c echo.Context, id uuid.UUID) error {
	out, err := b.result(c.Request().Context(), id)
	if err != nil {
		return lackingTest(err)
	}
	c.Response().Header().Set(echo.HeaderLocation, trialsPath+id.String())
	return c.JSON(http.StatusCreated, out)
}

func (b bench) result(ctx context.Context, id uuid.UUID) (*TrialResult, error) {
	found, kept, err := b.book.Result(ctx, id)
	if err != nil {
		return nil, err
	}
	next := found.Next()
	return &TrialResult{
		Trial: showTrial(kept), Setting: showSetting(found.Listed), Standing: showStanding(found.Standing("", today())), Known: shownOf(next),
		ForceWindow: maybe(next.Force, showWindow), SpeedWindow: maybe(next.Speed, showWindow), Next: nextTest(found, next),
	}, nil
}

// GetTrial answers GET /v1/trials/{trial_id}.
func (b bench) GetTrial(c echo.Context, id TrialID) error {
	out, err := b.result(c.Request().Context(), id)
	if err != nil {
		return lackingTest(err)
	}
	return sendJSON(c, out)
}

// WithdrawTrial answers DELETE /v1/trials/{trial_id}.
func (b bench) WithdrawTrial(c echo.Context, id TrialID) error {
	if err := b.book.Withdraw(c.Request().Context(), id); err != nil {
		return lackingTest(err)
	}
	return c.NoContent(http.StatusNoContent)
}

// nextTest is where the test cut is that comes next; empty: there is none.
func nextTest(found *trials.Bench, next trial.Next) string {
	if next.None != "" {
		return ""
	}
	return testCutPath(found.Listed.ID, found.Stock.ID, found.Machine.ID, "sheet.json")
}

// shownOf says what the sheets before have shown.
func shownOf(next trial.Next) []string {
	return append([]string{}, (&view.TestCut{Next: next}).Known()...)
}

// lackingTest words what test cuts are refused for.
func lackingTest(err error) error {
	var lack *trials.LackError
	switch {
	case errors.As(err, &lack) && lack.General:
		return unprocessable(lack.Field, "needed", "The setting is for several of them, and a test cut is of one.", "Name it.")
	case errors.As(err, &lack) && lack.Field == "setting":
		return notFound("setting")
	case errors.As(err, &lack):
		return unprocessable(lack.Field, "not_of_setting", "There is none of that name that the setting is for.", "Take one of the lists in /v1/stocks and /v1/machines.")
	case errors.Is(err, trials.ErrOther):
		return conflict("other_sheet", "Another sheet is to be cut by now than the one that is reported.", "Look at the test cut again, and report it by the code that it has.")
	}
	return lacking(err, "trial")
}
