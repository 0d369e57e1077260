package api

import (
	"cmp"
	"context"
	"slices"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/workshop"
)

// RecutPlan answers POST /v1/plans/{plan_id}/recut.
func (p plans) RecutPlan(c echo.Context, id PlanID, params RecutPlanParams) error {
	var body RecutRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	ctx := c.Request().Context()
	old, err := p.store.Plan(ctx, clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	if old.Status != string(plan.Ready) {
		return &ledger.Refusal{Code: ledger.NotReady}
	}
	asked, err := queue.RequestOf(old)
	if err != nil {
		return err
	}
	copies, err := p.spoiled(ctx, old, asked.Copies, body.Pieces)
	if err != nil {
		return err
	}
	request, err := p.recut(ctx, old, *asked, copies)
	if err != nil {
		return err
	}
	if err := p.stand(ctx, request); err != nil {
		return err
	}
	wait, leave, err := p.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	made, err := p.submit(c, queue.SubmitParams{
		Client: old.Client, Drawing: old.Drawing, Request: *request, Queue: laneOf(params.Prefer), ClientReference: old.ClientReference,
		CostCode: cmp.Or(body.CostCode, old.CostCode), RecutOf: &old.ID, RecutReason: body.Reason,
		With: func(_ context.Context, tx db.Tx, made db.Plan) error {
			return noteMade(c, tx, plansPath+made.ID.String())
		},
	})
	if err != nil {
		return lacking(err, "plan")
	}
	c.Response().Header().Set(echo.HeaderLocation, plansPath+made.ID.String())
	return p.settle(c, made.ID, wait)
}

// spoiled returns how many copies are to be cut again: those of the pieces named,
// or of those that the outcome named.
func (p plans) spoiled(ctx context.Context, old db.Plan, of int, named []SpoiledPiece) (int, error) {
	pieces := each(named, readSpoiled)
	if len(pieces) == 0 {
		a, err := ledger.Of(ctx, p.store.Queries, old.ID)
		if err != nil {
			return 0, err
		}
		if a != nil {
			if pieces, err = p.store.SpoiledPieces(ctx, a.ID); err != nil {
				return 0, err
			}
		}
	}
	var copies []int
	for _, s := range pieces {
		if s.Copy > of {
			return 0, unprocessable("pieces", "unknown_copy", "The plan has no copy of this number.", "Take the numbers from the layout's picture.")
		}
		if !slices.Contains(copies, s.Copy) {
			copies = append(copies, s.Copy)
		}
	}
	if len(copies) == 0 {
		return 0, unprocessable("pieces", "nothing_spoiled", "Nothing is said to be spoiled.", "Name the copies, or report them with the outcome.")
	}
	return len(copies), nil
}

// recut chooses what the copies are cut from.
func (p plans) recut(ctx context.Context, old db.Plan, r plan.Request, copies int) (request *plan.Request, err error) {
	data, err := queue.Workshop(ctx, p.store.Queries)
	if err != nil {
		return nil, err
	}
	book := ledger.Open(p.store)
	parent, err := book.CutFrom(ctx, r.Stock)
	if err != nil {
		return nil, err
	}
	offcuts, err := book.Offcuts(ctx, ledger.OffcutFilter{Stock: parent.ID})
	if err != nil {
		return nil, err
	}
	var offered []workshop.Stock
	for _, o := range offcuts {
		if o.Offered && o.Free > 0 {
			offered = append(offered, o.Stock)
		}
	}
	found, err := p.results(ctx, old.ID)
	if err != nil {
		return nil, err
	}
	all, err := found.one(ctx, p.list.Weeding.Row().Name)
	if err != nil {
		return nil, err
	}
	err = p.turns.inTurn(ctx, func() (err error) {
		request, err = jobs.Recut(ctx, data, r, copies, p.list.Weeding.In(all), offered, parent)
		return err
	})
	return request, err
}
