package session_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/geometry/geometrytest/property"
	"knifedesk/jobs/session"

	"pgregory.net/rapid"
)

func loads(n int, one session.Load) []session.Load {
	var all []session.Load
	for i := range n {
		one.Code = fmt.Sprintf("L%02d", i+1)
		all = append(all, one)
	}
	return all
}

// A session of two hours has 95 minutes (design: class sets): thirty single jobs of 15
// minutes are 450 of the cutter alone, four loads of 18 with 20 minutes at the bench fit.
func TestSharedLoadsFitWhereSingleJobsDoNot(t *testing.T) {
	r := session.Default(120, 2)
	if r.Usable() != 95 {
		t.Fatalf("usable %g min, want 95", r.Usable())
	}
	single := session.Load{Prepare: 2, Cut: 12, Unload: 1, Bench: 3}
	r.Loads = loads(30, single)
	sum := 0.0
	for _, l := range r.Loads {
		sum += l.Series()
	}
	p := made(t, r)
	if sum != 450 || len(p.Runs) != 6 || len(p.Over) != 24 {
		t.Errorf("%g minutes in series, %d cut, %d left over; want 450, 6 and 24", sum, len(p.Runs), len(p.Over))
	}
	r.Loads = loads(4, session.Load{Prepare: 2, Cut: 15, Unload: 1, Bench: 20})
	if p = made(t, r); len(p.Over) > 0 || p.LastPeel != 92 { // 4 · 18 + 20
		t.Errorf("four shared loads: last peel %g, over %v, want 92 and none", p.LastPeel, p.Over)
	}
}

// By hand: with two mats the second is prepared while the first is cut, and half a minute
// of swapping is in series: 2 + 10 | 0.5 + 10 | 0.5 + 10, and 1 to take the last off. The
// third has to wait for a mat: out at 12, swapped, unloaded at 13.5, ready at 15.5.
func TestTwoMats(t *testing.T) {
	r := session.Default(120, 3)
	r.Loads = loads(3, session.Load{Prepare: 2, Cut: 10, Unload: 1, Bench: 5})
	if p := made(t, r); p.LastPeel != 44 { // 3 · 13 + 5
		t.Errorf("one mat: last peel %g, want 44", p.LastPeel)
	}
	r.Mats = 2
	p := made(t, r)
	if p.LastPeel != 39 || p.Runs[1].Prepare != 2 || p.Runs[2].Prepare != 13.5 || p.Runs[2].Cut != 23 {
		t.Errorf("two mats: %+v", p)
	}
}

// A load longer than the usable time is named, and hinders no other; the longest bench
// work is cut first.
func TestLongLoadsAreNamed(t *testing.T) {
	r := session.Default(85, 1)
	r.Loads = []session.Load{
		{Code: "quick", Cut: 10, Bench: 5}, {Code: "long", Cut: 50, Bench: 11}, {Code: "slow", Cut: 10, Bench: 20},
	}
	p := made(t, r)
	if !slices.Equal(p.Long, []string{"long"}) || p.Runs[0].Code != "slow" || p.Runs[1].Code != "quick" || p.LastPeel != 35 {
		t.Errorf("%+v", p)
	}
}

// Of loads that do not all fit, as few as can be are left over, even where the longest is
// one of them: 40 at the bench, or 15 and 15.
func TestFewestAreLeftOver(t *testing.T) {
	r := session.Default(75, 1)
	r.Loads = []session.Load{{Code: "a", Cut: 5, Bench: 40}, {Code: "b", Cut: 5, Bench: 15}, {Code: "c", Cut: 5, Bench: 15}}
	if p := made(t, r); !slices.Equal(p.Over, []string{"a"}) || p.LastPeel != 35 {
		t.Errorf("%+v", p)
	}
}

// Against all orders of up to seven loads: the longest bench work first ends at most the
// longest load after the best order, and never before it (list scheduling loses less than
// one job, Graham 1969); what is planned keeps the rules.
func TestAgainstAllOrders(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		r := session.Default(10_000, rapid.IntRange(1, 3).Draw(t, "places"))
		r.Mats = rapid.IntRange(1, 2).Draw(t, "mats")
		longest := 0.0
		for i := range rapid.IntRange(1, 7).Draw(t, "loads") {
			minutes := func(name string) float64 { return float64(rapid.IntRange(0, 30).Draw(t, name)) }
			l := session.Load{Code: fmt.Sprint(i), Prepare: minutes("prepare"), Cut: minutes("cut"), Unload: minutes("unload"), Bench: minutes("bench")}
			r.Loads, longest = append(r.Loads, l), max(longest, l.Series()+l.Bench)
		}
		p := made(t, r)
		best := math.Inf(1)
		orders(r.Loads, func(order []session.Load) { best = min(best, r.LastPeel(nil, order)) })
		if p.LastPeel < best-1e-9 || p.LastPeel > best+longest+1e-9 {
			t.Fatalf("last peel %g, the best order has %g, the longest load is %g", p.LastPeel, best, longest)
		}
		keepsRules(t, r, p)
	})
}

// keepsRules holds that one load is cut at a time and one peeled at each place, and that
// none is peeled before it is out.
func keepsRules(t *rapid.T, r session.Request, p *session.Plan) {
	if len(p.Runs)+len(p.Over)+len(p.Long) != len(r.Loads) {
		t.Fatalf("%d runs of %d loads", len(p.Runs), len(r.Loads))
	}
	busy := map[int]float64{}
	for i, run := range p.Runs {
		if i > 0 && run.Cut < p.Runs[i-1].Out {
			t.Fatalf("%s is cut while another is", run.Code)
		}
		if run.Peel < run.Out || run.Cut < run.Prepare || run.Peel < busy[run.Place] || run.Place > r.Places {
			t.Fatalf("%+v", run)
		}
		busy[run.Place] = run.Done
	}
}

// orders calls f with all orders of loads.
func orders(all []session.Load, f func([]session.Load)) {
	var next func(n int)
	next = func(n int) {
		if n == len(all) {
			f(all)
			return
		}
		for i := n; i < len(all); i++ {
			all[n], all[i] = all[i], all[n]
			next(n + 1)
			all[n], all[i] = all[i], all[n]
		}
	}
	next(0)
}

func made(t interface{ Fatal(...any) }, r session.Request) *session.Plan {
	p, err := session.Make(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
