package separate

import "knifedesk/geometry/budget"

// Patience says when a separation is given up: after so many rounds without
// less overlap than before, so many times in a row with little gained.
type Patience struct{ Rounds, Strikes int }

// gained is what the overlap must fall to, as a share, for a strike not to count.
const gained = 0.98

// Outcome is how a separation stands.
type Outcome int

// The outcomes.
const (
	Unfinished Outcome = iota // the count of work was reached
	Separated                 // no items overlap
	GivenUp                   // the layout is the one with the least overlap that was found
)

// effort is how far a separation has come.
type effort struct {
	least, before float64
	strikes, idle int
	kept          []Place
}

// Begin begins a separation: all weights are 1 again.
func (l *Layout) Begin() {
	for i := range l.weight {
		l.weight[i] = 1
	}
	l.effort.least = l.Loss()
	l.effort.before = l.effort.least
	l.effort.strikes, l.effort.idle = 0, 0
	l.effort.kept = append(l.effort.kept[:0], l.Places[:l.moving]...)
}

// Separate goes on with a separation until the count of Work.
func (l *Layout) Separate(b *budget.Budget, p Patience, until int) Outcome {
	for e := &l.effort; e.least > 0; {
		if l.Work >= until {
			return Unfinished
		}
		l.round(b)
		e.idle++
		if loss := l.Loss(); loss < e.least {
			if loss < float64(gained*e.least) {
				e.idle = 0
			}
			e.least = loss
			copy(e.kept, l.Places)
		}
		l.reweigh()
		if e.idle < p.Rounds {
			continue
		}
		if e.strikes++; e.least < float64(gained*e.before) {
			e.strikes = 0
		}
		e.before, e.idle = e.least, 0
		l.Set(e.kept)
		if e.strikes >= p.Strikes {
			return GivenUp
		}
	}
	return Separated
}

// round moves every item that overlaps another once, in any order.
func (l *Layout) round(b *budget.Budget) {
	l.order = l.order[:0]
	for i := range l.moving {
		if l.weighted(i) > 0 {
			l.order = append(l.order, i)
		}
	}
	l.random.shuffle(l.order)
	for _, i := range l.order {
		if l.weighted(i) > 0 {
			l.move(b, i)
		}
	}
}

// How weights change in a round: by a factor between the first two, the more
// the pair overlaps, or where it does not by the third, down to 1.
const (
	leastRise = 1.2
	mostRise  = 2.0
	decay     = 0.95
)

// reweigh raises the weights of pairs that overlap, and lowers the others'.
func (l *Layout) reweigh() {
	n, most := len(l.items), 0.0
	for i := range l.moving {
		for _, d := range l.loss[i*n+i+1 : (i+1)*n] {
			most = max(most, d)
		}
	}
	if most == 0 {
		return
	}
	for i := range l.moving {
		for k := i + 1; k < n; k++ {
			w := l.weight[i*n+k]
			if d := l.loss[i*n+k]; d > 0 {
				w = float64(w * (leastRise + float64((mostRise-leastRise)*(d/most))))
			} else {
				w = max(1, float64(w*decay))
			}
			l.weight[i*n+k], l.weight[k*n+i] = w, w
		}
	}
}
