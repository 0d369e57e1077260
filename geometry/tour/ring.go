package tour

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// A port is one of the two sides of a stop, by which it is linked to another
// one: 2s and 2s+1 of stop s. A closed stop has both at its entry, an open one
// has one at each end, so that turning stops round leaves links as they are.
type port = int32

// manyStops is from how many stops on their order is kept in blocks.
const manyStops = 10_000

// ring is the order of the stops as a circle of linked ports. The machine
// rests at stop home, which never moves from place 0.
//
//	    place 0         1             2                  n-1
//	┌─○ home ○─────○ stop ○─────○ stop ○─── … ───○ stop ○─┐
//	└─────────────────────────────────────────────────────┘
//
// A path that may end anywhere has free home's left port: links to it cost
// nothing.
type ring struct {
	b      *budget.Budget
	stops  []stop
	at     []geometry.Point // by port
	mates  []port           // the port that each is linked to
	links  []float64        // what that link costs
	ports  []port           // the left one of each place, of few stops
	pos    []int32          // place by stop
	blocks *blocks          // the order of many stops
	free   port             // -1: none
	cost   Cost
	entry  []int // chosen entry by stop
	notes  []note
	final  bool // changes are not noted, since nobody takes them back
	work   int  // steps taken
	// mostBefore is how many stops have to come before one, at most.
	mostBefore int
	buf        []port // of shuffles
	lent       []port // by list
}

// note is how to take one change back: by a shuffle and the links that were taken
// out, or, where that is none, by the entry that stop had.
type note struct {
	shuffle
	out         [2 * deepest]port // linked before in pairs
	stop, entry int32
}

// newRing returns the ring of all stops in the order of seq, which begins with
// home.
func newRing(b *budget.Budget, stops []stop, seq, entry []int, free port, cost Cost) *ring {
	n := len(stops)
	r := &ring{b: b, stops: stops, at: make([]geometry.Point, 2*n), free: free, cost: cost, entry: entry}
	r.mates, r.links = make([]port, 2*n), make([]float64, 2*n)
	ports := make([]port, n)
	for i, s := range seq {
		b.Step()
		ports[i] = port(2 * s)
		r.mostBefore = max(r.mostBefore, len(stops[s].before))
		r.put(s, entry[s])
	}
	r.arrange(ports)
	return r
}

// arrange puts the stops in an order, by the left ports of all places.
func (r *ring) arrange(ports []port) {
	last := ports[len(ports)-1]
	for _, p := range ports {
		r.join(last^1, p)
		last = p
	}
	if len(ports) > manyStops {
		r.blocks = newBlocks(r.b, ports)
		return
	}
	r.ports, r.pos = ports, make([]int32, len(ports))
	for i, p := range ports {
		r.pos[p>>1] = int32(i)
	}
}

// join links two ports and returns what that costs.
func (r *ring) join(p, q port) float64 {
	c := r.d(p, q)
	r.mates[p], r.mates[q] = q, p
	r.links[p], r.links[q] = c, c
	return c
}

// enter puts the ports of a stop where it is entered and left, and its links with them.
func (r *ring) enter(s, entry int) {
	r.put(s, entry)
	left := port(2 * s)
	r.join(left, r.mates[left])
	r.join(left^1, r.mates[left^1])
}

// put puts the ports of a stop where it is entered and left.
func (r *ring) put(s, entry int) {
	r.entry[s] = entry
	stop := &r.stops[s]
	r.at[2*s] = stop.Entries[entry]
	r.at[2*s+1] = stop.exit(entry)
}

// reenter chooses another entry of a closed stop and notes the old one down.
func (r *ring) reenter(s, entry int) {
	if !r.final {
		r.notes = append(r.notes, note{stop: int32(s), entry: int32(r.entry[s])})
	}
	r.enter(s, entry)
}

// spend takes steps of the search.
func (r *ring) spend(n int) {
	r.work += n
	r.b.Spend(n)
}

// phase is that of the stop at a place.
func (r *ring) phase(i int) int { return r.stops[r.left(i)>>1].Phase }

// d is the cost of a link.
func (r *ring) d(p, q port) float64 {
	if p == r.free || q == r.free {
		return 0
	}
	return r.cost(r.at[p], r.at[q])
}

// place is where a stop comes.
func (r *ring) place(stop int32) int32 {
	if r.blocks != nil {
		return r.blocks.place(stop)
	}
	return r.pos[stop]
}

// left and right are the ports of a place.
func (r *ring) left(i int) port {
	if r.blocks != nil {
		return r.blocks.left(int32(i))
	}
	return r.ports[i]
}

func (r *ring) right(i int) port { return r.left(i) ^ 1 }

// isLeft reports whether a port is the left one of its stop, which comes at a
// place.
func (r *ring) isLeft(p port, place int32) bool {
	if r.blocks != nil {
		one := &r.blocks.all[r.blocks.of[p>>1]]
		return one.left(place-one.first) == p
	}
	return r.ports[place] == p
}

// list is the left ports of places first to last, until the next call.
func (r *ring) list(first, last int) []port {
	if r.blocks == nil {
		return r.ports[first : last+1]
	}
	r.lent = r.blocks.list(r.lent[:0], first, last)
	return r.lent
}

// visit is how the stop at a place is entered: one that was turned round by the other
// end.
func (r *ring) visit(i int) Visit {
	left := r.left(i)
	s := int(left >> 1)
	v := Visit{s, r.entry[s]}
	if !r.stops[s].Closed && left&1 == 1 {
		v.Entry = 1 - v.Entry
	}
	return v
}

// next and prev are the places beside one.
func (r *ring) next(i int) int {
	if i+1 == len(r.stops) {
		return 0
	}
	return i + 1
}

func (r *ring) prev(i int) int {
	if i == 0 {
		return len(r.stops) - 1
	}
	return i - 1
}

// reorder carries an exchange out but for the links that it puts in, and notes down how
// to take it back.
func (r *ring) reorder(x *exchange) {
	if !r.final {
		r.notes = append(r.notes, note{shuffle: x.inverse(), out: x.t})
	}
	r.shuffle(&x.shuffle)
}

// shuffle carries a shuffle out.
func (r *ring) shuffle(x *shuffle) {
	first, last := int(x.gap[0])+1, int(x.gap[x.k-1])
	if r.blocks == nil {
		r.b.Spend(1 + (last-first)/8)
		r.buf = x.shuffled(r.buf[:0], r.ports)
		copy(r.ports[first:], r.buf)
		for i, p := range r.buf {
			r.pos[p>>1] = int32(first + i)
		}
		return
	}
	if last-first > blockSize {
		r.blocks.shuffle(x)
		return
	}
	local := *x
	for i := range local.gap {
		local.gap[i] -= int32(first)
	}
	r.buf = local.shuffled(r.buf[:0], r.list(first, last))
	r.blocks.write(first, r.buf)
}

// undo takes all noted changes back.
func (r *ring) undo() {
	for k := len(r.notes) - 1; k >= 0; k-- {
		n := &r.notes[k]
		if n.k == 0 {
			r.enter(int(n.stop), int(n.entry))
			continue
		}
		r.shuffle(&n.shuffle)
		for i := 0; i < 2*n.k; i += 2 {
			r.join(n.out[i], n.out[i+1])
		}
	}
	r.settled()
}

// settled forgets the notes: the changes stand.
func (r *ring) settled() { r.notes = r.notes[:0] }
