package db_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

// How stages stand, of one plan: what was done before keeps its time and whether it was
// found; what is done now ends now, and was found where nobody computed it for this plan;
// the next one is queued, or worked on since its start; the others wait. Its stages
// cleared, their keys are known as former ones. A plan with the same keys is left alone.
func TestStagesStand(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	mine, other := addPlan(t, store, "ann", ""), addPlan(t, store, "ann", "")
	early := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	stages := func(id uuid.UUID) (told []string) {
		t.Helper()
		list, err := store.Stages(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range list {
			line := s.Stage + " " + s.State
			if s.Reused {
				line += ", found"
			}
			for i, at := range []*time.Time{s.Started, s.Ended} {
				if at != nil {
					line += []string{", begun ", ", ended "}[i] + map[bool]string{true: "early", false: "now"}[at.Equal(early)]
				}
			}
			told = append(told, line)
		}
		return told
	}
	for _, p := range []db.Plan{mine, other} {
		if err := store.AddStages(ctx, p.ID, []db.PlanStage{
			{Stage: "read", Key: "a", State: "done", Reused: true}, {Stage: "size", Key: "b", State: "working", Started: &early},
			{Stage: "artwork", Key: "c", State: "waiting"}, {Stage: "weeding", Key: "d", State: "waiting"}, {Stage: "layout", Key: "e", State: "queued"},
		}); err != nil {
			t.Fatal(err)
		}
	}
	b.run(`update plan_stages set ended = $1 where ended is not null`, early)
	before := []string{"read done, found, ended early", "size working, begun early", "artwork waiting", "weeding waiting", "layout queued"}
	if diff := cmp.Diff(before, stages(mine.ID)); diff != "" {
		t.Errorf("at first:\n%s", diff)
	}
	for _, c := range []struct {
		next          string
		started       *time.Time
		weeding, last string
	}{
		{"d", nil, "weeding queued", "layout waiting"},
		{"d", &early, "weeding working, begun early", "layout waiting"},
		{"", nil, "weeding waiting", "layout waiting"},
	} {
		if err := store.StagesStand(ctx, mine.ID, []string{"a", "b", "c"}, []string{"b", "x"}, c.next, c.started); err != nil {
			t.Fatal(err)
		}
		// The start of size was early and stays; artwork was found, so that nobody began it.
		want := []string{"read done, found, ended early", "size done, begun early, ended now", "artwork done, found, ended now", c.weeding, c.last}
		if diff := cmp.Diff(want, stages(mine.ID)); diff != "" {
			t.Errorf("next %q, started %v:\n%s", c.next, c.started, diff)
		}
	}
	b.run(`update plan_stages set key = null where plan = $1 and stage = 'layout'`, mine.ID)
	if err := store.ClearStages(ctx, mine.ID); err != nil {
		t.Fatal(err)
	}
	if got := stages(mine.ID); len(got) != 0 {
		t.Errorf("cleared, %v are left", got)
	}
	if diff := cmp.Diff(before, stages(other.ID)); diff != "" {
		t.Errorf("those of another plan:\n%s", diff)
	}
	if n, all := b.count(`select count(*) from former_keys where plan = $1 and key in ('a', 'b', 'c', 'd')`, mine.ID), b.count(`select count(*) from former_keys`); n != 4 || all != 4 {
		t.Errorf("%d former keys are the plan's, of %d, want the four that were known", n, all)
	}
}

// What the sweep drives on are plans that should move, by a list of jobs that this program
// knows, and that wait for nothing; and the sets of groups of which that is true, unless
// somebody is to look at them already.
func TestWhatIsIdle(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	b.span("a", "ann", 1, true, 0)
	var plans []uuid.UUID
	for _, status := range []string{"queued", "working", "asking", "ready", "refused", "failed"} {
		for list := 6; list <= 8; list++ {
			for _, waits := range []bool{false, true} {
				p := addPlan(t, store, "ann", "")
				b.run(`update plans set status = $2, list = $3 where id = $1`, p.ID, status, list)
				if waits {
					b.run(`insert into waiters (plan, key) values ($1, 'a')`, p.ID)
				}
				if !waits && list <= 7 && (status == "queued" || status == "working") {
					plans = append(plans, p.ID)
				}
			}
		}
	}
	var sets []uuid.UUID
	for _, status := range []string{"working", "ready", "failed"} {
		for _, waits := range []bool{false, true} {
			for _, looked := range []bool{false, true} {
				var set uuid.UUID
				if err := store.Pool.QueryRow(ctx, `insert into class_sets (client, terms) values ('ann', '{}') returning id`).Scan(&set); err != nil {
					t.Fatal(err)
				}
				for range 2 { // a set is told once, however many of its groups are idle
					g, err := store.AddClassGroup(ctx, db.ClassGroup{Set: set, Request: []byte(`{}`), Keys: []string{"k"}, Status: status}, nil)
					if err != nil {
						t.Fatal(err)
					}
					if waits {
						b.run(`insert into class_waiters (class_group, key) values ($1, 'a')`, g.ID)
					}
				}
				if looked {
					b.run(`insert into class_looks (class_set) values ($1)`, set)
				}
				if status == "working" && !waits && !looked {
					sets = append(sets, set)
				}
			}
		}
	}
	for _, c := range []struct {
		what string
		find func(limit int) ([]uuid.UUID, error)
		want []uuid.UUID
	}{
		{"plans", func(limit int) ([]uuid.UUID, error) { return store.Idle(ctx, 7, limit) }, plans},
		{"sets", func(limit int) ([]uuid.UUID, error) { return store.IdleGroups(ctx, limit) }, sets},
	} {
		slices.SortFunc(c.want, func(a, b uuid.UUID) int { return slices.Compare(a[:], b[:]) })
		for limit := 1; limit <= len(c.want)+1; limit += len(c.want) {
			got, err := c.find(limit)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want[:min(limit, len(c.want))], got); diff != "" {
				t.Errorf("%s, at most %d:\n%s", c.what, limit, diff)
			}
		}
	}
}

// What is missing is looked up by its keys: whether the result of the first has come, and
// who is at work on any of them, not on others.
func TestWhatIsDoneAboutWhatIsMissing(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	for _, name := range []string{"a", "b", "c"} {
		b.span(name, "ann", 1, true, 0)
	}
	if err := b.store.AddResults(t.Context(), db.Result{Head: db.Head{Key: "here", Outcome: []byte(`{}`), Digest: []byte(`{}`)}, Body: []byte(`{}`)}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		keys  []string
		there bool
		want  string
	}{
		{[]string{"b", "c", "none"}, false, "[b c]"}, {[]string{"a"}, false, "[a]"}, {[]string{"none"}, false, "[]"},
		{[]string{"here", "a"}, true, "[a]"}, {[]string{"a", "here"}, false, "[a]"},
	} {
		err := b.store.InTx(t.Context(), func(tx db.Tx) error {
			there, work, err := tx.LockMissing(t.Context(), c.keys...)
			at := []string{}
			for _, w := range work {
				at = append(at, w.Key)
			}
			if slices.Sort(at); there != c.there || fmt.Sprint(at) != c.want {
				t.Errorf("%v: there %v, at work on %v, want %v and %s", c.keys, there, at, c.there, c.want)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
