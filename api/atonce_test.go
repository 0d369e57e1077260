package api_test

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"knifedesk/api"
)

// crowd does random things to a class set and to a layered work, many people at once.
type crowd struct {
	guarded
	ours, staff, set string
	stay             bool // nobody is taken out of the set
	films            []api.Plan
}

// do does one thing, and returns what it was and how it ended. What came too late, or too
// early, is refused; nothing else may go wrong.
func (c *crowd) do(t *testing.T, r *rand.Rand) (string, answer) {
	name := []string{"ada", "ben", "cy"}[r.IntN(3)]
	film := c.films[r.IntN(len(c.films))].Links
	const question = "artwork/film:#2e8b57"
	n := r.IntN(12)
	if n == 2 && c.stay {
		n = 0
	}
	switch n {
	case 0, 1:
		return "a member", c.adds(t, c.ours, c.set, nil, name+".svg", fmt.Sprintf("%s<!--%d-->", plate, r.IntN(3)))
	case 2:
		return "dropping", c.as(t, c.ours, "DELETE", c.set+"/members/"+name, "")
	case 3:
		return "closing", c.as(t, c.ours, "PATCH", c.set, fmt.Sprintf(`{"closed":%t}`, r.IntN(2) == 0))
	case 4:
		return "a load", c.as(t, c.staff, "PUT", c.set+"/loads/1", fmt.Sprintf(`{"state":%q}`, []string{"issued", "done"}[r.IntN(2)]))
	case 5, 6, 7:
		return "an answer", c.as(t, c.ours, "POST", film["answers"], fmt.Sprintf(`{"answers":{%q:{"answer":%q}}}`, question, []string{"film-1", "film-2", "nothing"}[r.IntN(3)]))
	case 8:
		return "taking back", c.as(t, c.ours, "DELETE", film["answers"]+"/artwork%2Ffilm:%232e8b57", "")
	case 9:
		return "accepting", c.as(t, c.ours, "POST", film["self"]+"/acceptance", `{}`)
	case 10:
		return "giving back", c.as(t, c.ours, "DELETE", film["self"]+"/acceptance", "")
	}
	return "a recut", c.as(t, c.staff, "POST", film["self"]+"/recut", `{"pieces":[{"copy":1}],"reason":"slipped"}`)
}

// Whatever many people do at once to a class set and to the films of one work, in whatever
// order: the films are answered alike, the set stands as its members do, the ledger
// balances, nothing is left undone, each end is told once, and all of it can be erased.
func TestManyAtOnceOverHTTP(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	c := &crowd{guarded: g, ours: g.key(t, "print", "submit", "read"), staff: g.staff(t)}
	to := newReceiver(t, 204)
	g.hook(t, c.staff, `{"url":"`+to.URL+`"}`)
	g.as(t, c.staff, "POST", "/v1/receipts", `{"item":"film-removable-610","amount":5000}`)
	c.set = g.classSet(t, c.ours, `,"roster":["ada","ben","cy"]`)
	c.films = g.layered(t, c.ours)
	var all sync.WaitGroup
	for n := range 8 {
		all.Go(func() {
			r := rand.New(rand.NewPCG(12, uint64(n)))
			for range 6 {
				what, a := c.do(t, r)
				if a.status >= 500 || a.status == http.StatusBadRequest || a.status == http.StatusForbidden || a.status == http.StatusTooManyRequests {
					t.Errorf("%s: %d %s", what, a.status, a.body)
				}
			}
		})
	}
	all.Wait()
	g.rest(t)
	c.agrees(t)
	g.toldOnce(t, to)
	g.as(t, c.ours, "DELETE", selfOf(c.films[0])+"/acceptance", "")
	g.as(t, c.ours, "DELETE", selfOf(c.films[1])+"/acceptance", "")
	g.as(t, c.staff, "PUT", c.set+"/loads/1", `{"state":"done"}`)
	g.as(t, c.ours, "DELETE", "/v1/plans?owner=print", "").wants(t, "erasing all", http.StatusOK, "")
	g.rest(t)
	for _, table := range []string{"plans", "plan_stages", "drawings", "blobs", "acceptances", "class_sets", "class_members", "class_groups", "class_parts", "class_loads", "results", "former_keys"} {
		var n int
		if err := g.store.Pool.QueryRow(t.Context(), "select count(*) from "+table).Scan(&n); err != nil || n > 0 {
			t.Errorf("%d rows are left in %s, %v", n, table, err)
		}
	}
}

// A set is erased while many are at it, twice at once: whoever comes after finds nothing, and
// whoever came before leaves nothing. Of the set there is no row, plan, drawing or result
// left, and what is not of it stays as it was.
func TestSetErasedAmongManyAtOnce(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	c := &crowd{guarded: g, ours: g.key(t, "print", "submit", "read"), staff: g.staff(t), stay: true}
	g.as(t, c.staff, "POST", "/v1/receipts", `{"item":"film-removable-610","amount":5000}`)
	c.films = g.layered(t, c.ours)
	for seed := range uint64(4) {
		c.set = g.classSet(t, c.ours, `,"roster":["ada","ben","cy"]`)
		c.adds(t, c.ours, c.set, []string{"Prefer", "wait=30"}, "ada.svg", plate, "ben.svg", plate)
		var all sync.WaitGroup
		for n := range 4 {
			all.Go(func() {
				r := rand.New(rand.NewPCG(seed, uint64(n)))
				for range 5 {
					what, a := c.do(t, r)
					if a.status >= 500 || a.status == http.StatusBadRequest || a.status == http.StatusForbidden || a.status == http.StatusTooManyRequests {
						t.Errorf("%s: %d %s", what, a.status, a.body)
					}
				}
			})
		}
		erased := make([]int, 2)
		for n := range erased {
			all.Go(func() {
				time.Sleep(time.Duration(100*seed) * time.Millisecond)
				erased[n] = c.as(t, c.ours, "DELETE", c.set, "").status
			})
		}
		all.Wait()
		g.rest(t)
		for _, status := range erased {
			if status != http.StatusNoContent && status != http.StatusNotFound && status != http.StatusConflict {
				t.Errorf("seed %d: erasing: %v", seed, erased)
			}
		}
		if !slices.Contains(erased, http.StatusNoContent) { // a load was handed out
			c.as(t, c.staff, "PUT", c.set+"/loads/1", `{"state":"done"}`)
			c.as(t, c.ours, "DELETE", c.set, "").wants(t, "erasing at last", http.StatusNoContent, "")
		}
		c.as(t, c.ours, "GET", c.set, "").wants(t, "the set", http.StatusNotFound, "not_found")
		c.onlyFilms(t)
		t.Logf("seed %d: erasing: %v", seed, erased)
	}
}

// onlyFilms holds that there is nothing but the films and what was cut again of them.
func (c *crowd) onlyFilms(t *testing.T) {
	t.Helper()
	for _, table := range []string{"class_sets", "class_members", "class_roster", "class_groups", "class_parts", "class_loads", "class_looks", "class_waiters"} {
		var n int
		if err := c.store.Pool.QueryRow(t.Context(), "select count(*) from "+table).Scan(&n); err != nil || n > 0 {
			t.Errorf("%d rows are left in %s, %v", n, table, err)
		}
	}
	const query = `select (select count(*) from plans p where not exists (select from drawings d where d.id = p.drawing and d.name = 'sign.svg')),
		(select count(*) from drawings), (select count(*) from blobs), (select count(*) from plans where recut_of is null),
		(select count(*) from results r where not exists (select from plan_stages s where s.key = r.key) and not exists (select from former_keys f where f.key = r.key))`
	var members, drawings, files, films, results int
	if err := c.store.Pool.QueryRow(t.Context(), query).Scan(&members, &drawings, &files, &films, &results); err != nil {
		t.Fatal(err)
	}
	if members != 0 || drawings != 1 || files != 1 || films != 2 || results != 0 {
		t.Errorf("%d plans of members, %d drawings, %d files, %d plans of the films and %d results that nothing reaches", members, drawings, files, films, results)
	}
}

func selfOf(p api.Plan) string { return p.Links["self"] }

// layered orders a work of two films, about which is asked, and returns their plans.
func (g guarded) layered(t *testing.T, bearer string) (films []api.Plan) {
	t.Helper()
	body, kind := form(t, "sign.svg", []byte(threeColours), "film", "film-permanent-300=#1f4e79", "film", "film-removable-610=#ffffff")
	var first api.Plan
	g.call(t, "POST", "/v1/plans", body, "Authorization", bearer, "Content-Type", kind, "Prefer", "wait=30").json(t, &first)
	if first.Stack == nil || len(first.Stack.Films) != 2 {
		t.Fatalf("%s without two films: %v", first.Status, first.Stack)
	}
	for _, f := range first.Stack.Films {
		var p api.Plan
		g.as(t, bearer, "GET", "/v1/plans/"+f.PlanID.String(), "", "Prefer", "wait=30").json(t, &p)
		films = append(films, p)
	}
	return films
}

// rest waits until nothing is left to be done, and holds that the ledger balances.
func (g guarded) rest(t *testing.T) {
	t.Helper()
	const query = `select concat_ws(', ', (select count(*) || ' in work' from work having count(*) > 0), (select count(*) || ' waiters' from waiters having count(*) > 0),
		(select count(*) || ' sets waiting' from class_waiters having count(*) > 0), (select count(*) || ' sets to look at' from class_looks having count(*) > 0),
		(select count(*) || ' plans under way' from plans where status in ('queued', 'working') having count(*) > 0),
		(select count(*) || ' events to tell: ' || string_agg(attempts || ' × ' || coalesce(event, ''), ', ') from deliveries where state = 'waiting' having count(*) > 0))`
	left := "all"
	for end := time.Now().Add(20 * time.Second); left != "" && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if err := g.store.Pool.QueryRow(t.Context(), query).Scan(&left); err != nil {
			t.Fatal(err)
		}
	}
	if wrong, err := g.store.Unbalanced(t.Context()); err != nil || len(wrong) > 0 || left != "" {
		t.Errorf("left undone: %s; the ledger differs in %v, %v", left, wrong, err)
	}
}

// agrees holds that the films are answered alike, and that the set is what its members are.
func (c *crowd) agrees(t *testing.T) {
	t.Helper()
	var answers []string
	for _, f := range c.films {
		var p api.Plan
		c.as(t, c.ours, "GET", selfOf(f), "").json(t, &p)
		answers = append(answers, fmt.Sprintf("%s %q", p.Status, p.Answers["artwork/film:#2e8b57"].Answer))
	}
	if answers[0] != answers[1] {
		t.Errorf("the films differ: %v", answers)
	}
	s := c.guarded.set(t, c.ours, c.set)
	ready := 0
	for _, m := range s.Members {
		var p api.Plan
		c.as(t, c.ours, "GET", m.Links["plan"], "").json(t, &p)
		if p.ClientReference != m.Reference || string(p.Status) != string(m.Status) {
			t.Errorf("%s is %s, and its plan, of %s, is %s", m.Reference, m.Status, p.ClientReference, p.Status)
		}
		if p.Status == "ready" {
			ready++
		}
	}
	if !s.Settled || s.Roster.Ready != ready || s.Roster.NothingReceived != 3-len(s.Members) || ready > 0 && len(s.Loads) == 0 {
		t.Errorf("%d members, %d of them ready, on %d loads: %+v", len(s.Members), ready, len(s.Loads), s.Roster)
	}
	t.Logf("films: %v; %d members on %d loads", answers, len(s.Members), len(s.Loads))
}

// toldOnce holds that everything that was noted came once, and that what ends but once was
// noted once.
func (g guarded) toldOnce(t *testing.T, to *receiver) {
	t.Helper()
	headers, bodies := to.told()
	ids := map[string]bool{}
	for _, h := range headers {
		ids[h.Get("webhook-id")] = true
	}
	var noted int
	if err := g.store.Pool.QueryRow(t.Context(), `select count(*) from deliveries`).Scan(&noted); err != nil || len(ids) != noted {
		t.Errorf("%d of %d events came, %v", len(ids), noted, err)
	}
	var ends []string
	for _, body := range bodies {
		if text := string(body); strings.Contains(text, `"type":"plan.cancelled"`) {
			ends = append(ends, text[strings.Index(text, `"plan_id"`):])
		}
	}
	slices.Sort(ends)
	if len(slices.Compact(slices.Clone(ends))) != len(ends) {
		t.Errorf("the end of a plan was told twice: %v", ends)
	}
}
