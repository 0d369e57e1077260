package api

import (
	"context"
	"encoding/json"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/view"
)

// results are those that a plan had when it was asked: they are read by their
// keys, so that what is made of them fits the keys also where the plan moves on
// meanwhile.
type results struct {
	store  *db.DB
	stages []string          // that are done, in their order
	keys   map[string]string // by stage
}

// results returns which results a plan has by now.
func (t *tools) results(ctx context.Context, p db.Plan) (results, error) {
	out := results{store: t.store, keys: map[string]string{}}
	all, err := t.store.Stages(ctx, p.ID)
	for _, s := range all {
		if s.State == db.StageDone {
			out.stages = append(out.stages, s.Stage)
			out.keys[s.Stage] = s.Key
		}
	}
	return out, err
}

// sum names all of the results, for a cache.
func (r results) sum() string {
	var keys []string
	for _, stage := range r.stages {
		keys = append(keys, r.keys[stage])
	}
	return cacheKey(keys...)
}

// has says whether the stage is done.
func (r results) has(stage string) bool { return slices.Contains(r.stages, stage) }

// load reads results as they are stored.
func (r results) load(ctx context.Context, stages ...string) (map[string]json.RawMessage, error) {
	out := map[string]json.RawMessage{}
	for _, stage := range stages {
		one, err := r.store.Result(ctx, r.keys[stage])
		if err != nil {
			return nil, err
		}
		out[stage] = one.Body
	}
	return out, nil
}

// view reads and decodes all of the results.
func (r results) view(ctx context.Context) (*view.View, error) {
	bodies, err := r.load(ctx, r.stages...)
	if err != nil {
		return nil, err
	}
	return view.Decode(bodies)
}
