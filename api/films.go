package api

import (
	"context"
	"errors"
	"fmt"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
)

// filmsOf returns what is submitted for an order: one plan, or one for each film of a
// layered work, which then know each other.
func filmsOf(ctx context.Context, t *tools, o *order) ([]queue.SubmitParams, error) {
	data, err := t.kept.Data(ctx)
	if err != nil {
		return nil, err
	}
	var all []queue.SubmitParams
	var ids []string
	for _, choices := range jobs.Layered(data, o.choices) {
		req, err := t.list.Choose(data, choices)
		if err != nil {
			return nil, err
		}
		if err := t.stand(ctx, req); err != nil {
			return nil, err
		}
		id := uuid.New()
		all, ids = append(all, queue.SubmitParams{ID: id, Request: *req}), append(ids, id.String())
	}
	if len(all) == 1 {
		return all, nil
	}
	for i := range all {
		all[i].Request.FilmPlans = ids
	}
	return all, nil
}

// priceFilms looks up how the plans of the other films of a layered work stand, and what all
// take together: they are one order. It returns their versions, "" for a work of one film.
func priceFilms(p plans, c echo.Context, v *queue.PlanView) (versions string, err error) {
	s := v.Plan.Stack
	if s == nil {
		return "", nil
	}
	all := make([]view.FilmPlan, len(s.Films))
	for i, f := range s.Films {
		other := v
		if f.Plan != v.ID.String() {
			id, err := uuid.Parse(f.Plan)
			if err != nil { // the film was asked for alone
				continue
			}
			other, err = p.jobs.View(c.Request().Context(), clientOf(c), id)
			if errors.Is(err, db.ErrNotFound) {
				continue
			}
			if err != nil {
				return "", err
			}
			versions += fmt.Sprintf("-%d", other.Version)
		}
		all[i] = view.FilmPlan{Status: plan.Status(other.Status), Estimate: other.Plan.Estimate}
	}
	v.Plan.Stack = s.Priced(all)
	return versions, nil
}
