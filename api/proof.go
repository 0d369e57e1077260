package api

import (
	"bytes"
	"context"
	"errors"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/size"
	"knifedesk/jobs/view/proof"
)

// GetPlanProof answers GET /v1/plans/{plan_id}/proof.pdf.
func (p parts) GetPlanProof(c echo.Context, id PlanID, params GetPlanProofParams) error {
	found, err := p.find(c, id)
	if err != nil {
		return err
	}
	if !found.has(size.Name) {
		return notYet("proof")
	}
	paper := proof.A4()
	if params.Paper == "Letter" {
		paper = proof.Letter()
	}
	return p.sendMade(c, cacheKey("proof", found.sum(), params.Paper), func(ctx context.Context) (content, error) {
		r, err := found.shown(ctx)
		if err != nil {
			return content{}, err
		}
		var b bytes.Buffer
		err = p.turns.inTurn(ctx, func() error { return proof.Write(ctx, &b, r, paper) })
		if errors.Is(err, proof.ErrTooLarge) {
			return content{}, unprocessable("", "proof_too_large", "On paper the work takes more than 120 sheets.", "Look at the picture of the size instead.")
		}
		return newContent("application/pdf", b.Bytes()), err
	})
}
