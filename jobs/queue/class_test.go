package queue_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/geometry/budget"
	"knifedesk/jobs"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"

	"github.com/google/uuid"
)

// sharedBy has fake jobs share loads: three jobs over the weeding jobs of the members, as
// the true ones are.
func sharedBy(f *fakes) ([]*jobs.Row, *queue.Sharing) {
	rows := f.stages()
	nothing := func(*plan.Request) any { return nil }
	weeding := jobs.Define0(jobs.Row{Name: "weeding", Revision: 1}, nothing, func(context.Context, any) (*said, error) { return nil, nil })
	all := jobs.DefineAll(jobs.Row{Name: "share", Revision: 1}, weeding, nothing, func(ctx context.Context, q any, members []*said) (*said, error) {
		return f.run(ctx, "share", q, members...)
	}).Shows(func(s *said) (d view.Digest) {
		if loads, laid := strings.CutPrefix(s.Word, "laid "); laid {
			d.Layout = &view.Layout{Loads: strings.Count(loads, "|")}
		}
		return d
	})
	ordered := jobs.Define1(jobs.Row{Name: "share_passes", Revision: 1}, all, nothing, func(ctx context.Context, q any, a *said) (*said, error) {
		return f.run(ctx, "share_passes", q, a)
	})
	shared := []*jobs.Row{all.Row(), ordered.Row()}
	return rows, &queue.Sharing{
		Rows: shared, From: "weeding",
		Nodes: func(common *plan.Request, members []jobs.Sharer) ([]jobs.Node, error) {
			var maps []jobs.Key
			for _, m := range members {
				maps = append(maps, m.Map)
			}
			first, err := jobs.NewNode(shared[0], common, jobs.Sum{}, maps...)
			if err != nil {
				return nil, err
			}
			second, err := jobs.NewNode(shared[1], common, jobs.Sum{}, first.Key)
			return []jobs.Node{first, second}, err
		},
		Digest: func(_ *plan.Request, all jobs.Results) *class.Group {
			return &class.Group{Loads: []class.GroupLoad{{Number: 1}}}
		},
	}
}

// together begins a set with members (reference, drawing, …) and returns its id.
func together(t *testing.T, q *queue.Queue, members ...string) uuid.UUID {
	t.Helper()
	var all []queue.SubmitParams
	for i := 0; i < len(members); i += 2 {
		all = append(all, queue.SubmitParams{Client: "ann", ClientReference: members[i], Name: members[i] + ".svg", File: []byte(members[i+1]), Request: request(1)})
	}
	id, err := q.AddClassSet(t.Context(), db.ClassSet{Client: "ann", Terms: []byte(`{}`)}, nil, all, func(db.Tx, uuid.UUID) error { return nil })
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// rested waits until nothing of a set is worked out, and returns how it stands.
func rested(t *testing.T, q *queue.Queue, id uuid.UUID) *queue.ClassView {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	if err := q.WaitClassSet(ctx, id); err != nil {
		t.Fatal(err)
	}
	v, err := q.ClassSet(ctx, "ann", id)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A worker hands in the first of what members share, which took its time, while their set
// is erased: nothing of it stays. A pause in the database makes sure that the one meets
// the other.
func TestErasingASetWhileItsLoadsComeIn(t *testing.T) {
	rows, sharing := sharedBy(&fakes{during: func(_ context.Context, stage string) {
		if stage == "share" {
			time.Sleep(100 * time.Millisecond)
		}
	}})
	store := db.From(dbtest.New(t))
	run(t, store, `create function held_up() returns trigger language plpgsql as 'begin perform pg_sleep(0.7); return new; end'`)
	run(t, store, `create trigger held_up after insert on results for each row when (new.stage = 'share') execute function held_up()`)
	cfg := quick()
	cfg.Sharing = sharing
	q := startOn(t, store, rows, cfg)
	id := together(t, q, "ada", "plain 1", "ben", "plain 2")
	await(t, "the loads to come in", func() bool {
		var asleep bool
		err := store.Pool.QueryRow(t.Context(), `select exists (select from pg_stat_activity where datname = current_database() and wait_event = 'PgSleep')`).Scan(&asleep)
		return err == nil && asleep
	})
	if err := q.EraseClassSet(t.Context(), "ann", id); err != nil {
		t.Fatal(err)
	}
	await(t, "the worker to end", func() bool {
		return count(t, store, "work") == 0 && count(t, store, "river_job where state = 'running'") == 0
	})
	if n := count(t, store, "results"); n > 0 {
		var stages []string
		_ = store.Pool.QueryRow(t.Context(), `select array_agg(stage) from results`).Scan(&stages)
		t.Errorf("results of an erased set are left: %v", stages)
	}
}

func count(t *testing.T, store *db.DB, what string) (n int) {
	t.Helper()
	if err := store.Pool.QueryRow(t.Context(), "select count(*) from "+what).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// A worker is killed while it computes what the members of a set share: another does it
// again, and nothing of the members.
func TestWorkerKilledAtASharedRoot(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	f := &fakes{}
	rows, sharing := sharedBy(f)
	idle := queue.Config{Sharing: sharing}
	waits := startOn(t, store, rows, idle)
	dying := play(t, partShared, dbtest.URL(pool))
	id := together(t, waits, "ada", "plain 1", "ben", "plain 2")
	await(t, "the shared root to be worked on", func() bool { return count(t, store, "work where stage = 'share' and attempt > 0") > 0 })
	if v, err := waits.ClassSet(t.Context(), "ann", id); err != nil || !v.Moves || len(v.Loads) > 0 {
		t.Fatalf("the set is at rest with %d loads, %v", len(v.Loads), err)
	}
	kill(dying)
	cfg := quick()
	cfg.Sharing = sharing
	q := startOn(t, store, rows, cfg)
	v := rested(t, q, id)
	if len(v.Loads) != 1 || len(v.Groups) != 1 || v.Groups[0].Status != "ready" {
		t.Errorf("%d loads, groups %+v", len(v.Loads), v.Groups)
	}
	if runs := f.ran(); fmt.Sprint(runs) != "map[share:1 share_passes:1]" {
		t.Errorf("runs after the kill: %v", runs)
	}
	if left := count(t, store, "class_waiters") + count(t, store, "work"); left > 0 {
		t.Errorf("%d rows of work are left", left)
	}
}

// Where a member fits on no sheet the loads of the others go on to their passes; where none
// fits there is no load, and what members share is ready without passes.
func TestNothingFollowsFromNoLoad(t *testing.T) {
	f := &fakes{}
	rows, sharing := sharedBy(f)
	cfg := quick()
	cfg.Sharing = sharing
	q := startOn(t, db.From(dbtest.New(t)), rows, cfg)
	passes := 0
	for _, c := range []struct {
		drawing string // a stroke for each load
		follows int
	}{{"laid ", 0}, {"laid |", 1}, {"laid ||", 1}} {
		v := rested(t, q, together(t, q, "ada", c.drawing))
		passes += c.follows
		if len(v.Groups) != 1 || v.Groups[0].Status != "ready" || f.sofar("share_passes") != passes {
			t.Errorf("%q: groups %+v, passes looked for %d times so far, want %d", c.drawing, v.Groups[0], f.sofar("share_passes"), passes)
		}
	}
}

// Members of one set that come in any order, alone or together, share loads under one key.
func TestOrderOfArrivalMakesNoKey(t *testing.T) {
	rows, sharing := sharedBy(&fakes{})
	cfg := quick()
	cfg.Sharing = sharing
	store := db.From(dbtest.New(t))
	q := startOn(t, store, rows, cfg)
	var keys []string
	for _, order := range []string{"ada ben cy", "cy ada ben", "ben cy ada"} {
		id := together(t, q)
		for i, name := range strings.Fields(order) {
			p := queue.SubmitParams{Client: "ann", ClientReference: name, Name: name + ".svg", File: []byte("plain " + name), Request: request(1)}
			if err := q.AddMembers(t.Context(), "ann", id, []queue.SubmitParams{p}, func(db.Tx) error { return nil }); err != nil {
				t.Fatal(err)
			}
			if i == 1 { // the last joins what is laid
				rested(t, q, id)
			}
		}
		v := rested(t, q, id)
		if len(v.Groups) != 1 || len(v.Members) != 3 || v.Members[0].Code != "01" || v.Members[2].Code != "03" {
			t.Fatalf("%s: %+v", order, v.Groups)
		}
		keys = append(keys, strings.Join(v.Groups[0].Keys, " "))
	}
	if len(slices.Compact(keys)) != 1 {
		t.Errorf("keys by the order of arrival: %v", keys)
	}
}

// How far the loads of a set have come is shown while they are worked out, and is gone
// when they are there.
func TestSetShowsHowFarItsLoadsAre(t *testing.T) {
	enough := make(chan struct{})
	rows, sharing := sharedBy(&fakes{during: func(ctx context.Context, stage string) {
		if stage == "share" {
			_ = budget.Run(ctx, func(b *budget.Budget) { b.Tell(0.5) })
			<-enough
		}
	}})
	cfg := quick()
	cfg.Sharing = sharing
	q := startOn(t, db.From(dbtest.New(t)), rows, cfg)
	id := together(t, q, "ada", "plain 1", "ben", "plain 2")
	await(t, "a half to be shown", func() bool {
		v, err := q.ClassSet(t.Context(), "ann", id)
		return err == nil && v.Moves && v.Share == 0.5
	})
	close(enough)
	if v := rested(t, q, id); v.Share != 0 || len(v.Loads) != 1 || v.Groups[0].ClassGroup.Share != nil {
		t.Errorf("at rest it is %g, %+v", v.Share, v.Groups[0])
	}
}
