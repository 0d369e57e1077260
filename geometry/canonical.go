package geometry

import "math"

// Canonical returns p as it reads back from its text form: arcs of more than
// 120° in pieces, flat ones straight, bulges as the radius gives them, and no
// minus sign on zero. What is computed from it is then the same before and
// after p was stored.
func (p Path) Canonical() Path {
	plain := len(p.Segments) > 0 && p.Finite()
	for _, s := range p.Segments {
		plain = plain && s.Kind != Arc
	}
	if plain && (!p.Closed || p.Segments[len(p.Segments)-1].End == p.Start) {
		return p.unsigned()
	}
	if q, stored := p.readBack(); stored {
		return q
	}
	return p
}

// readBack returns p as it reads back from its text form, without the text, whose numbers
// read back exactly; false where p has none.
func (p Path) readBack() (q Path, stored bool) {
	if !p.Finite() {
		return q, false
	}
	q = Path{Start: p.Start.unsigned(), Segments: make([]Segment, 0, len(p.Segments))}
	from := p.Start
	for _, s := range p.Segments {
		switch {
		case s.Kind == Cubic:
			q.Segments = append(q.Segments, CubicTo(s.C1.unsigned(), s.C2.unsigned(), s.End.unsigned()))
		case s.Straight():
			q.Segments = append(q.Segments, LineTo(s.End.unsigned()))
		default:
			r, left, ends, n := arcPieces(from, s)
			if math.IsInf(r, 0) || math.IsNaN(r) {
				return q, false
			}
			for _, end := range ends[:n] {
				q.Segments = append(q.Segments, EndpointArc(q.End(), end.unsigned(), r, r, 0, false, left)...)
			}
		}
		from = s.End
	}
	if len(q.Segments) == 0 {
		return Path{}, true
	}
	if p.Closed {
		q.Close()
	}
	return q, true
}

// unsigned returns p without minus signs on zeros, sharing what has none.
func (p Path) unsigned() Path {
	p.Start = p.Start.unsigned()
	for i, s := range p.Segments {
		if s.End.signedZero() || s.C1.signedZero() || s.C2.signedZero() {
			own := make([]Segment, len(p.Segments))
			copy(own, p.Segments)
			for k := i; k < len(own); k++ {
				own[k].End, own[k].C1, own[k].C2 = own[k].End.unsigned(), own[k].C1.unsigned(), own[k].C2.unsigned()
			}
			p.Segments = own
			break
		}
	}
	return p
}

func (p Point) unsigned() Point { return Point{p.X + 0, p.Y + 0} }

func (p Point) signedZero() bool {
	return p.X == 0 && math.Signbit(p.X) || p.Y == 0 && math.Signbit(p.Y)
}
