package api

import (
	"context"

	"github.com/google/uuid"

	"knifedesk/jobs"
	"knifedesk/jobs/queue"
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
