package api

import (
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// CreatePlan answers POST /v1/plans.
func (a *API) CreatePlan(c echo.Context, params CreatePlanParams) error {
	ctx := c.Request().Context()
	o, err := a.order(c)
	if err != nil {
		return err
	}
	data, err := queue.Workshop(ctx, a.store.Queries)
	if err != nil {
		return err
	}
	req, err := plan.Choose(data, o.choices)
	if err == nil {
		err = a.checkPage(c, o)
	}
	if err != nil {
		return o.named(err)
	}
	wait := preferWait(params.Prefer)
	lane := db.Batch
	if wait > 0 {
		lane = db.Interactive
	}
	if o.supersedes != nil {
		if _, err := a.store.Plan(ctx, clientOf(c), *o.supersedes); errors.Is(err, db.ErrNotFound) {
			return lackingField("supersedes", "plan")
		}
	}
	p, err := a.jobs.Submit(ctx, queue.SubmitParams{
		Client: clientOf(c), Drawing: o.drawing, Name: o.name, File: o.file, Request: *req,
		Queue: lane, ClientReference: o.reference, Supersedes: o.supersedes,
		With: func(_ context.Context, tx db.Tx, p db.Plan) error { return noteMade(c, tx, plansPath+p.ID.String()) },
	})
	if errors.Is(err, db.ErrNotFound) {
		return lackingField("drawing_id", "drawing")
	}
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, plansPath+p.ID.String())
	return a.settle(c, p.ID, wait)
}

const plansPath = "/v1/plans/"

// checkPage refuses a page of a drawing that has none.
func (a *API) checkPage(c echo.Context, o *order) error {
	page, file := o.choices.Options.Page, o.file
	if page == 0 {
		return nil
	}
	if o.drawing != uuid.Nil {
		stored, err := a.store.Drawing(c.Request().Context(), clientOf(c), o.drawing)
		if errors.Is(err, db.ErrNotFound) {
			return lackingField("drawing_id", "drawing")
		}
		if err != nil {
			return err
		}
		if file, err = a.store.File(c.Request().Context(), stored.Hash); err != nil {
			return err
		}
	}
	return plan.CheckPage(file, page)
}

// GetPlan answers GET /v1/plans/{plan_id}.
func (a *API) GetPlan(c echo.Context, id PlanID, params GetPlanParams) error {
	if _, err := a.store.Plan(c.Request().Context(), clientOf(c), id); err != nil {
		return lacking(err, "plan")
	}
	a.await(c, id, preferWait(params.Prefer))
	p, err := a.describePlan(c, id)
	if err != nil {
		return err
	}
	return a.sendPlan(c, http.StatusOK, p)
}

// ListPlans answers GET /v1/plans.
func (a *API) ListPlans(c echo.Context, params ListPlansParams) error {
	limit := params.Limit
	if limit == 0 {
		limit = 20
	}
	f := db.PlanFilter{Client: clientOf(c), Status: params.Status, ClientReference: params.ClientReference, Limit: limit + 1}
	if params.Cursor != "" {
		before, err := readCursor(params.Cursor)
		if err != nil {
			return err
		}
		f.Before = &before
	}
	rows, err := a.store.Plans(c.Request().Context(), f)
	if err != nil {
		return err
	}
	out := struct {
		Plans      []PlanHead `json:"plans"`
		NextCursor string     `json:"next_cursor,omitempty"`
	}{Plans: []PlanHead{}}
	for i, p := range rows {
		if i == limit {
			last := rows[i-1]
			out.NextCursor = writeCursor(db.PlanCursor{Created: last.Created, ID: last.ID})
			break
		}
		out.Plans = append(out.Plans, headOf(p))
	}
	return sendJSON(c, out)
}

// CancelPlan answers DELETE /v1/plans/{plan_id}.
func (a *API) CancelPlan(c echo.Context, id PlanID) error {
	if _, err := a.jobs.Cancel(c.Request().Context(), clientOf(c), id); err != nil {
		return lacking(err, "plan")
	}
	p, err := a.describePlan(c, id)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, p.Plan)
}

// settle waits for a plan to settle, at most for wait, and answers with 200
// where it has and 202 where it has not.
func (a *API) settle(c echo.Context, id uuid.UUID, wait time.Duration) error {
	a.await(c, id, wait)
	p, err := a.describePlan(c, id)
	if err != nil {
		return err
	}
	status := http.StatusAccepted
	if wait > 0 && p.Status.Settled() {
		status = http.StatusOK
	}
	return a.sendPlan(c, status, p)
}

// await returns when the plan has settled, the time is over or the service
// stops. A lost notification only makes the answer come later.
func (a *API) await(c echo.Context, id uuid.UUID, wait time.Duration) {
	if wait <= 0 {
		return
	}
	c.Response().Header().Set("Preference-Applied", fmt.Sprintf("wait=%d", int(wait.Seconds())))
	ctx, cancel := context.WithTimeout(c.Request().Context(), wait)
	defer cancel()
	defer context.AfterFunc(a.closing, cancel)()
	if _, err := a.jobs.Wait(ctx, clientOf(c), id); err != nil && ctx.Err() == nil {
		a.log.WarnContext(ctx, "waiting for a plan", "plan", id, "error", err)
	}
}

// sendPlan answers with the plan as JSON, or as a summary for a shell.
func (a *API) sendPlan(c echo.Context, status int, p *planView) error {
	c.Response().Header().Set("Vary", "Accept")
	text := prefersText(c.Request().Header.Get(echo.HeaderAccept))
	cacheable := c.Request().Method == http.MethodGet
	switch {
	case text && cacheable:
		return sendCached(c, echo.MIMETextPlainCharsetUTF8, []byte(p.text))
	case text:
		return c.String(status, p.text)
	case cacheable:
		return sendJSON(c, p.Plan)
	}
	return c.JSON(status, p.Plan)
}

func writeCursor(p db.PlanCursor) string {
	return base64.RawURLEncoding.EncodeToString([]byte(p.Created.UTC().Format(time.RFC3339Nano) + " " + p.ID.String()))
}

func readCursor(text string) (db.PlanCursor, error) {
	bad := unprocessable("cursor", "invalid_cursor", "The cursor is not one that this list gave.", "Use next_cursor of the page before, or leave it out.")
	raw, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil {
		return db.PlanCursor{}, bad
	}
	when, id, ok := strings.Cut(string(raw), " ")
	created, errTime := time.Parse(time.RFC3339Nano, when)
	plan, errID := uuid.Parse(id)
	if !ok || errTime != nil || errID != nil {
		return db.PlanCursor{}, bad
	}
	return db.PlanCursor{Created: created, ID: plan}, nil
}
