package api

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/queue/trials"
	"knifedesk/jobs/read"
)

// plans answers what is asked of plans as a whole.
type plans struct {
	*tools
	spec    *openapi3.T
	closing context.Context
	waiting *seats // of requests that are held open
	streams *seats // of events
	feeds   *feeds
	queued  *backlog
}

// CreatePlan answers POST /v1/plans.
func (p plans) CreatePlan(c echo.Context, params CreatePlanParams) error {
	ctx := c.Request().Context()
	o, err := p.order(c)
	if err != nil {
		return err
	}
	o.choices = withDefaults(o.choices, callerOf(c).defaults)
	films, err := filmsOf(ctx, p.tools, o)
	if err != nil {
		return o.named(err)
	}
	owner, err := p.orderedFor(c, o)
	if err != nil {
		return err
	}
	if err := p.checkPage(c, o); err != nil {
		return o.named(err)
	}
	wait, leave, err := p.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	for i := range films {
		films[i].Client, films[i].Queue, films[i].ClientReference, films[i].CostCode = owner, laneOf(params.Prefer), o.reference, o.costCode
	}
	first := &films[0]
	first.Drawing, first.Name, first.File, first.Supersedes = o.drawing, o.name, o.file, o.supersedes
	first.With = func(_ context.Context, tx db.Tx, made db.Plan) error {
		if err := spend(c, tx, made.Drawing); err != nil {
			return err
		}
		return noteMade(c, tx, plansPath+made.ID.String())
	}
	made, err := p.submit(c, films[0], films[1:]...)
	if errors.Is(err, db.ErrNotFound) {
		return lackingField("drawing_id", "drawing")
	}
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, plansPath+made.ID.String())
	return p.settle(c, made.ID, made.Status, wait)
}

// stand notes how the settings of a request stand today, and what its minutes are
// counted with.
func (t *tools) stand(ctx context.Context, r *plan.Request) error {
	cut, err := trials.Of(ctx, t.store.Queries, r.Stock.ID, r.Machine.ID)
	if err != nil {
		return err
	}
	jobs.Stand(r, cut, today())
	r.Calibration, err = ledger.Calibration(ctx, t.store.Queries)
	return err
}

// laneOf puts a plan for which somebody waits before the others.
func laneOf(prefer string) db.Queue {
	if preferWait(prefer) > 0 {
		return db.Interactive
	}
	return db.Batch
}

const plansPath = "/v1/plans/"

// checkPage refuses a page of a drawing that has none.
func (p plans) checkPage(c echo.Context, o *order) error {
	page, head := o.choices.Options.Page, o.file
	if page == 0 {
		return nil
	}
	if o.drawing != uuid.Nil {
		stored, err := p.store.Drawing(c.Request().Context(), clientOf(c), o.drawing)
		if errors.Is(err, db.ErrNotFound) {
			return lackingField("drawing_id", "drawing")
		}
		if err != nil {
			return err
		}
		if head, err = p.store.FileHead(c.Request().Context(), stored.Hash, read.Sniffed); err != nil {
			return err
		}
	}
	return jobs.CheckPage(head, page)
}

// GetPlan answers GET /v1/plans/{plan_id}. What the client has already is not
// read at all.
func (p plans) GetPlan(c echo.Context, id PlanID, params GetPlanParams) error {
	ctx := c.Request().Context()
	now, err := p.store.PlanStanding(ctx, clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	wait, leave, err := p.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	p.await(c, id, plan.Status(now.Status), wait)
	if wait == 0 && now.Seen && hasTag(c.Request().Header.Get("If-None-Match"), planTag(now.Version, "", textWanted(c))) {
		c.Response().Header().Set("Vary", "Accept")
		return send(c, content{tag: planTag(now.Version, "", textWanted(c))})
	}
	d, err := p.describe(c, id)
	if err != nil {
		return err
	}
	return sendPlan(c, http.StatusOK, d)
}

// ListPlans answers GET /v1/plans.
func (p plans) ListPlans(c echo.Context, params ListPlansParams) error {
	limit := cmp.Or(params.Limit, usual)
	f := db.PlanFilter{Client: listedFor(c, params.Owner), Status: string(params.Status), ClientReference: plan.Reference(params.ClientReference), Limit: limit + 1}
	var err error
	if f.Before, err = readBefore(params.Cursor); err != nil {
		return err
	}
	rows, err := p.jobs.Views(c.Request().Context(), f)
	if err != nil {
		return err
	}
	return sendNewest(c, "plans", rows, limit, headOf, func(v *queue.PlanView) db.Cursor { return db.Cursor{Created: v.Created, ID: v.ID} })
}

// CancelPlan answers DELETE /v1/plans/{plan_id}.
func (p plans) CancelPlan(c echo.Context, id PlanID, params CancelPlanParams) error {
	if params.Erase {
		if err := p.jobs.Erase(c.Request().Context(), clientOf(c), id); err != nil {
			return lacking(err, "plan")
		}
		return c.NoContent(http.StatusNoContent)
	}
	if _, err := p.jobs.Cancel(c.Request().Context(), clientOf(c), id); err != nil {
		return lacking(err, "plan")
	}
	d, err := p.describe(c, id)
	if err != nil {
		return err
	}
	return sendPlan(c, http.StatusOK, d)
}

// settle waits for a plan, which stood so last, to settle, at most for wait, and
// answers with 200 where it has and 202 where it has not.
func (p plans) settle(c echo.Context, id uuid.UUID, stood plan.Status, wait time.Duration) error {
	p.await(c, id, stood, wait)
	d, err := p.describe(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, plansPath+id.String())
	status := http.StatusAccepted
	if wait > 0 && d.settled {
		status = http.StatusOK
	}
	return sendPlan(c, status, d)
}

// await returns when the plan has settled, the time is over or the service
// stops. A lost notification only makes the answer come later.
func (p plans) await(c echo.Context, id uuid.UUID, stood plan.Status, wait time.Duration) {
	if wait <= 0 {
		return
	}
	c.Response().Header().Set("Preference-Applied", preferenceApplied(wait))
	if stood.Settled() {
		return
	}
	ctx, cancel := context.WithTimeout(c.Request().Context(), wait)
	defer cancel()
	defer context.AfterFunc(p.closing, cancel)()
	if _, err := p.jobs.Wait(ctx, clientOf(c), id); err != nil && ctx.Err() == nil {
		p.log.WarnContext(ctx, "waiting for a plan", "plan", id, "error", err)
	}
}

// sendPlan answers with the plan as JSON, or as a summary for a shell.
func sendPlan(c echo.Context, status int, d *planView) error {
	c.Response().Header().Set("Vary", "Accept")
	text := textWanted(c)
	cacheable := c.Request().Method == http.MethodGet
	switch {
	case text && cacheable:
		return send(c, content{echo.MIMETextPlainCharsetUTF8, []byte(d.text()), planTag(d.version, d.films, text), ""})
	case text:
		return c.String(status, d.text())
	case cacheable:
		out, err := jsonContent(d.Plan)
		if err != nil {
			return err
		}
		out.tag = planTag(d.version, d.films, text)
		return send(c, out)
	}
	return c.JSON(status, d.Plan)
}

func textWanted(c echo.Context) bool { return prefersText(c.Request().Header.Get(echo.HeaderAccept)) }

// planTag is the tag of a version of a plan in one of its forms, beside those of the plans
// of other films. It changes with the program too, which may show the same version otherwise.
func planTag(version int64, films string, text bool) string {
	form := "j"
	if text {
		form = "t"
	}
	return fmt.Sprintf(`"%s-%d%s%s"`, specSum(), version, films, form)
}
