package irregular

import (
	"runtime"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/separate"
)

// How many searches run side by side, how often they take over the best of each
// other, and for how many of these times they explore before they compress.
const (
	streams   = 2
	rounds    = 20
	exploring = 15
)

// most is the largest number of copies that are searched for, since each pair
// has a weight. More lie as the start puts them.
const most = 2000

// behind is by how much a stream may be longer than the best and go on with
// its own layout all the same.
const behind = 1.01

func processors() int { return runtime.GOMAXPROCS(0) }

// stream is one of the searches that run side by side.
type stream struct {
	layout *separate.Layout
	best   []separate.Place
	room   separate.Room // that of the best
	pool   []attempt     // in less room than the best took
	shrink float64
	busy   bool // in the midst of a separation
	random separate.Random
}

// attempt is a layout that still overlaps.
type attempt struct {
	places []separate.Place
	loss   float64
}

func newStream(s *stock, room separate.Room, places []separate.Place, seed uint64) *stream {
	t := &stream{shrink: firstShrink, random: separate.Random(seed)}
	t.layout = separate.New(s.on(room.Sheets), s.moving, s.tables, room, places, t.random.Next())
	t.take()
	return t
}

// ahead reports whether a takes less than t.
func (t *stream) ahead(a *stream) bool {
	if t.room.Sheets != a.room.Sheets {
		return t.room.Sheets < a.room.Sheets
	}
	return t.room.Last < a.room.Last
}

// meet brings the best stream to the front, and lets those that are behind go
// on with its layout.
func meet(all []*stream) {
	slices.SortStableFunc(all, func(a, t *stream) int {
		switch {
		case a.ahead(t):
			return -1
		case t.ahead(a):
			return 1
		}
		return 0
	})
	for _, t := range all[1:] {
		if t.room.Sheets > all[0].room.Sheets || t.room.Last > float64(behind*all[0].room.Last) {
			t.adopt(all[0])
		}
	}
}

// adopt takes over the best of another stream.
func (t *stream) adopt(a *stream) {
	t.best = append(t.best[:0], a.best...)
	t.room, t.shrink = a.room, a.shrink
	t.pool, t.busy = t.pool[:0], false
}

// take makes the layout the best.
func (t *stream) take() {
	t.layout.Fit()
	t.best = append(t.best[:0], t.layout.Places...)
	t.room = t.layout.Room
	t.pool = t.pool[:0]
}

// run explores until one count of work, and then compresses until a second one,
// but goes no further than the third, nor below the length least.
func (t *stream) run(b *budget.Budget, least float64, explored, all, until int) {
	t.explore(b, least, min(explored, until))
	if until > explored {
		t.compress(b, least, explored, all, until)
	}
}
