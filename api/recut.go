package api

import (
	"cmp"
	"context"
	"errors"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/layout"
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
	spoiled, err := p.spoiled(ctx, old, body)
	if err != nil {
		return err
	}
	request, err := p.recut(ctx, old, *asked, spoiled)
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
	return p.settle(c, made.ID, made.Status, wait)
}

// spoiled returns what is to be cut again: the pieces named, by their own numbers or those
// on a load, or those that the outcome named.
func (p plans) spoiled(ctx context.Context, old db.Plan, body RecutRequest) ([]jobs.Spoiled, error) {
	switch {
	case len(body.Regions) > 0 && len(body.Pieces) > 0:
		return nil, unprocessable("regions", "invalid_field", "Pieces are named in two ways.", "Name all of them by copy and piece, or all of them by load and region.")
	case len(body.Regions) > 0:
		return classSets{p}.onLoads(ctx, old, body.Regions)
	}
	pieces := each(body.Pieces, readSpoiled)
	if len(pieces) == 0 {
		a, err := ledger.Of(ctx, p.store.Queries, old.ID)
		if err != nil {
			return nil, err
		}
		if a != nil {
			if pieces, err = p.store.SpoiledPieces(ctx, a.ID); err != nil {
				return nil, err
			}
		}
	}
	if len(pieces) == 0 {
		return nil, unprocessable("pieces", "nothing_spoiled", "Nothing is said to be spoiled.", "Name the copies, or report them with the outcome.")
	}
	return each(pieces, func(s db.SpoiledPiece) jobs.Spoiled { return jobs.Spoiled{Copy: s.Copy, Piece: s.Piece} }), nil
}

// unspoiled says of which copy or piece the plan knows nothing.
func unspoiled(err error) error {
	var unknown *jobs.SpoiledError
	switch {
	case !errors.As(err, &unknown):
		return err
	case unknown.NoPiece:
		return unprocessable("pieces", "unknown_piece", "The plan keeps no piece of this number.", "Take the numbers of what stays from the weeding map, or leave the piece out for the whole copy.")
	}
	return unprocessable("pieces", "unknown_copy", "The plan has no copy of this number.", "Take the numbers from the layout's picture.")
}

// recut chooses what the spoiled pieces are cut from.
func (p plans) recut(ctx context.Context, old db.Plan, r plan.Request, spoiled []jobs.Spoiled) (request *plan.Request, err error) {
	data, err := p.kept.Data(ctx)
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
	m, err := mapOf(ctx, p, old)
	if err != nil {
		return nil, err
	}
	err = p.turns.inTurn(ctx, func() (err error) {
		request, err = jobs.Recut(ctx, data, r, spoiled, m, offered, parent)
		return err
	})
	return request, unspoiled(err)
}

func showAgain(a layout.Again) RecutPiece { return RecutPiece{Piece: a.Piece, Copies: a.Copies} }
