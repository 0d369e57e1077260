package api

import (
	"cmp"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue/ledger"
)

// storeroom answers what is asked of the stores.
type storeroom struct {
	*tools
	book ledger.Book
}

const acceptancePart = "/acceptance"

// acceptances answers what is asked of those of all plans.
type acceptances struct{ *tools }

// ListAcceptances answers GET /v1/acceptances.
func (s acceptances) ListAcceptances(c echo.Context, params ListAcceptancesParams) error {
	limit := cmp.Or(params.Limit, mostListed)
	f := db.AcceptanceFilter{
		Client: listedFor(c, params.Owner), ClientReference: plan.Reference(params.ClientReference), BookingReference: params.BookingReference,
		State: string(params.State), Limit: limit + 1,
	}
	var err error
	if f.Before, err = readBefore(params.Cursor); err != nil {
		return err
	}
	rows, err := s.store.AcceptanceHeads(c.Request().Context(), f)
	if err != nil {
		return err
	}
	return sendNewest(c, "acceptances", rows, limit, showAcceptanceHead, func(a db.AcceptanceHead) db.Cursor { return db.Cursor{Created: a.Created, ID: a.ID} })
}

// GetAcceptance answers GET /v1/plans/{plan_id}/acceptance.
func (s storeroom) GetAcceptance(c echo.Context, id PlanID) error {
	a, err := s.acceptance(c, id)
	if err != nil {
		return err
	}
	return sendJSON(c, a)
}

func (s storeroom) acceptance(c echo.Context, id PlanID) (*Acceptance, error) {
	a, err := s.book.Acceptance(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return nil, lacking(err, "plan")
	}
	if a == nil {
		return nil, notFound("acceptance")
	}
	return ptr(showAcceptance(*a)), nil
}

// AcceptPlan answers POST /v1/plans/{plan_id}/acceptance.
func (s storeroom) AcceptPlan(c echo.Context, id PlanID, _ AcceptPlanParams) error {
	var body AcceptanceRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	ctx, location := c.Request().Context(), plansPath+id.String()+acceptancePart
	if _, err := s.jobs.View(ctx, clientOf(c), id); err != nil { // which gathers one that an older program left without
		return lacking(err, "plan")
	}
	booking := ledger.Booking{Reference: body.BookingReference, Ends: body.BookingEnds, CostCode: body.CostCode}
	a, fresh, err := s.book.Accept(ctx, clientOf(c), id, booking, func(tx db.Tx) error { return noteMade(c, tx, location) })
	if err != nil {
		return lacking(err, "plan")
	}
	status := http.StatusOK
	if fresh {
		status = http.StatusCreated
		c.Response().Header().Set(echo.HeaderLocation, location)
	}
	return c.JSON(status, showAcceptance(*a))
}

// acceptedAgain answers as AcceptPlan did for the request that made what is at
// the location.
func (s storeroom) acceptedAgain(c echo.Context, id PlanID, location string) error {
	a, err := s.acceptance(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderLocation, location)
	return c.JSON(http.StatusCreated, a)
}

// FreePlan answers DELETE /v1/plans/{plan_id}/acceptance.
func (s storeroom) FreePlan(c echo.Context, id PlanID) error {
	if err := s.book.Free(c.Request().Context(), clientOf(c), id); err != nil {
		return lacking(err, "plan")
	}
	return c.NoContent(http.StatusNoContent)
}
