package api

import (
	"github.com/labstack/echo/v4"

	"knifedesk/db"
)

// mostWork bounds how much is listed of what runs and waits.
const mostWork = 10_000

// ListWork answers GET /v1/work.
func (s service) ListWork(c echo.Context, params ListWorkParams) error {
	tasks, err := s.jobs.Tasks(c.Request().Context(), mostWork)
	if err != nil {
		return err
	}
	return sendPage(c, "work", tasks, turn{params.Limit, params.Cursor}, func(t db.Task) string { return t.Plan.String() + t.Stage }, showTask)
}

func showTask(t db.Task) Work {
	return Work{
		PlanID: t.Plan, Client: t.Client, Stage: t.Stage, Queue: WorkQueue(t.Queue), State: WorkState(t.State),
		Since: t.Since, Started: t.Started, EstimatedS: t.Cost, Heavy: t.Heavy, Awaited: t.Awaited, Plans: t.Plans, Position: t.Position,
	}
}
