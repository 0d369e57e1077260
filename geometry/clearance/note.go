package clearance

// note takes the largest ball at s in.
func (m *measure) note(s site, b ball) {
	if !m.faces(s, b) || b.radius > m.reach() {
		return
	}
	if 2*b.radius < m.limit {
		m.narrow = append(m.narrow, narrow{b.centre, b.centre, 2 * b.radius, 2 * b.radius, s.share})
	}
	m.candidates.offer(s, b)
}

// noteStretch takes in the balls at the sites of a row between two others, all of
// which touch one edge. Along an edge their widths change evenly, so that the ends
// of the stretch, half-way to the sites beside it, say all.
func (m *measure) noteStretch(w row, before, after, touched int) {
	at := func(k int) (site, ball) {
		s := m.r.site(w, k)
		return s, touching(m.r, s, touched)
	}
	m.budget.Spend(4)
	s, a := at(before + 1)
	t, z := at(after - 1)
	faces, all := m.faces(s, a), after-before-1
	const few = 4
	switch {
	case all < few || w.edge2 >= 0:
		for k := before + 1; k < after; k++ {
			m.budget.Step()
			m.note(at(k))
		}
	case faces != m.faces(t, z): // from somewhere on they are the sides of one corner
		middle := (before + after) / 2
		m.noteStretch(w, before, middle, touched)
		m.noteStretch(w, middle-1, after, touched)
	case faces:
		m.candidates.offer(s, a)
		m.candidates.offer(t, z)
		half := 0.5 / float64(all-1) // of the way from one to the other
		n := narrow{a.centre, z.centre, 2 * a.radius, 2 * z.radius, w.share * float64(all)}
		if n, some := n.part(-half, 1+half).below(m.limit); some {
			m.narrow = append(m.narrow, n)
		}
	}
}
