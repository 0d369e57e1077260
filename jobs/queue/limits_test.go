package queue_test

import (
	"encoding/json"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// beforeLimits is the version of the schema of workshops that hold the limits with
// which every family once started.
const beforeLimits = 8

// A workshop that was set up before gets the limits of its materials and the least
// holes of its blades, but for what somebody has edited or withdrawn; and why
// something was let pass stands beside the answer.
func TestLimitsOfOlderWorkshops(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	migrateTo(t, pool, beforeLimits)
	families := []workshop.Family{
		workshop.Paper, workshop.LightCard, workshop.HeavyCard, workshop.RemovableFilm, workshop.PermanentFilm, workshop.CastFilm,
		workshop.HeatFilm, workshop.StencilFilm, workshop.StencilSheet, workshop.MagneticSheet, workshop.BlastingMask,
	}
	put := func(table, id string, version int, doc any, withdrawn bool) {
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		run(t, store, `insert into `+table+` (id, version, doc, withdrawn) values ($1, $2, $3::text::json, $4)`, id, version, string(text), withdrawn)
	}
	older := func(f workshop.Family) workshop.Stock {
		s := workshop.Stock{ID: string(f), Family: f, Limits: workshop.DefaultLimits()}
		if now := workshop.LimitsOf(f); now.BridgeMM == 1.5 {
			s.Limits.BridgeMM = 1.5
		}
		return s
	}
	for _, f := range families {
		put("stocks", string(f), 1, older(f), false)
	}
	edited := older(workshop.HeavyCard)
	edited.ID, edited.Limits.StrokeEasyMM = "edited", 1.6
	put("stocks", "edited", 1, older(workshop.HeavyCard), false)
	put("stocks", "edited", 2, edited, false)
	put("stocks", "gone", 1, older(workshop.HeavyCard), true)
	machine := workshop.Example().Machines[0]
	machine.Blade.HoleMM, machine.Blades[0].HoleMM = 0, 0
	machine.Blades = append(machine.Blades, workshop.Blade{ID: "own", AngleDeg: 60, OffsetMM: 0.5, HoleMM: 9}, workshop.Blade{ID: "other", AngleDeg: 30, OffsetMM: 0.4})
	put("machines", machine.ID, 1, machine, false)
	o := leaveReply(t, store)

	if err := store.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	data, err := queue.Workshop(t.Context(), store.Queries)
	if err != nil || len(data.Stocks) != len(families)+1 {
		t.Fatalf("%d stocks, %v", len(data.Stocks), err)
	}
	for _, s := range data.Stocks {
		want := workshop.LimitsOf(s.Family)
		if s.ID == edited.ID {
			want = edited.Limits
		}
		if s.Limits != want {
			t.Errorf("%s: %+v, want %+v", s.ID, s.Limits, want)
		}
	}
	m, _ := data.Machine(machine.ID)
	var holes []float64
	for _, b := range append([]workshop.Blade{m.Blade}, m.Blades...) {
		holes = append(holes, b.HoleMM)
	}
	if len(holes) != 4 || holes[0] != 3 || holes[1] != 5 || holes[2] != 9 || holes[3] != 0 || m.WidthMM != machine.WidthMM {
		t.Errorf("holes %v of %+v", holes, m)
	}
	history, err := store.Replies(t.Context(), o)
	if err != nil || len(history) != 1 || history[0].Reason != "for a trial" {
		t.Errorf("%+v, %v", history, err)
	}
}

// leaveReply leaves a plan with an answer that has a reason, as it was kept before.
func leaveReply(t *testing.T, store *db.DB) (id uuid.UUID) {
	t.Helper()
	drawing, err := store.AddDrawing(t.Context(), "ann", "sign.svg", []byte(foldedSign))
	if err != nil {
		t.Fatal(err)
	}
	const request = `{"replies":{"weeding/below_limit":{"answer":"waive","reason":"for a trial"}}}`
	err = store.Pool.QueryRow(t.Context(), `insert into plans (client, drawing, request, status, queue, revision)
		values ('ann', $1, $2::text::json, 'refused', 'batch', 2) returning id`, drawing.ID, request).Scan(&id)
	if err != nil {
		t.Fatal(err)
	}
	run(t, store, `insert into replies (plan, revision, question, asked, answer, author)
		values ($1, 2, 'weeding/below_limit', '{"id":"weeding/below_limit"}', 'waive', 'ann')`, id)
	return id
}
