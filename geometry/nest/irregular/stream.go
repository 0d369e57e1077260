package irregular

import (
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/separate"
)

// How the stock is shortened: by firstShrink of its length at first, half of
// that whenever the pieces could not be separated, and no less than leastShrink;
// then, to the end, by shares that fall from one to the other.
const (
	firstShrink   = 0.03
	leastShrink   = 0.001
	firstCompress = 0.0005
	lastCompress  = 0.00001
	mostAttempts  = 20
)

// patience is how long a separation is tried: when much is taken away, when
// little is, and when the stock is compressed.
func patience(shrink float64) separate.Patience {
	switch {
	case shrink > leastShrink:
		return separate.Patience{Rounds: 40, Strikes: 1}
	case shrink == leastShrink:
		return separate.Patience{Rounds: 100, Strikes: 2}
	}
	return separate.Patience{Rounds: 100, Strikes: 1}
}

// explore shortens the stock until its work is done.
func (t *stream) explore(b *budget.Budget, least float64, until int) {
	for t.layout.Work < until {
		if !t.busy && !t.begin(least) {
			return
		}
		outcome := t.layout.Separate(b, patience(t.shrink), until)
		t.busy = outcome == separate.Unfinished
		switch {
		case t.busy:
		case outcome == separate.Separated:
			t.take()
		case t.shrink > leastShrink:
			t.shrink = max(leastShrink, t.shrink/2)
		default:
			t.keep()
		}
	}
}

// begin begins a separation: in less room than the best took, or once more in
// that in which the last one failed. It returns false where there is no less.
func (t *stream) begin(least float64) bool {
	if len(t.pool) == 0 {
		t.layout.Restore(t.room, t.best)
		if !t.layout.Shorten(t.shrink, -1, least) {
			return false
		}
	} else {
		t.restart()
	}
	t.layout.Begin()
	return true
}

// keep puts the layout into the pool.
func (t *stream) keep() {
	a := attempt{slices.Clone(t.layout.Places), t.layout.Loss()}
	at := 0
	for at < len(t.pool) && t.pool[at].loss <= a.loss {
		at++
	}
	t.pool = slices.Insert(t.pool, at, a)
	t.pool = t.pool[:min(len(t.pool), mostAttempts)]
}

// restart begins again with one of the pool, one of the better more often, and
// lets two large items change places.
func (t *stream) restart() {
	u := float64(t.random.Unit() * t.random.Unit())
	t.layout.Set(t.pool[int(float64(u*float64(len(t.pool))))].places)
	t.layout.Swap()
}

// compress shortens the stock by less and less, as the work goes from one count
// to another.
func (t *stream) compress(b *budget.Budget, least float64, from, to, until int) {
	for t.layout.Work < until {
		share := float64(t.layout.Work-from) / float64(to-from)
		ratio := firstCompress + float64(share*(lastCompress-firstCompress))
		t.layout.Restore(t.room, t.best)
		if !t.layout.Shorten(ratio, t.random.Unit(), least) {
			return
		}
		t.layout.Begin()
		if t.layout.Separate(b, patience(ratio), until) == separate.Separated {
			t.take()
		}
	}
}
