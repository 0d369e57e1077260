package api

import (
	"context"
	"maps"
	"slices"

	"github.com/google/uuid"

	"knifedesk/jobs"
	"knifedesk/jobs/view"
)

// results are those that a plan had when it was asked: they are read by their
// keys, so that what is made of them fits the keys also where the plan moves on
// meanwhile.
type results struct {
	*tools
	keys map[string]string // by the name of the job
}

// results returns which results a plan has by now.
func (t *tools) results(ctx context.Context, plan uuid.UUID) (results, error) {
	keys, err := t.store.PlanKeys(ctx, plan)
	return results{t, keys}, err
}

// sum names all of the results, for a cache.
func (r results) sum() string {
	var sum []string
	for _, name := range slices.Sorted(maps.Keys(r.keys)) {
		sum = append(sum, r.keys[name])
	}
	return cacheKey(sum...)
}

// has says whether the result of a job is there.
func (r results) has(name string) bool { return r.keys[name] != "" }

// one reads the result of one job.
func (r results) one(ctx context.Context, name string) (jobs.Results, error) {
	return r.jobs.Results(ctx, map[string]string{name: r.keys[name]})
}

// shown reads all of the results.
func (r results) shown(ctx context.Context) (*view.Results, error) {
	all, err := r.jobs.Results(ctx, r.keys)
	if err != nil {
		return nil, err
	}
	return r.list.Shown(all), nil
}
