package api_test

import (
	"net/http"
	"slices"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// What of a set is erased is in no column of any table: a person with all that was
// received, one who was only expected, and at last the course.
func TestErasingLeavesNoCanaryOfAClass(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	begin := func() string {
		a := g.as(t, ours, "POST", "/v1/class-sets", `{"client_reference":"canarycourse","terms":{"stock_ids":["card-220-a4"],"frame":"none"},"roster":["canaryname","canaryabsent","ada"]}`,
			"Idempotency-Key", "begin")
		a.wants(t, "a set", http.StatusCreated, "")
		at := a.header.Get("Location")
		g.adds(t, ours, at, []string{"Idempotency-Key", "first"}, "canaryname.svg", onlyText).wants(t, "a member", http.StatusOK, "")
		g.adds(t, ours, at, []string{"Idempotency-Key", "second", "Prefer", "wait=30"}, "canaryname.svg", marked, "ada.svg", plate).wants(t, "in the place of it", http.StatusOK, "")
		for _, c := range []string{"canaryname", "canaryabsent", "canarycourse", "47.11815"} {
			if len(dbtest.Holding(t, g.store.Pool, []byte(c))) == 0 {
				t.Fatalf("%s is nowhere while it should be: the search cannot fail", c)
			}
		}
		return at
	}
	gone := func(what string, canaries ...string) {
		t.Helper()
		for _, c := range canaries {
			if left := dbtest.Holding(t, g.store.Pool, []byte(c)); len(left) > 0 {
				t.Errorf("%s: %s is left in %v", what, c, left)
			}
		}
	}
	erase := func(reference string) (e api.Erasure) {
		g.as(t, ours, "DELETE", "/v1/plans?client_reference="+reference, "").json(t, &e)
		return e
	}
	at := begin()
	if e := erase("canaryname"); e.Plans != 2 || e.Drawings != 2 || e.ClassSets != 0 {
		t.Errorf("a person: %+v", e)
	}
	gone("a person", "canaryname", "canarylayer", "canarytext", "47.11815")
	erase("canaryabsent")
	gone("one who was expected", "canaryabsent")
	if s := g.set(t, ours, at); len(s.Members) != 1 || !slices.Equal(s.Roster.Expected, []string{"ada"}) {
		t.Errorf("the set afterwards: %+v", s)
	}
	if e := erase("canarycourse"); e.ClassSets != 1 || e.Plans != 1 || e.Drawings != 1 {
		t.Errorf("the course: %+v", e)
	}
	gone("the course", "canarycourse")

	at = begin()
	g.as(t, ours, "DELETE", at, "").wants(t, "the set", http.StatusNoContent, "")
	gone("the set", "canaryname", "canaryabsent", "canarycourse", "canarylayer", "47.11815")
	if n := g.plans(t); n != 0 {
		t.Errorf("%d plans are left", n)
	}
}

// By age a set goes whole once nothing of it has changed since; a member does not
// go alone.
func TestErasingAClassByAge(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	at := g.classSet(t, ours, "")
	g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "ada.svg", plate, "ben.svg", folded).wants(t, "members", http.StatusOK, "")
	age := func(sql string) {
		t.Helper()
		if _, err := g.store.Pool.Exec(t.Context(), sql); err != nil {
			t.Fatal(err)
		}
	}
	erased := func(want int) {
		t.Helper()
		e, err := g.queue.EraseAll(t.Context(), db.Erasable{Client: db.AnyClient, Before: time.Now().Add(-30 * 24 * time.Hour)}, false)
		if err != nil || e.ClassSets != want {
			t.Errorf("%+v %v, want %d sets", e, err, want)
		}
	}
	age(`update class_sets set updated = now() - interval '40 days'; update drawings set created = now() - interval '40 days';
		update plans set updated = now() - interval '40 days' where status = 'ready'`)
	erased(0)
	if s := g.set(t, ours, at); len(s.Members) != 2 {
		t.Errorf("%d members are left while one is new", len(s.Members))
	}
	age(`update plans set updated = now() - interval '40 days'`)
	erased(1)
	if n := g.plans(t); n != 0 {
		t.Errorf("%d plans are left", n)
	}
}
