package irregular

import (
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/exact"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/nest/irregular/internal/separate"
)

// begin returns the layout that the search begins with: the best of the one
// that the caller gave, boxes in rows, and one that sets piece after piece down.
// It has no placements where there is none.
func (s *stock) begin(b *budget.Budget, opt Options) Layout {
	best, ok := s.rows(b)
	room := s.roomy(best.Sheets)
	places := make([]separate.Place, s.moving)
	for i := range places {
		places[i].Turn = separate.Nowhere
	}
	l := separate.New(s.on(room.Sheets), s.moving, s.tables, room, s.withZones(room, places), opt.Seed)
	if separate.Construct(b, l) {
		if made, fine := s.finish(b, l.Room, l.Places[:s.moving+l.Room.Sheets*len(s.zones)]); fine && (!ok || made.better(&best)) {
			best, ok = made, true
		}
	}
	if given, fine := s.given(b, opt.Start); fine && (!ok || given.better(&best)) {
		best = given
	}
	return best
}

// roomy returns a room of so many sheets, or one strip that holds all.
func (s *stock) roomy(sheets int) separate.Room {
	room := s.room
	if room.Length > 0 {
		room.Sheets = max(1, sheets)
	} else {
		for i := range s.moving {
			room.Length += s.items[i].Turns[0].H
		}
		for i, z := range s.zones {
			room.Length = max(room.Length, z.Y) + s.items[s.moving+i].Turns[0].H
		}
	}
	room.Last, room.Pitch = room.Length, pitch(room.Length)
	return room
}

// given returns a layout that the caller gave, if it is one.
func (s *stock) given(b *budget.Budget, list []Placement) (Layout, bool) {
	if len(list) != s.moving || len(list) == 0 {
		return Layout{}, false
	}
	l := Layout{Placements: list}
	for i, at := range list {
		if at.Piece != s.owner[i] || s.turnOf(at) < 0 || at.Sheet < 0 || at.Sheet >= s.moving {
			return Layout{}, false
		}
		l.Sheets = max(l.Sheets, at.Sheet+1)
	}
	room, places := s.places(l)
	room.Last = room.Length
	if s.room.Length == 0 {
		if l.Sheets > 1 {
			return Layout{}, false
		}
		for i, p := range places[:s.moving] {
			room.Last = max(room.Last, p.Y+s.items[i].Turns[p.Turn].H)
		}
		room.Length, room.Pitch = room.Last, pitch(room.Last)
	}
	bodies := s.bodies(room, places, 0)
	if !exact.Disjoint(b, bodies) {
		return Layout{}, false
	}
	return s.layout(room, places, bodies), true
}

// rows lays the boxes of items out in rows, each row and sheet from its start,
// and past the boxes of zones. It returns false where one finds no room.
func (s *stock) rows(b *budget.Budget) (Layout, bool) {
	room := s.roomy(s.moving)
	places := make([]separate.Place, s.moving)
	at := separate.Place{}
	next, sheet := 0.0, 0 // where the next row begins
	for i := 0; i < s.moving; {
		b.Step()
		o := s.items[i].Turns[0]
		if zone := s.inTheWay(at, o); zone >= 0 {
			box := s.items[s.moving+zone].Turns[0]
			at.X = s.zones[zone].X + box.W
			next = max(next, s.zones[zone].Y+box.H)
			continue
		}
		switch {
		case at.X+o.W > room.Width:
			at.X, at.Y = 0, max(next, at.Y+1)
		case at.Y+o.H > room.Length:
			if sheet++; sheet > i {
				return Layout{}, false
			}
			at, next = separate.Place{}, 0
		default:
			places[i] = separate.Place{X: at.X, Y: at.Y + float64(float64(sheet)*room.Pitch)}
			at.X += o.W
			next = max(next, at.Y+o.H)
			i++
		}
	}
	room.Sheets = sheet + 1
	room.Last = math.Ceil(next)
	places = s.withZones(room, places)
	return s.layout(room, places, s.bodies(room, places, 0)), true
}

// inTheWay returns a zone whose box meets that of an outline, or −1.
func (s *stock) inTheWay(p separate.Place, o *outline.Outline) int {
	for i, z := range s.zones {
		box := s.items[s.moving+i].Turns[0]
		if p.X < z.X+box.W && z.X < p.X+o.W && p.Y < z.Y+box.H && z.Y < p.Y+o.H {
			return i
		}
	}
	return -1
}
