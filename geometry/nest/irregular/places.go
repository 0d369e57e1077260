package irregular

import (
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/exact"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/nest/irregular/internal/separate"
	"knifedesk/geometry/planar"
)

// pitch is the distance from one sheet to the next for sheets of a length.
func pitch(length float64) float64 { return length + 1000 }

// places returns a layout in the terms of the search.
func (s *stock) places(l Layout) (separate.Room, []separate.Place) {
	room := s.room
	room.Sheets = l.Sheets
	room.Last = steps(l.LengthMM) - 2*s.inset
	if room.Length == 0 {
		room.Length = room.Last
	}
	room.Pitch = pitch(room.Length)
	places := make([]separate.Place, s.moving)
	for i, at := range l.Placements {
		turn := s.turnOf(at)
		o := s.items[i].Turns[turn].At
		places[i] = separate.Place{
			Turn: turn,
			X:    steps(at.XMM) + float64(o.X) - s.inset,
			Y:    steps(at.YMM) + float64(o.Y) - s.inset + float64(float64(at.Sheet)*room.Pitch),
		}
	}
	return room, s.withZones(room, places)
}

// turnOf returns the turn of an item that a placement names, or −1.
func (s *stock) turnOf(at Placement) int {
	for i, t := range s.turns[at.Piece] {
		if t == at.Turn {
			return i
		}
	}
	return -1
}

// item returns what lies at an index of places.
func (s *stock) item(i int) *separate.Item {
	if i >= s.moving {
		i = s.moving + (i-s.moving)%len(s.zones)
	}
	return &s.items[i]
}

// on returns all items, with the zones of so many sheets.
func (s *stock) on(sheets int) []separate.Item {
	items := append([]separate.Item(nil), s.items[:s.moving]...)
	for range sheets {
		items = append(items, s.items[s.moving:]...)
	}
	return items
}

// withZones adds the places of the zones, those of the first sheet first.
func (s *stock) withZones(room separate.Room, places []separate.Place) []separate.Place {
	for sheet := range room.Sheets {
		for _, z := range s.zones {
			z.Y += float64(float64(sheet) * room.Pitch)
			places = append(places, z)
		}
	}
	return places
}

// bodies returns items in their places, on the grid, with the limits of the
// room, of which the last sheet is longer by more.
func (s *stock) bodies(room separate.Room, places []separate.Place, more float64) []exact.Body {
	bodies := make([]exact.Body, len(places))
	for i, p := range places {
		o := s.item(i).Turns[p.Turn]
		body := exact.Body{Outline: o, X: int64(math.Floor(p.X + 0.5)), Y: int64(math.Floor(p.Y + 0.5))}
		body.Low = outline.Point{X: body.X, Y: body.Y}
		body.High = body.Low
		if i < s.moving {
			sheet := max(0, min(int(p.Y/room.Pitch), room.Sheets-1))
			start := float64(float64(sheet) * room.Pitch)
			end := room.Length
			if sheet == room.Sheets-1 {
				end = room.Last + more
				if s.room.Length > 0 {
					end = min(end, room.Length)
				}
			}
			body.Low = outline.Point{X: 0, Y: int64(start)}
			body.High = outline.Point{X: int64(room.Width - o.W), Y: int64(math.Ceil(start+end) - o.H)}
		}
		bodies[i] = body
	}
	return bodies
}

// finish makes a layout of places that overlap by no more than was given away:
// bodies are moved apart until none overlap, and sink as far as they can. It
// returns false where that does not succeed.
func (s *stock) finish(b *budget.Budget, room separate.Room, places []separate.Place) (Layout, bool) {
	for _, more := range [...]float64{0, 4, 40, 400} {
		for _, spare := range [...]float64{0, 0.8} {
			bodies := s.bodies(room, places, more)
			if !exact.Resolve(b, bodies, 2*s.give, spare) {
				continue
			}
			exact.Settle(b, bodies)
			if exact.Disjoint(b, bodies) {
				return s.layout(room, places, bodies), true
			}
		}
	}
	return Layout{}, false
}

// layout returns bodies in the terms of the problem.
func (s *stock) layout(room separate.Room, places []separate.Place, bodies []exact.Body) Layout {
	l := Layout{Sheets: room.Sheets}
	l.LeastSheets, l.LeastMM = s.bound()
	end := 0.0
	for i := range s.moving {
		body, owner := &bodies[i], s.owner[i]
		at := Placement{Piece: owner, Turn: s.turns[owner][places[i].Turn], Sheet: int(float64(body.Y) / room.Pitch)}
		if i > 0 && s.owner[i-1] == owner {
			at.Copy = l.Placements[i-1].Copy + 1
		}
		y := float64(body.Y) - float64(float64(at.Sheet)*room.Pitch)
		at.XMM = (float64(body.X-body.At.X) + s.inset) / planar.PerMM
		at.YMM = (y - float64(body.At.Y) + s.inset) / planar.PerMM
		if at.Sheet == room.Sheets-1 {
			end = max(end, y+body.Top)
		}
		l.CostMM += s.problem.Pieces[owner].turn(at.Turn).CostMM
		l.Placements = append(l.Placements, at)
	}
	l.LengthMM = (end + 2*s.inset) / planar.PerMM
	return l
}
