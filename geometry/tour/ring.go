package tour

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// A port is one of the two sides of a stop, by which it is linked to another
// one: 2s and 2s+1 of stop s. A closed stop has both at its entry, an open one
// has one at each end, so that turning stops round leaves links as they are.
type port = int32

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
	b     *budget.Budget
	stops []stop
	at    []geometry.Point // by port
	ports []port           // the left one of each place
	pos   []int32          // place by stop; -1: not in the ring
	free  port             // -1: none
	cost  Cost
	entry []int // chosen entry by stop
	notes []note
	kept  []port    // what the notes overwrote
	links []float64 // cost of the link of each port; below 0: not known
	moved []port    // whose links the notes changed
	work  int       // steps taken
}

// note is one change, to be taken back: places from first on that were
// overwritten, or, where first is -1, the entry that stop had.
type note struct{ first, count, stop, entry int32 }

// newRing returns the ring of all stops in the order of seq, which begins with
// home.
func newRing(b *budget.Budget, stops []stop, seq, entry []int, free port, cost Cost) *ring {
	n := len(stops)
	r := &ring{b: b, stops: stops, at: make([]geometry.Point, 2*n), ports: make([]port, n), pos: make([]int32, n), free: free, cost: cost, entry: entry, links: make([]float64, 2*n)}
	for i, s := range seq {
		b.Step()
		r.ports[i], r.pos[s] = port(2*s), int32(i)
		r.enter(s, entry[s])
	}
	return r
}

// enter puts the ports of a stop where it is entered and left.
func (r *ring) enter(s, entry int) {
	r.entry[s] = entry
	stop := &r.stops[s]
	r.at[2*s] = stop.Entries[entry]
	r.at[2*s+1] = stop.exit(entry)
	r.links[2*s], r.links[2*s+1] = -1, -1
}

// reenter chooses another entry of a closed stop and notes the old one down.
func (r *ring) reenter(s, entry int) {
	r.notes = append(r.notes, note{first: -1, stop: int32(s), entry: int32(r.entry[s])})
	left := port(2 * s)
	r.relink(left, left^1, r.mate(left), r.mate(left^1))
	r.enter(s, entry)
}

// spend takes steps of the search.
func (r *ring) spend(n int) {
	r.work += n
	r.b.Spend(n)
}

// phase is that of the stop at a place.
func (r *ring) phase(i int) int { return r.stops[r.ports[i]>>1].Phase }

// d is the cost of a link.
func (r *ring) d(p, q port) float64 {
	if p == r.free || q == r.free {
		return 0
	}
	return r.cost(r.at[p], r.at[q])
}

// link is the cost of the link of a port to its mate q.
func (r *ring) link(p, q port) float64 {
	if r.links[p] < 0 {
		r.links[p] = r.d(p, q)
	}
	return r.links[p]
}

// relink says that the links of these ports are others now, and again if the notes
// are taken back.
func (r *ring) relink(ports ...port) {
	r.moved = append(r.moved, ports...)
	for _, p := range ports {
		r.links[p] = -1
	}
}

// left and right are the ports of a place.
func (r *ring) left(i int) port { return r.ports[i] }

func (r *ring) right(i int) port { return r.ports[i] ^ 1 }

// mate is the port that p is linked to.
func (r *ring) mate(p port) port {
	i := int(r.pos[p>>1])
	if r.ports[i] == p {
		if i == 0 {
			i = len(r.ports)
		}
		return r.ports[i-1] ^ 1
	}
	if i++; i == len(r.ports) {
		i = 0
	}
	return r.ports[i]
}

// next and prev are the places beside one.
func (r *ring) next(i int) int {
	if i+1 == len(r.ports) {
		return 0
	}
	return i + 1
}

func (r *ring) prev(i int) int {
	if i == 0 {
		return len(r.ports) - 1
	}
	return i - 1
}

// write overwrites places from first on and notes down what was there.
func (r *ring) write(first int, ports []port) {
	r.b.Spend(1 + len(ports)/8)
	count := len(ports)
	r.notes = append(r.notes, note{first: int32(first), count: int32(count)})
	i := first
	for _, p := range ports {
		r.kept = append(r.kept, r.ports[i])
		r.ports[i] = p
		r.pos[p>>1] = int32(i)
		if i++; i == len(r.ports) {
			i = 0
		}
	}
}

// undo takes all noted changes back.
func (r *ring) undo() {
	for k := len(r.notes) - 1; k >= 0; k-- {
		n := r.notes[k]
		if n.first < 0 {
			r.enter(int(n.stop), int(n.entry))
			continue
		}
		r.b.Spend(1 + int(n.count)/8)
		old := r.kept[len(r.kept)-int(n.count):]
		i := int(n.first)
		for _, p := range old {
			r.ports[i] = p
			r.pos[p>>1] = int32(i)
			if i++; i == len(r.ports) {
				i = 0
			}
		}
		r.kept = r.kept[:len(r.kept)-int(n.count)]
	}
	for _, p := range r.moved {
		r.links[p] = -1
	}
	r.settled()
}

// settled forgets the notes: the changes stand.
func (r *ring) settled() { r.notes, r.kept, r.moved = r.notes[:0], r.kept[:0], r.moved[:0] }

// total is the cost of all links.
func (r *ring) total() float64 {
	total := 0.0
	for i := range r.ports {
		total += r.d(r.right(i), r.left(r.next(i)))
	}
	return total
}
