package api

import (
	"fmt"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/size"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/view"
)

// planView is a plan as the API shows it.
type planView struct {
	Plan
	version int64
	films   string // the versions of the plans of other films, which are shown too
	settled bool
	of      *queue.PlanView
	answers string // the address that takes answers
	keyed   bool   // and whether the caller showed a key
}

// describe reads what is shown of a plan.
func (p plans) describe(c echo.Context, id uuid.UUID) (*planView, error) {
	v, err := p.jobs.View(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return nil, lacking(err, "plan")
	}
	others, err := priceFilms(p, c, v)
	if err != nil {
		return nil, err
	}
	shown := p.showPlan(v)
	if err := p.signLinks(c, shown.Links); err != nil {
		return nil, err
	}
	answers := here(c) + "/v1/plans/" + id.String() + "/answers"
	return &planView{Plan: shown, version: v.Version, films: others, settled: plan.Status(v.Status).Settled(), of: v, answers: answers, keyed: callerOf(c).means == byKey}, nil
}

// text is the plan as a summary for a shell.
func (d *planView) text() string {
	text := view.Text(plan.Status(d.of.Status), &d.of.Plan, view.CurlAnswer(d.answers, d.keyed))
	if d.ProblemText != "" { // what the state means stands under it
		label := "problem"
		if d.Status == PlanStatus(plan.Cancelled) {
			label = "cancelled"
		}
		status, rest, _ := strings.Cut(text, "\n")
		text = fmt.Sprintf("%s\n%-10s %s\n%s", status, label, d.ProblemText, rest)
	}
	return d.of.Acceptance.Text() + text
}

func (p plans) showPlan(v *queue.PlanView) Plan {
	h := headOf(v)
	s := &v.Plan
	out := Plan{
		ID: h.ID, Owner: h.Owner, Status: h.Status, DrawingID: h.DrawingID, StockID: h.StockID, MachineID: h.MachineID,
		ConventionID: h.ConventionID, Purpose: h.Purpose, Copies: h.Copies, ClientReference: h.ClientReference, CostCode: h.CostCode,
		RecutOf: h.RecutOf, RecutReason: h.RecutReason, Again: h.Again,
		Supersedes: h.Supersedes, CreatedAt: h.CreatedAt, UpdatedAt: h.UpdatedAt, Problem: v.Failure, ProblemText: endText(v),
		Progress: progress(s), Questions: showQuestions(s.Questions), Findings: showFindings(s.Findings),
		Answers: showReplies(s.Answers), Size: maybe(s.Size, showSizeSummary), Stack: maybe(s.Stack, showStackSummary), Weeding: maybe(s.Weeding, showWeedingSummary), Layout: maybe(s.Layout, showLayoutSummary),
		Passes:   each(s.Passes, func(one view.Pass) PassSummary { return showPassOf(s.Request, one) }),
		Cautions: view.Cautions(s.Request.Family), Links: p.links(v),
	}
	if s.Usage != nil {
		out.Usage = ptr(showUsage(*s.Usage))
	}
	if s.Estimate != nil {
		out.Estimate = ptr(showEstimate(s.Estimate))
	}
	out.Acceptance = maybe(v.Acceptance, showAcceptance)
	if v.Status == string(plan.Ready) {
		if out.Estimate != nil {
			out.Estimate.ValidUntil = ptr(stores.QuoteUntil(v.Updated, out.Estimate.ValidDays))
		}
		base := plansPath + v.ID.String()
		out.Actions = map[string]string{"accept": base + acceptancePart, "recut": base + "/recut"}
	}
	return out
}

// endText says of a plan that came to an end without a result what happened, at which step,
// and what to do; "" of any other.
func endText(v *queue.PlanView) string {
	switch text := failureText(v.Failure, stepText(&v.Plan)); {
	case v.Failure == queue.FailureStage:
		return text + " The id of the plan is " + v.ID.String() + "."
	case text != "":
		return text
	case plan.Status(v.Status) == plan.Cancelled:
		return "This plan was cancelled, so nothing is cut from it. If a newer drawing took its place, look at the plan of that one. If not, ask for it again: the drawing is kept."
	}
	return ""
}

// stepText names the step that a plan failed at.
func stepText(v *view.Plan) string {
	for _, g := range v.Progress {
		if g.State == view.Failed {
			return " at the step " + g.Job
		}
	}
	return ""
}

// failureText says what failed, after that at which step, and what to do.
func failureText(code, step string) string {
	const simpler = " Ask for fewer copies, delete what is not to be cut, or export curves as curves in place of many short lines, and send it again."
	switch code {
	case "":
		return ""
	case queue.FailureTimeout:
		return "The drawing takes too long to work out" + step + "." + simpler
	case queue.FailureWorker:
		return "The drawing needs more than the service can hold" + step + "." + simpler
	}
	return "Something failed on our side" + step + ", and your drawing is kept. Try it again; if it fails again, tell the technician."
}

func headOf(v *queue.PlanView) PlanHead {
	r := v.Plan.Request
	return PlanHead{
		ID: v.ID, Owner: v.Client, Status: PlanStatus(v.Status), DrawingID: v.Drawing, StockID: r.Stock,
		MachineID: r.Machine, ConventionID: r.Convention, Purpose: Purpose(r.Purpose),
		Copies: r.Copies, Again: each(r.Again, showAgain), ClientReference: v.ClientReference, CostCode: v.CostCode, Supersedes: v.Supersedes,
		RecutOf: v.RecutOf, RecutReason: v.RecutReason,
		CreatedAt: v.Created, UpdatedAt: v.Updated,
	}
}

func progress(p *view.Plan) []StageProgress {
	return each(p.Progress, func(g view.Progress) StageProgress {
		return StageProgress{Stage: g.Job, State: StageProgressState(g.State), Reused: g.Reused, Share: g.Share}
	})
}

// linkedLoads bounds the loads that a plan links files of: the names of the rest
// go on counting.
const linkedLoads = 100

// links lists where the parts are that the plan has by now: of each job its part
// and its picture, and what is made of several.
func (p plans) links(v *queue.PlanView) map[string]string {
	base, drawing := plansPath+v.ID.String(), drawingsPath+v.Drawing.String()
	out := map[string]string{"self": base, "answers": base + "/answers", "drawing": drawing, "drawing_preview": drawing + "/preview.svg"}
	for _, row := range p.list.Rows {
		if !v.Plan.Has(row.Name) || row.Hidden {
			continue
		}
		out[row.Name] = base + "/" + row.Name
		if row.Draw != nil && (!row.ByLoad || v.Plan.Layout != nil && v.Plan.Layout.Loads > 0) {
			out[row.Name+"_preview"] = base + "/previews/" + row.Name + ".svg"
		}
	}
	if v.Plan.Has(size.Name) {
		out["proof"] = base + "/proof.pdf"
	}
	if v.Plan.Has(artwork.Name) {
		out["mended_svg"], out["mended_dxf"] = base+"/mended.svg", base+"/mended.dxf"
	}
	if v.Plan.Stack != nil {
		out["stack_preview"] = base + "/previews/stack.svg"
	}
	if v.Plan.Usage != nil {
		out["usage"] = base + "/usage"
	}
	if v.Acceptance != nil {
		out["acceptance"] = base + acceptancePart
	}
	if v.Plan.Loads > 0 {
		for load := 1; load <= min(v.Plan.Loads, linkedLoads); load++ {
			file := fmt.Sprintf("%s/files/load-%d.", base, load)
			out[fmt.Sprintf("load_%d_replay", load)] = fmt.Sprintf("%s/replays/load-%d.json", base, load)
			for _, ending := range [...]string{"dxf", "svg", "plt", "txt"} {
				out[fmt.Sprintf("load_%d_%s", load, ending)] = file + ending
			}
		}
		out["cut_file"] = base + "/files/load-1.dxf"
		out["worksheet"] = base + "/worksheet.pdf"
	}
	return out
}
