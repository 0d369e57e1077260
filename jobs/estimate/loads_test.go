package estimate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/google/go-cmp/cmp"
)

// run is a plan of loads whose passes take so many seconds of motion each, after so many
// of changing the tool.
func run(motion, pause [][]float64) (*layout.Layout, *passes.Plan) {
	l, p := &layout.Layout{}, &passes.Plan{}
	for i, load := range motion {
		l.Loads = append(l.Loads, layout.Load{Number: i + 1, Placements: []layout.Placement{{Copy: i + 1, Transform: geometry.Identity}}})
		one := passes.Load{Number: i + 1}
		for k, s := range load {
			one.Passes = append(one.Passes, passes.Pass{Number: k + 1, MotionS: s, PauseS: pause[i][k]})
			p.Time.CutS += s
			p.Time.PauseS += pause[i][k]
		}
		p.Loads = append(p.Loads, one)
		p.Time.LoadS += 60
		p.Time.UnloadS += 30
	}
	return l, p
}

// By hand, with −10 and +10 % on motion and −20 and +50 % on what is done by hand: two
// minutes of test, a load of 1 min to put in and half to take out, a pass of 3 min, and
// one of 5 min after a change of 1 min.
func TestMinutesOfAPass(t *testing.T) {
	l, p := run([][]float64{{180, 300}}, [][]float64{{0, 60}})
	p.Time.TestS = 120
	e := estimate.Of(estimate.Request{Stock: workshop.Stock{}, Copies: 1, Prices: workedExample(t).Prices}, &weeding.Map{}, l, p)
	want := []estimate.LoadTime{{
		Number: 1, Prepare: estimate.Range{Low: 0.8, Likely: 1, High: 1.5}, Test: estimate.Range{Low: 1.6, Likely: 2, High: 3},
		Passes: []estimate.PassTime{
			{Number: 1, Minutes: estimate.Range{Low: 2.7, Likely: 3, High: 3.3}},
			{Number: 2, Minutes: estimate.Range{Low: 5.3, Likely: 6, High: 7}},
		},
		Cut: estimate.Range{Low: 9.6, Likely: 11, High: 13.3}, Unload: estimate.Range{Low: 0.4, Likely: 0.5, High: 0.75},
		Bench: e.BenchMin,
	}}
	if diff := cmp.Diff(want, e.Loads); diff != "" {
		t.Error(diff)
	}
	if want := (estimate.Range{Low: 10.8, Likely: 12.5, High: 15.55}); e.CutterMin != want {
		t.Errorf("in all %+v, want %+v", e.CutterMin, want)
	}
}

// By hand: of two loads with two copies and one, whose weeding takes 30 s a load and 60 a copy,
// and whose tape takes three times the minute of a copy, the bench has 270 and 150 seconds.
func TestBenchOfALoad(t *testing.T) {
	l, p := run([][]float64{{60}, {60}}, [][]float64{{0}, {0}})
	l.Loads[0].Placements = make([]layout.Placement, 2)
	l.Usage.TapeM, l.Usage.TapeMM2 = 0.6, 72_000
	prices := workedExample(t).Prices
	e := estimate.Of(estimate.Request{Copies: 3, Prices: prices}, &weeding.Map{Effort: weeding.Effort{StartS: 30, CopyS: 60}}, l, p)
	if e.BenchMin.Likely != 7 || e.Loads[0].Bench.Likely != 4.5 || e.Loads[1].Bench.Likely != 2.5 {
		t.Errorf("in all %g min, %g and %g", e.BenchMin.Likely, e.Loads[0].Bench.Likely, e.Loads[1].Bench.Likely)
	}
}

// Of many loads and passes, down to fractions of a second, the parts sum to the whole to
// the hundredth, at each end, and no part is less than none or has its ends crossed.
func TestMinutesOfLoadsSumToThoseOfThePlan(t *testing.T) {
	random, prices := rand.New(rand.NewPCG(4, 9)), workedExample(t).Prices
	for range 100 {
		motion, pause := make([][]float64, 1+random.IntN(9)), make([][]float64, 9)
		for i := range motion {
			for range 1 + random.IntN(5) {
				motion[i] = append(motion[i], math.Pow(10, 3*random.Float64()-0.7))
				pause[i] = append(pause[i], 60*float64(random.IntN(2)))
			}
		}
		l, p := run(motion, pause)
		p.Time.TestS = 120
		m := &weeding.Map{Effort: weeding.Effort{StartS: 30, CopyS: 200 * random.Float64()}}
		e := estimate.Of(estimate.Request{Stock: workshop.Stock{}, Copies: len(motion), Prices: prices}, m, l, p)
		var cutter, bench estimate.Range
		add := func(to *estimate.Range, r estimate.Range) {
			if r.Low < 0 || r.Likely < r.Low || r.High < r.Likely {
				t.Errorf("a part of %+v", r)
			}
			to.Low, to.Likely, to.High = to.Low+r.Low, to.Likely+r.Likely, to.High+r.High
		}
		for _, load := range e.Loads {
			var cut estimate.Range
			add(&cut, load.Test)
			for _, pass := range load.Passes {
				add(&cut, pass.Minutes)
			}
			same(t, "cut", cut, load.Cut)
			for _, r := range []estimate.Range{load.Prepare, load.Cut, load.Unload} {
				add(&cutter, r)
			}
			add(&bench, load.Bench)
		}
		same(t, "the cutter", cutter, e.CutterMin)
		same(t, "the bench", bench, e.BenchMin)
		if bench.Low <= 0 || cutter.Low <= 0 {
			t.Errorf("nothing is taken: %+v and %+v", cutter, bench)
		}
	}
}

func same(t *testing.T, what string, sum, whole estimate.Range) {
	t.Helper()
	if off := math.Abs(sum.Low-whole.Low) + math.Abs(sum.Likely-whole.Likely) + math.Abs(sum.High-whole.High); off > 1e-6 {
		t.Errorf("the parts of %s sum to %+v, not to %+v", what, sum, whole)
	}
}
