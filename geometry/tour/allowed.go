package tour

// allowed reports whether an arranged exchange keeps to the order of stops.
func (s *search) allowed(x *exchange) bool {
	if !s.tied {
		return true
	}
	return x.phased(s.ring) && x.preceded(s.ring)
}

// phased reports whether phases still follow each other: they rise along the
// ring, so the ends of the pieces tell.
func (x *exchange) phased(r *ring) bool {
	reached := r.phase(int(x.gap[0]))
	for n := 1; n < x.k; n++ {
		first, last := x.piece(x.order[n])
		from, to := r.phase(first), r.phase(last)
		if from < reached || x.turned[n] && from != to {
			return false
		}
		reached = to
	}
	last := int(x.gap[x.k-1]) + 1
	return last == len(r.stops) || reached <= r.phase(last)
}

// preceded reports whether every stop of the pieces still comes before those
// that have to come later.
func (x *exchange) preceded(r *ring) bool {
	for n := 1; n < x.k; n++ {
		if x.turned[n] && r.bound(x.order[n], x.order[n], x) {
			return false
		}
		for m := n + 1; m < x.k; m++ {
			if x.order[m] < x.order[n] && r.bound(x.order[m], x.order[n], x) {
				return false
			}
		}
	}
	return true
}

const (
	fewBefore = 64    // stops that may have to come before one that is looked up by them
	mostTied  = 2_000 // stops that are looked through for one exchange of many stops
)

// bound reports whether a stop of one piece has to come before one of another, by
// looking through the shorter one.
func (r *ring) bound(piece, later int8, x *exchange) bool {
	first, last := x.piece(piece)
	from, to := x.piece(later)
	if to-from < last-first && r.mostBefore <= fewBefore {
		return r.tie(from, to, first, last, true)
	}
	return r.tie(first, last, from, to, false)
}

// tie reports whether a stop at places first to last has to come after one at places
// from to to, or else before it. Long pieces of many stops count as if one had.
func (r *ring) tie(first, last, from, to int, after bool) bool {
	if r.blocks != nil && last-first > mostTied {
		return true // not known, and not to be found out for each of so many
	}
	r.spend(1 + (last-first)/4)
	for _, p := range r.list(first, last) {
		s := &r.stops[p>>1]
		others := s.After
		if after {
			others = s.before
		}
		r.b.Spend(len(others) / 4)
		for _, other := range others {
			if at := int(r.place(int32(other))); from <= at && at <= to {
				return true
			}
		}
	}
	return false
}
