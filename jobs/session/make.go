package session

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"knifedesk/geometry/budget"
)

// RequestError says which part of a request makes no sense.
type RequestError struct {
	Field  string // as in its JSON
	Reason string
}

// Error names the field and what is wrong with it.
func (e *RequestError) Error() string { return "session: " + e.Field + ": " + e.Reason }

// Make plans the session. The load with the longest bench work is cut first, so that the
// bench is done soonest after the cutter; of equal ones the one that is cut quickest.
// Each is peeled at the place that is free first. Where not all fit, it leaves out as few
// loads as it finds a way to, and of these the ones without which the last peel is
// soonest: of up to 12 that can fit at all by trying all choices, of more by leaving out,
// one by one, the one without which most is done soonest. It fails with a *RequestError,
// or with the error of ctx.
func Make(ctx context.Context, r Request) (*Plan, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	p := &Plan{Usable: r.Usable()}
	var fit []Load
	for _, l := range r.Loads {
		if l.Series()+l.Bench > p.Usable+slack {
			p.Long = append(p.Long, l.Code)
			continue
		}
		fit = append(fit, l)
	}
	slices.SortStableFunc(fit, func(a, b Load) int {
		return cmp.Or(cmp.Compare(b.Bench, a.Bench), cmp.Compare(a.Series(), b.Series()), cmp.Compare(a.Code, b.Code))
	})
	err := budget.Run(ctx, func(b *budget.Budget) { p.choose(b, r, fit) })
	return p, err
}

// slack keeps an exact fit, in minutes.
const slack = 1e-9

func (r Request) check() error {
	codes := map[string]bool{}
	for _, l := range r.Loads {
		if codes[l.Code] {
			return &RequestError{"loads.code", fmt.Sprintf("%q stands twice", l.Code)}
		}
		codes[l.Code] = true
		for _, v := range [...]float64{l.Prepare, l.Cut, l.Unload, l.Bench} {
			if !(v >= 0 && v < 1e6) {
				return &RequestError{"loads", l.Code + " takes no time of this world"}
			}
		}
	}
	for _, v := range [...]float64{r.Minutes, r.Briefing, r.Clearing, r.Swap} {
		if !(v >= 0 && v < 1e6) {
			return &RequestError{"minutes", "are not of this world"}
		}
	}
	if r.Places < 1 || r.Mats < 1 {
		return &RequestError{"places", "there is no bench place, or no mat"}
	}
	return nil
}

// mostTried is how many loads all choices are tried of.
const mostTried = 12

// choose decides which loads are cut, in the order of the list.
func (p *Plan) choose(b *budget.Budget, r Request, loads []Load) {
	best := loads
	if r.LastPeel(b, loads) > p.Usable+slack {
		if len(loads) <= mostTried {
			best = r.fewestLeft(b, loads, p.Usable)
		} else {
			best = r.leaveOut(b, loads, p.Usable)
		}
	}
	p.Runs = r.runs(b, best)
	for _, run := range p.Runs {
		p.LastPeel = max(p.LastPeel, run.Done)
	}
	for _, l := range loads {
		if !slices.ContainsFunc(best, func(o Load) bool { return o.Code == l.Code }) {
			p.Over = append(p.Over, l.Code)
		}
	}
}

// fewestLeft tries all choices of loads.
func (r Request) fewestLeft(b *budget.Budget, loads []Load, usable float64) []Load {
	var best []Load
	soonest := 0.0
	for choice := range 1 << len(loads) {
		var some []Load
		for i, l := range loads {
			if choice>>i&1 == 1 {
				some = append(some, l)
			}
		}
		last := r.LastPeel(b, some)
		if last <= usable+slack && (len(some) > len(best) || len(some) == len(best) && last < soonest) {
			best, soonest = some, last
		}
	}
	return best
}

// leaveOut leaves out one load after the other until the rest fits.
func (r Request) leaveOut(b *budget.Budget, loads []Load, usable float64) []Load {
	for r.LastPeel(b, loads) > usable+slack {
		var best []Load
		soonest := 0.0
		for i := range loads {
			rest := slices.Delete(slices.Clone(loads), i, i+1)
			if last := r.LastPeel(b, rest); best == nil || last < soonest {
				best, soonest = rest, last
			}
		}
		loads = best
	}
	return loads
}

// LastPeel is when the last load is peeled where they are cut in the order given, in
// minutes from the end of the briefing.
func (r Request) LastPeel(b *budget.Budget, loads []Load) float64 {
	last := 0.0
	for _, run := range r.runs(b, loads) {
		last = max(last, run.Done)
	}
	return last
}

// runs lays loads out in time, in the order given.
//
// With one mat a load is prepared, cut and unloaded in series. With several it is prepared
// while the one before is cut, on a mat that is free, and swapped in when that is out; the
// work comes off its mat while the next is cut.
func (r Request) runs(b *budget.Budget, loads []Load) []Run {
	var all []Run
	mats, places := make([]float64, r.Mats), make([]float64, r.Places)
	cutter, hands := 0.0, 0.0 // free from
	for i, l := range loads {
		b.Spend(1 + r.Mats + r.Places)
		mat, place := first(mats), first(places)
		run := Run{Code: l.Code, Prepare: max(mats[mat], hands)}
		hands = run.Prepare + l.Prepare
		run.Cut = max(hands, cutter)
		if i > 0 && r.Mats > 1 {
			run.Cut = max(hands, cutter+r.Swap)
		}
		run.Out = run.Cut + l.Cut
		cutter = run.Out
		mats[mat] = run.Out + l.Unload
		if r.Mats > 1 && i+1 < len(loads) {
			mats[mat] += r.Swap
		}
		run.Place, run.Peel = place+1, max(mats[mat], places[place])
		run.Done = run.Peel + l.Bench
		places[place] = run.Done
		all = append(all, run)
	}
	return all
}

// first is the one that is free first.
func first(free []float64) int {
	at := 0
	for i, v := range free {
		if v < free[at] {
			at = i
		}
	}
	return at
}
