package tour

// deepest is how many links one move exchanges at most: a kick takes out four.
const deepest = 4

// exchange is a move: the links t[0]-t[1], t[2]-t[3], … are taken out, and
// t[1]-t[2], t[3]-t[4], … are put in, the last port with t[0].
type exchange struct {
	t [2 * deepest]port

	shuffle // made by arrange
}

// shuffle is what an exchange does to the order of stops. The ring falls into k
// pieces. Piece 0 holds home; the others lie between gap[i-1] and gap[i], where a
// gap is the place before a link that is taken out. After the move the pieces
// follow each other as in order, turned round where turned says so.
type shuffle struct {
	k      int // links taken out
	gap    [deepest]int32
	order  [deepest]int8
	turned [deepest]bool
}

// arrange finds how the pieces follow each other after the exchange, and
// reports whether they make one circle.
func (x *exchange) arrange(r *ring) bool {
	k := x.k
	var at [2 * deepest]int8   // sorted place of the gap, by index in t
	var ends [2 * deepest]int8 // index in t, by 2·gap for the port before it, +1 for the one after
	for i := range k {
		p := x.t[2*i]
		g := r.place(p >> 1)
		right := !r.isLeft(p, g)
		if !right {
			g = r.place(x.t[2*i+1] >> 1)
		}
		j := i
		for ; j > 0 && x.gap[j-1] > g; j-- {
			x.gap[j] = x.gap[j-1]
			ends[2*j], ends[2*j+1] = ends[2*j-2], ends[2*j-1]
		}
		x.gap[j] = g
		if right {
			ends[2*j], ends[2*j+1] = int8(2*i), int8(2*i+1)
		} else {
			ends[2*j], ends[2*j+1] = int8(2*i+1), int8(2*i)
		}
	}
	for e, i := range ends[:2*k] {
		at[i] = int8(e)
	}
	end := int8(0) // the port before gap 0: the right end of piece 0
	for n := 1; n < k; n++ {
		i := int(ends[end])
		if i&1 == 1 {
			i++
		} else {
			i--
		}
		if i < 0 {
			i = 2*k - 1
		} else if i == 2*k {
			i = 0
		}
		e := at[i]
		var piece int8
		turned := e&1 == 0 // before its gap: the piece is entered at its right end
		if turned {
			piece = e / 2
			end = 2*piece - 1 // left by its left end, which is after the gap before
		} else {
			piece = e/2 + 1
			if int(piece) == k {
				return false
			}
			end = 2 * piece
		}
		if piece == 0 {
			return false
		}
		x.order[n], x.turned[n] = piece, turned
	}
	return true
}

// piece returns the first and last place of a piece other than 0.
func (x *shuffle) piece(i int8) (first, last int) {
	return int(x.gap[i-1]) + 1, int(x.gap[i])
}

// inverse is the shuffle that takes x back.
func (x *shuffle) inverse() shuffle {
	y := shuffle{k: x.k}
	y.gap[0] = x.gap[0]
	for n := 1; n < x.k; n++ {
		piece := x.order[n]
		y.gap[n] = y.gap[n-1] + x.gap[piece] - x.gap[piece-1]
		y.order[piece], y.turned[piece] = int8(n), x.turned[n]
	}
	return y
}

// shuffled appends the ports of all pieces but piece 0 in their new order.
func (x *shuffle) shuffled(to, ports []port) []port {
	for n := 1; n < x.k; n++ {
		first, last := x.piece(x.order[n])
		if x.turned[n] {
			for i := last; i >= first; i-- {
				to = append(to, ports[i]^1)
			}
			continue
		}
		to = append(to, ports[first:last+1]...)
	}
	return to
}
