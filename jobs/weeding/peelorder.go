package weeding

import (
	"cmp"

	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// order numbers the regions copy by copy, and puts the steps into the order in which a
// load is peeled: what lies round all copies where the letters bear it, and then copy
// after copy, each beside the last. owner is the copy of each region, by number, or -1.
func (l *Load) order(b *budget.Budget, all []Laid, owner []int) {
	route, m := route(b, all), l.Map
	rank := func(number int) int {
		if o := owner[number]; o >= 0 {
			return route[o]
		}
		return len(all)
	}
	slices.SortStableFunc(m.Regions, func(p, q Region) int { b.Step(); return cmp.Compare(rank(p.Number), rank(q.Number)) })
	now := l.renumber(owner, len(all))
	m.Steps = inTurn(b, m.Steps, owner, route)
	for i := range m.Steps {
		m.Steps[i].Order, m.Steps[i].Region = i+1, now[m.Steps[i].Region]
	}
}

// renumber numbers the regions as they follow each other, and returns the new number for
// each old one.
func (l *Load) renumber(owner []int, copies int) (now []int) {
	all := l.Map.Regions
	now, l.Regions = make([]int, len(all)+1), make([]Numbers, copies)
	for i := range all {
		now[all[i].Number] = i + 1
		if o := owner[all[i].Number]; o >= 0 {
			if l.Regions[o].From == 0 {
				l.Regions[o].From = i + 1
			}
			l.Regions[o].To = i + 2
		}
	}
	for i := range all {
		r := &all[i]
		r.Number, r.Of = now[r.Number], now[r.Of]
		for k, n := range r.Touches {
			r.Touches[k] = now[n]
		}
		slices.Sort(r.Touches)
	}
	return now
}

// inTurn puts steps into the order of their copies on the way, what lies round all copies
// where it was: first, or after what is taken out of all copies before it.
func inTurn(b *budget.Budget, steps []Step, owner, route []int) []Step {
	round := max(0, slices.IndexFunc(steps, func(s Step) bool { return owner[s.Region] < 0 }))
	turn := make([]int, len(steps))
	for i, s := range steps {
		switch o := owner[s.Region]; {
		case o < 0:
			turn[i] = len(route)
		case i < round:
			turn[i] = route[o]
		default:
			turn[i] = len(route) + 1 + route[o]
		}
	}
	order := make([]int, len(steps))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { b.Step(); return cmp.Compare(turn[i], turn[j]) })
	out := make([]Step, len(steps))
	for i, k := range order {
		out[i] = steps[k]
	}
	hintOnce(out, owner)
	return out
}

// hintOnce leaves each hint where it is given first, and says where the second copy is
// begun that it goes on so.
func hintOnce(steps []Step, owner []int) {
	said, before, told := map[string]bool{}, -1, false
	for i := range steps {
		s, o := &steps[i], owner[steps[i].Region]
		if said[s.Hint] {
			s.Hint = ""
		}
		said[s.Hint], told = true, told || s.Hint == andSoOn // a group of copies was told so
		if o >= 0 && before >= 0 && o != before && !told {
			told, s.Hint = true, andSoOn
		}
		before = o
	}
}

// andSoOn is the hint where a second copy is begun: those after it go the same way.
const andSoOn = "Then copy after copy, the same way."

// route returns the place of each copy on a way over the load: along rows from the top,
// from the left, back from the right, and so on, so that the next lies beside the last.
func route(b *budget.Budget, all []Laid) []int {
	at := make([]geometry.Box, len(all))
	order := make([]int, len(all))
	for i, one := range all {
		at[i], order[i] = one.box(), i
	}
	slices.SortStableFunc(order, func(i, j int) int { b.Step(); return compareBoxes(at[i], at[j]) })
	leftwards := false
	for i := 0; i < len(order); {
		foot, j := at[order[i]].Min.Y, i+1
		for ; j < len(order) && at[order[j]].Centre().Y >= foot; j++ {
			foot = max(foot, at[order[j]].Min.Y)
		}
		slices.SortStableFunc(order[i:j], func(p, q int) int { b.Step(); return cmp.Compare(at[p].Min.X, at[q].Min.X) })
		if leftwards {
			slices.Reverse(order[i:j])
		}
		leftwards, i = !leftwards, j
	}
	places := make([]int, len(all))
	for place, i := range order {
		places[i] = place
	}
	return places
}

// box is the box of the copy on the load.
func (l Laid) box() geometry.Box {
	box := geometry.EmptyBox()
	for _, c := range l.Map.Bounds.Corners() {
		box = box.Include(l.Move.Apply(c))
	}
	return box
}
