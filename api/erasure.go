package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

// ErasePlans answers DELETE /v1/plans. Who manages names whose things go; others
// erase their own.
func (p plans) ErasePlans(c echo.Context, params ErasePlansParams) error {
	if params.Owner == "" && params.ClientReference == "" {
		return unprocessable("client_reference", "nothing_named", "It is not said what is to be erased.", "Name the owner, the client_reference, or both.")
	}
	gone, err := p.jobs.EraseAll(c.Request().Context(), db.Erasable{Client: listedFor(c, params.Owner), Reference: plan.Reference(params.ClientReference)}, params.DryRun)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, Erasure{
		DryRun: params.DryRun, ClassSets: gone.ClassSets, Plans: gone.Plans, Drawings: gone.Drawings, Results: int(gone.Results), Kept: gone.Kept,
	})
}
