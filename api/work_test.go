package api_test

import (
	"net/http"
	"testing"

	"knifedesk/api"
)

// Who manages sees what waits of all clients, whose it is and for how many plans.
func TestWorkIsListed(t *testing.T) {
	g, print, paint := openIdle(t, api.Config{})
	first := g.queuedPlan(t, print)
	if _, err := g.store.Pool.Exec(t.Context(), `insert into used (client, seconds) values ('print', 5)`); err != nil {
		t.Fatal(err)
	}
	second := g.queuedPlan(t, paint)
	g.as(t, print, http.MethodGet, "/v1/work", "").wants(t, "the work", http.StatusForbidden, "scope_missing")
	var listed struct{ Work []api.Work }
	g.as(t, g.staff(t), http.MethodGet, "/v1/work", "").json(t, &listed)
	// Both ask for the same, so that it is computed once, for the first who asked and
	// on the account of who has had less.
	if len(listed.Work) != 1 {
		t.Fatalf("%+v", listed.Work)
	}
	w := listed.Work[0]
	if w.PlanID != first.ID || w.Client != "paint" || w.Plans != 2 || w.Stage != "read" || w.State != api.WorkStateWaiting || w.Position != 1 || w.Queue != api.WorkQueueBatch || w.Awaited {
		t.Errorf("%+v of %s and %s", w, first.ID, second.ID)
	}
	third := g.as(t, paint, http.MethodDelete, second.Links["self"], "")
	third.wants(t, "cancelling", http.StatusOK, "")
	g.as(t, g.staff(t), http.MethodGet, "/v1/work", "").json(t, &listed)
	if len(listed.Work) != 1 || listed.Work[0].Plans != 1 {
		t.Errorf("after one was cancelled: %+v", listed.Work)
	}
}
