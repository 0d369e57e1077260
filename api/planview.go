package api

import (
	"encoding/json"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
)

// planView is a plan as the API shows it, with its summary for a shell.
type planView struct {
	Plan
	text    string
	settled bool
}

// describe gathers all that is known of a plan.
func (p plans) describe(c echo.Context, id uuid.UUID) (*planView, error) {
	ctx := c.Request().Context()
	row, err := p.store.Plan(ctx, clientOf(c), id)
	if err != nil {
		return nil, lacking(err, "plan")
	}
	stages, err := p.store.Stages(ctx, id)
	if err != nil {
		return nil, err
	}
	rows, err := p.store.PlanResults(ctx, id)
	if err != nil {
		return nil, err
	}
	results := map[string]json.RawMessage{}
	for _, r := range rows {
		results[r.Stage] = r.Body
	}
	v, err := view.Decode(results)
	if err != nil {
		return nil, err
	}
	out := &planView{Plan: showPlan(row, stages, v), settled: row.Status.Settled()}
	out.text = view.Text(string(row.Status), &row.Request, v)
	if out.ProblemText != "" {
		out.text = "problem    " + out.ProblemText + "\n" + out.text
	}
	return out, nil
}

func showPlan(p db.Plan, stages []db.PlanStage, v *view.View) Plan {
	h := headOf(p)
	findings, questions := v.Outcome()
	if p.Status != db.Asking {
		questions = nil // what is not asked any more is history
	}
	out := Plan{
		ID: h.ID, Status: h.Status, DrawingID: h.DrawingID, StockID: h.StockID, MachineID: h.MachineID,
		ConventionID: h.ConventionID, Purpose: h.Purpose, Copies: h.Copies, ClientReference: h.ClientReference,
		Supersedes: h.Supersedes, CreatedAt: h.CreatedAt, UpdatedAt: h.UpdatedAt, Problem: p.Failure, ProblemText: failureText(p.Failure),
		Progress: progress(stages), Questions: showQuestions(questions), Findings: showFindings(findings),
		Answers: showReplies(p.Request.Replies), Size: maybe(v.SizeShort(), showSizeSummary),
		Weeding: maybe(v.WeedingShort(p.Request.Copies), showWeedingSummary), Layout: maybe(v.LayoutShort(), showLayoutSummary),
		Passes:   each(v.PassesShort(), showPassSummary),
		Cautions: view.Cautions(p.Request.Stock), Links: links(p.ID, p.Drawing, v),
	}
	if v.Layout != nil {
		out.Usage = ptr(showUsage(v.Layout.Usage))
	}
	if v.Estimate != nil {
		out.Estimate = ptr(showEstimate(v.Estimate))
	}
	return out
}

// failureText says what made a plan fail and what to do.
func failureText(code string) string {
	switch code {
	case "":
		return ""
	case queue.FailureTimeout:
		return "The drawing takes too long to work out. Simplify its paths, delete what is not to be cut, or ask for fewer copies, and send it again."
	case queue.FailureWorker:
		return "The drawing needs more than the service can hold. Simplify its paths, delete what is not to be cut, or ask for fewer copies, and send it again."
	}
	return "Something failed on our side. Send it again; if it stays, tell the technician the plan's id."
}

func headOf(p db.Plan) PlanHead {
	return PlanHead{
		ID: p.ID, Status: PlanStatus(p.Status), DrawingID: p.Drawing, StockID: p.Request.Stock.ID,
		MachineID: p.Request.Machine.ID, ConventionID: p.Request.Convention.ID, Purpose: Purpose(p.Request.Purpose),
		Copies: p.Request.Copies, ClientReference: p.ClientReference, Supersedes: p.Supersedes,
		CreatedAt: p.Created, UpdatedAt: p.Updated,
	}
}

func progress(stages []db.PlanStage) []StageProgress {
	out := make([]StageProgress, len(stages))
	for i, s := range stages {
		out[i] = StageProgress{Stage: s.Stage, State: StageProgressState(s.State), Reused: s.Reused}
	}
	return out
}

// links lists where the parts are that the plan has by now.
func links(id, drawingID uuid.UUID, v *view.View) map[string]string {
	base := "/v1/plans/" + id.String()
	drawing := "/v1/drawings/" + drawingID.String()
	out := map[string]string{"self": base, "answers": base + "/answers", "drawing": drawing, "drawing_preview": drawing + "/preview.svg"}
	add := func(has bool, part string, picture bool) {
		if !has {
			return
		}
		out[part] = base + "/" + part
		if picture {
			out[part+"_preview"] = base + "/previews/" + part + ".svg"
		}
	}
	add(v.Size != nil, "size", true)
	add(v.Artwork != nil, "artwork", true)
	add(v.Weeding != nil, "weeding", true)
	add(v.Layout != nil, "layout", v.Layout != nil && len(v.Layout.Loads) > 0)
	add(v.Layout != nil, "usage", false)
	add(v.Passes != nil, "passes", true)
	add(v.Estimate != nil, "estimate", false)
	if v.Passes != nil && len(v.Passes.Loads) > 0 {
		out["cut_file"] = base + "/files/load-1.dxf"
		out["worksheet"] = base + "/worksheet.pdf"
	}
	return out
}
