package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/workshop"
)

// Saving is a small change by which the same order takes less stock, laid in rows. It
// was laid out with the change made.
type Saving struct {
	NarrowerMM float64 `json:"narrower_mm,omitempty"` // whole mm less in width
	ShorterMM  float64 `json:"shorter_mm,omitempty"`  // whole mm less in height
	Fewer      int     `json:"fewer,omitempty"`       // copies less
	Across     int     `json:"across,omitempty"`      // copies that lie side by side then
	Sheets     int     `json:"sheets,omitempty"`      // that are saved
	RollMM     float64 `json:"roll_mm,omitempty"`     // of roll that are saved
}

// What is worth telling (common practice, no source): changes that nobody sees, and
// savings that anybody would want.
const (
	mostSavings    = 3
	mostLessMM     = 10   // off a side
	mostLessShare  = 0.05 // of a side
	mostFewerShare = 0.1  // of the copies
	leastRollMM    = 50
	leastRollShare = 0.05 // of the roll that is taken
)

// savings tries what would save stock, where copies lie in rows.
func savings(b *budget.Budget, l *Layout, piece Piece, req Request, a area) []Saving {
	if l.Panels != nil || l.Nested != nil && l.Nested.Better {
		return nil
	}
	now, _ := tried(b, piece, req)
	var all []Saving
	for _, s := range changes(piece, req, a, now) {
		then, ok := tried(b, s.piece(piece), s.request(req))
		s.Sheets, s.RollMM, s.Across = now.sheets-then.sheets, now.rollMM-then.rollMM, then.across
		if ok && s.worth(now, req.Stock.Form == workshop.Roll) {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(s, t Saving) int {
		return cmp.Or(cmp.Compare(t.Sheets, s.Sheets), cmp.Compare(math.Round(t.RollMM), math.Round(s.RollMM)), cmp.Compare(s.less(), t.less()))
	})
	return all[:min(len(all), mostSavings)]
}

// amount is what a layout takes.
type amount struct {
	sheets, across, last int // last: copies on the last sheet
	rollMM               float64
}

// tried lays the copies in rows and counts what they take.
func tried(b *budget.Budget, piece Piece, req Request) (amount, bool) {
	l := &Layout{}
	a := l.usable(piece, req)
	allowed := l.turns(piece, req, a)
	if !allowed.Straight && !allowed.Quarter {
		return amount{}, false
	}
	plan, ok := a.equal(b, piece.size(), req.Stock, req.Copies, allowed)
	if !ok {
		return amount{}, false
	}
	rows := inRows(plan)
	l.load(b, piece, req, a, rows)
	out := amount{last: len(rows[len(rows)-1].spots)}
	for _, load := range l.Loads {
		if a.roll {
			out.rollMM += load.LengthMM
		} else {
			out.sheets += max(1, len(load.Sheets))
		}
	}
	for _, at := range rows[0].spots {
		if at.corner.Y < 1e-6 {
			out.across++
		}
	}
	return out, true
}

// changes lists what may save stock: a side so much shorter that one copy more lies in
// a row, and as many copies less as lie on a last sheet of their own.
func changes(piece Piece, req Request, a area, now amount) []Saving {
	var all []Saving
	gap := req.Stock.GapMM
	rooms := []float64{a.box.Width()}
	if !a.roll {
		rooms = append(rooms, a.box.Height())
	}
	for _, room := range rooms {
		for i, side := range []float64{piece.Bounds.Width(), piece.Bounds.Height()} {
			more := math.Floor((room+gap)/(side+gap)) + 1
			less := math.Ceil(side - ((room+gap)/more - gap) - 1e-9)
			if less < 1 || less > mostLessMM || less > mostLessShare*side {
				continue
			}
			s := Saving{NarrowerMM: less}
			if i == 1 {
				s = Saving{ShorterMM: less}
			}
			if !slices.Contains(all, s) {
				all = append(all, s)
			}
		}
	}
	if !a.roll && now.sheets > 1 && float64(now.last) <= mostFewerShare*float64(req.Copies) {
		all = append(all, Saving{Fewer: now.last})
	}
	return all
}

// worth says whether a saving is worth telling.
func (s *Saving) worth(now amount, roll bool) bool {
	if roll {
		return s.RollMM >= leastRollMM && s.RollMM >= leastRollShare*now.rollMM
	}
	return s.Sheets > 0
}

func (s *Saving) less() float64 { return s.NarrowerMM + s.ShorterMM + float64(s.Fewer) }

// piece is the piece with the change made.
func (s *Saving) piece(p Piece) Piece {
	p.Bounds.Max = p.Bounds.Max.Sub(geometry.Pt(s.NarrowerMM, s.ShorterMM))
	return p
}

func (s *Saving) request(r Request) Request {
	r.Copies -= s.Fewer
	return r
}
