package db_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

// class is a set as it is in the database, told one by one.
type class struct {
	id      uuid.UUID
	want    db.ClassStanding
	moves   bool
	laid    bool
	members []string
}

// add puts members, groups, looks and a roster into a set, by chance.
func (c *class) add(b backlog, random *rand.Rand) {
	t := b.t
	t.Helper()
	if err := b.store.Pool.QueryRow(t.Context(), `insert into class_sets (client, terms, updated) values ('ann', '{}', '2026-01-01') returning id`).Scan(&c.id); err != nil {
		t.Fatal(err)
	}
	c.want.Rests, c.laid = true, true
	for _, reference := range []string{"a", "b", "c", "d"} {
		expected := random.IntN(2) == 0
		if expected {
			b.run(`insert into class_roster (class_set, reference) values ($1, $2)`, c.id, reference)
			c.want.Expected++
		}
		if random.IntN(3) == 0 {
			if expected {
				c.want.Missing++
			}
			continue
		}
		p := addPlan(t, b.store, "ann", reference)
		status := []string{"ready", "ready", "asking", "refused", "queued", "working"}[random.IntN(6)]
		b.run(`update plans set status = $2 where id = $1`, p.ID, status)
		if err := b.store.PutClassMember(t.Context(), db.ClassMember{Set: c.id, Reference: reference, Plan: p.ID}); err != nil {
			t.Fatal(err)
		}
		c.members = append(c.members, reference)
		c.want.Members++
		switch status {
		case "ready":
			c.want.Ready++
		case "queued", "working":
			c.moves, c.want.Rests = true, false
		}
	}
	var laid []string
	for place := range random.IntN(3) {
		current, status := random.IntN(2) == 0, []string{"ready", "failed", "working"}[random.IntN(3)]
		b.run(`insert into class_groups (class_set, place, current, request, keys, status) values ($1, $2, $3, '{}', $4, $5)`,
			c.id, place, current, []string{fmt.Sprint("k", place), "l"}, status)
		if current {
			laid = append(laid, fmt.Sprintf("k%d l", place))
		}
		if status == "working" {
			c.moves, c.laid, c.want.Rests = true, false, false
		}
	}
	c.want.Laid = strings.Join(laid, "\n")
	if random.IntN(4) == 0 {
		b.run(`insert into class_looks (class_set) values ($1)`, c.id)
		c.moves, c.laid = true, false
	}
}

// Sixty sets by chance, all in one database: how far each is, whether it moves and
// whether its loads are laid is what its members, groups, looks and roster say, and
// nothing of another set. Touching one, and taking a member or a reference out, changes
// that one alone.
func TestClassSetsStandByTheirOwn(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	random := rand.New(rand.NewPCG(1, 0))
	all := make([]class, 60)
	for i := range all {
		all[i].add(b, random)
	}
	compare := func(when string) {
		t.Helper()
		for i := range all {
			c := &all[i]
			got, err := store.ClassStanding(ctx, c.id)
			if diff := cmp.Diff(c.want, got); err != nil || diff != "" {
				t.Errorf("%s, set %d, %v:\n%s", when, i, err, diff)
			}
			if moves, err := store.ClassMoves(ctx, c.id); err != nil || moves != c.moves {
				t.Errorf("%s, set %d moves: %v, want %v, %v", when, i, moves, c.moves, err)
			}
			if laid, err := store.ClassLaid(ctx, c.id); err != nil || laid != c.laid {
				t.Errorf("%s, set %d is laid: %v, want %v, %v", when, i, laid, c.laid, err)
			}
			members, err := store.ClassPlans(ctx, c.id)
			var references []string
			for _, m := range members {
				references = append(references, m.Reference)
			}
			if err != nil || !slices.Equal(references, c.members) {
				t.Errorf("%s, set %d has %v, want %v, %v", when, i, references, c.members, err)
			}
		}
	}
	compare("at first")
	kinds := map[string]bool{}
	for i := range all {
		kinds[fmt.Sprint(all[i].moves, all[i].laid, all[i].want.Rests)] = true
	}
	if len(kinds) < 4 {
		t.Fatalf("the sets are too much alike: %v", kinds)
	}
	if err := store.TouchClassSet(ctx, all[0].id); err != nil {
		t.Fatal(err)
	}
	if touched := b.count(`select count(*) from class_sets where updated > '2026-01-02'`); touched != 1 || b.count(`select count(*) from class_sets where updated > '2026-01-02' and id = $1`, all[0].id) != 1 {
		t.Errorf("%d sets are touched", touched)
	}
	rostered := slices.IndexFunc(all, func(c class) bool { return c.want.Expected == 1 })
	of := &all[rostered]
	if err := store.SetClassRoster(ctx, of.id, []string{"x", "y"}); err != nil {
		t.Fatal(err)
	}
	of.want.Expected, of.want.Missing = 2, 2
	full := slices.IndexFunc(all, func(c class) bool { return len(c.members) == 4 && !c.moves })
	if full < 0 || full == rostered {
		t.Fatal("no set is as it is wanted")
	}
	of = &all[full]
	plans, err := store.ClassPlans(ctx, of.id)
	if err != nil {
		t.Fatal(err)
	}
	if err := store.DropClassMember(ctx, of.id, "b"); err != nil {
		t.Fatal(err)
	}
	if err := store.DropClassMember(ctx, of.id, "b"); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("who is out is taken out: %v", err)
	}
	of.members, of.want.Members = []string{"a", "c", "d"}, 3
	of.want.Ready -= b.count(`select count(*) from plans where id = $1 and status = 'ready'`, plans[1].ID)
	of.want.Missing += b.count(`select count(*) from class_roster where class_set = $1 and reference = 'b'`, of.id)
	compare("changed")
}

func (b backlog) count(sql string, args ...any) (n int) {
	b.t.Helper()
	if err := b.store.Pool.QueryRow(b.t.Context(), sql, args...).Scan(&n); err != nil {
		b.t.Fatal(err)
	}
	return n
}

// A reference that is forgotten goes off the rosters of its client alone, with what was
// answered to requests that name it, and stays on those of others.
func TestForgottenReferences(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	set := func(client string) (id uuid.UUID) {
		t.Helper()
		if err := store.Pool.QueryRow(ctx, `insert into class_sets (client, terms) values ($1, '{}') returning id`, client).Scan(&id); err != nil {
			t.Fatal(err)
		}
		if err := store.SetClassRoster(ctx, id, []string{"pupil 1", "pupil 2"}); err != nil {
			t.Fatal(err)
		}
		b.run(`insert into idempotency (client, key, request_hash, status, headers, body) values ($1, 'k', sha256('x'), 200, '{}', convert_to($2, 'UTF8'))`,
			client, `{"id":"`+id.String()+`","roster":["pupil 1"]}`)
		return id
	}
	ann, ben := set("ann"), set("ben")
	for _, c := range []struct {
		client, reference string
		ann, ben          string
		answers           int
	}{
		{"ben", "pupil 9", "[pupil 1 pupil 2]", "[pupil 1 pupil 2]", 2},
		{"ann", "pupil 1", "[pupil 2]", "[pupil 1 pupil 2]", 1},
		{db.AnyClient, "pupil 2", "[]", "[pupil 1]", 0},
	} {
		if err := store.InTx(ctx, func(tx db.Tx) error { return tx.ForgetReference(ctx, c.client, c.reference) }); err != nil {
			t.Fatal(err)
		}
		for id, want := range map[uuid.UUID]string{ann: c.ann, ben: c.ben} {
			if got, err := store.ClassRoster(ctx, id); err != nil || fmt.Sprint(got) != want {
				t.Errorf("with %s of %s forgotten a roster is %v, want %s, %v", c.reference, c.client, got, want, err)
			}
		}
		if n := b.count(`select count(*) from idempotency`); n != c.answers {
			t.Errorf("with %s of %s forgotten %d answers are kept, want %d", c.reference, c.client, n, c.answers)
		}
	}
}
