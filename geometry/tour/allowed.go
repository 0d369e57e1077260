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
	return last == len(r.ports) || reached <= r.phase(last)
}

// preceded reports whether every stop of the pieces still comes before those
// that have to come later.
func (x *exchange) preceded(r *ring) bool {
	var rank [deepest]int8 // by piece
	for n := 1; n < x.k; n++ {
		rank[x.order[n]] = int8(n)
	}
	end := x.gap[x.k-1]
	for n := 1; n < x.k; n++ {
		piece := x.order[n]
		first, last := x.piece(piece)
		r.spend(1 + (last-first)/4)
		for i := first; i <= last; i++ {
			for _, later := range r.stops[r.ports[i]>>1].After {
				p := r.pos[later]
				if p > end {
					continue
				}
				if p <= int32(last) {
					if x.turned[n] {
						return false
					}
					continue
				}
				other := piece + 1
				for p > x.gap[other] {
					other++
				}
				if rank[other] < rank[piece] {
					return false
				}
			}
		}
	}
	return true
}
