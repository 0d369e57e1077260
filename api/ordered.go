package api

import (
	"cmp"
	"errors"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

// orderedFor names the client that a plan will belong to, and refuses an order
// on what the caller may not use. A plan belongs to whom its drawing does: who
// manages may order one for another.
func (p plans) orderedFor(c echo.Context, o *order) (string, error) {
	who, ctx := callerOf(c), c.Request().Context()
	owner := who.owner
	if o.drawing == uuid.Nil && who.means == byCapability {
		return "", db.ErrSpent // it has its drawing
	}
	if o.drawing != uuid.Nil && (who.means == byToken || who.means == byCapability && o.drawing != who.drawing) {
		return "", lackingField("drawing_id", "drawing")
	}
	if o.drawing != uuid.Nil && clientOf(c) == db.AnyClient {
		stored, err := p.store.Drawing(ctx, db.AnyClient, o.drawing)
		if errors.Is(err, db.ErrNotFound) {
			return "", lackingField("drawing_id", "drawing")
		}
		if err != nil {
			return "", err
		}
		owner = stored.Client
	}
	if o.supersedes == nil {
		return owner, nil
	}
	_, err := p.store.PlanStanding(ctx, owner, *o.supersedes)
	if err == nil && who.means == byCapability {
		var ours bool
		if ours, err = p.store.PlanOfDrawing(ctx, *o.supersedes, who.drawing); err == nil && !ours {
			err = db.ErrNotFound
		}
	}
	if errors.Is(err, db.ErrNotFound) || err == nil && who.means == byToken {
		return "", lackingField("supersedes", "plan")
	}
	return owner, err
}

// withDefaults fills in what a course decided where the order says nothing. It
// counts as said.
func withDefaults(c plan.Choices, d db.Defaults) plan.Choices {
	if len(c.Films) == 0 { // which name their own
		c.Stock = cmp.Or(c.Stock, d.Stock)
	}
	c.Convention = cmp.Or(c.Convention, d.Convention)
	if c.Size == (plan.Size{}) {
		c.Size.Frame = d.Frame
	}
	return c
}

// spend binds the token of a request, where it came with one, to the drawing
// that its transaction makes.
func spend(c echo.Context, tx db.Tx, drawing uuid.UUID) error {
	who := callerOf(c)
	if who.means != byToken {
		return nil
	}
	return tx.SpendToken(c.Request().Context(), who.id, drawing)
}

// listedFor names the client whose plans a list shows: one that was asked for,
// as far as the caller may see it.
func listedFor(c echo.Context, asked string) string {
	seen := clientOf(c)
	switch {
	case asked == "" || asked == seen:
		return seen
	case seen == db.AnyClient:
		return asked
	}
	return "" // which no client is called
}
