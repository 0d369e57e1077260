package queue_test

import (
	"encoding/json"
	"strings"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/db/migrations"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/size"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
)

// beforeGraph is the version of the schema before all keys of a plan were known
// at once and questions were named by the job that asks.
const beforeGraph = 7

// migrateTo brings the schema to a version.
func migrateTo(t *testing.T, pool *pgxpool.Pool, version int64) {
	t.Helper()
	std := stdlib.OpenDBFromPool(pool)
	defer std.Close()
	steps, err := goose.NewProvider(goose.DialectPostgres, std, migrations.Files)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := steps.DownTo(t.Context(), version); err != nil {
		t.Fatal(err)
	}
}

// A sign with a fold, which on film is asked about.
const foldedSign = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60" fill="none">
<g id="CUT" stroke="#007c91" stroke-width="0.1"><path d="M10 10H70V50H10Z"/></g>
<g id="FOLD" stroke="#7a3eb1" stroke-width="0.1"><path d="M10 30H70"/></g></svg>`

// older is a database as a program left it before beforeGraph: a plan that is
// ready after an answer, and one that asks.
type older struct {
	ready, asking uuid.UUID
	done          []local.Done // of the one that is ready
}

func leaveOlder(t *testing.T, store *db.DB) (o older) {
	t.Helper()
	list := jobs.NewList()
	drawing, err := store.AddDrawing(t.Context(), "ann", "sign.svg", []byte(foldedSign))
	if err != nil {
		t.Fatal(err)
	}
	put := func(status string, replies ask.Replies) (uuid.UUID, []local.Done) {
		request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}, Replies: replies})
		if err != nil {
			t.Fatal(err)
		}
		done, now, err := local.Run(t.Context(), list.Rows, []byte(foldedSign), request)
		if err != nil || string(now) != status {
			t.Fatalf("%s, %v", now, err)
		}
		text, err := json.Marshal(request)
		if err != nil {
			t.Fatal(err)
		}
		var id uuid.UUID
		err = store.Pool.QueryRow(t.Context(), `insert into plans (client, drawing, request, status, queue, revision)
			values ('ann', $1, $2::text::json, $3, 'batch', 2) returning id`, drawing.ID, oldIDs(string(text)), status).Scan(&id)
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range list.Rows {
			if i >= len(done) {
				run(t, store, `insert into plan_stages (plan, stage, place, state) values ($1, $2, $3, 'waiting')`, id, row.Name, i)
				continue
			}
			key := "old key " + row.Name + " " + status
			outcome, err := json.Marshal(jobs.OutcomeOf(done[i].Result))
			if err != nil {
				t.Fatal(err)
			}
			run(t, store, `insert into plan_stages (plan, stage, place, key, state) values ($1, $2, $3, $4, 'done')`, id, row.Name, i, key)
			run(t, store, `insert into results (key, stage, body, sum, outcome, seconds) values ($1, $2, $3, sha256($3), $4::text::json, 1)`,
				key, row.Name, []byte(oldIDs(string(done[i].Body))), oldIDs(string(outcome)))
		}
		return id, done
	}
	o.asking, _ = put("asking", nil)
	o.ready, o.done = put("ready", ask.Replies{"artwork/operation:score": {Answer: "nothing"}})
	run(t, store, `insert into replies (plan, revision, question, asked, answer, author)
		values ($1, 2, 'operation:score', '{"id":"operation:score","code":"operation_unsupported","answers":[{"id":"nothing"},{"id":"cut"}]}', 'nothing', 'ann')`, o.ready)
	return o
}

// oldIDs names questions as they were named then.
func oldIDs(text string) string {
	return strings.ReplaceAll(text, artwork.Name+"/operation", "operation")
}

func run(t *testing.T, store *db.DB, sql string, args ...any) {
	t.Helper()
	if _, err := store.Pool.Exec(t.Context(), sql, args...); err != nil {
		t.Fatal(err)
	}
}

// Plans and answers that an older program left go on working.
func TestWhatAnOlderProgramLeft(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	migrateTo(t, pool, beforeGraph)
	o := leaveOlder(t, store)
	if err := store.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	list := jobs.NewList()
	q := startOn(t, store, list.Rows, quick())

	// What was ready is shown as it was, from the results that are there.
	v, err := q.View(t.Context(), "ann", o.ready)
	if err != nil {
		t.Fatal(err)
	}
	want := view.OfSize(list.Size.In(local.Results(o.done))).Size
	if v.Status != "ready" || v.Plan.Size == nil || *v.Plan.Size != *want || v.Plan.Estimate == nil || v.Plan.Loads != 1 || !v.Plan.Has(weeding.Name) {
		t.Errorf("%s: %+v", v.Status, v.Plan)
	}
	if r, ok := v.Plan.Answers["artwork/operation:score"]; !ok || r.Answer != "nothing" {
		t.Errorf("answers %v", v.Plan.Answers)
	}
	keys, err := store.PlanKeys(t.Context(), o.ready)
	if err != nil || len(keys) != len(list.Rows) {
		t.Fatalf("keys %v, %v", keys, err)
	}
	results, err := q.Results(t.Context(), map[string]string{size.Name: keys[size.Name]})
	if err != nil || list.Size.In(results) == nil {
		t.Errorf("results %v, %v", results, err)
	}

	// What asked asks again, by the name that the question has now.
	asking := settled(t, q, queue.Plan{Plan: db.Plan{ID: o.asking, Client: "ann"}})
	if asking.Status != plan.Asking {
		t.Fatalf("asking plan is %s", asking.Status)
	}
	p, err := q.Answer(t.Context(), "ann", o.asking, queue.Reply{Question: "artwork/operation:score", Answer: "nothing", Author: "ann"})
	if err != nil {
		t.Fatal(err)
	}
	p = settled(t, q, p)
	matchesLocal(t, store, p, list.Rows, foldedSign)

	// An answer of then can be changed and taken back.
	changed, err := q.Answer(t.Context(), "ann", o.ready, queue.Reply{Question: "artwork/operation:score", Answer: "cut", Author: "ann"})
	if err != nil {
		t.Fatal(err)
	}
	matchesLocal(t, store, settled(t, q, changed), list.Rows, foldedSign)
	if _, err := q.TakeBack(t.Context(), "ann", o.ready, "artwork/operation:score", "ann"); err != nil {
		t.Fatal(err)
	}
	nothingLeft(t, store)
}
