package layout

import (
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// enough reports whether the roll holds the loads; where it does not, there are none
// and the finding says how many copies it holds.
func (l *Layout) enough(b *budget.Budget, piece Piece, req Request, a area, allowed nest.Turns) bool {
	s := req.Stock
	need := 0.0
	for _, load := range l.Loads {
		need += load.LengthMM
	}
	if s.LengthMM == 0 || need <= s.LengthMM {
		return true
	}
	fit, left := 0, s.LengthMM
	for _, load := range l.Loads {
		if load.LengthMM <= left {
			fit, left = fit+len(load.Placements), left-load.LengthMM
			continue
		}
		room := nest.Size{WidthMM: a.box.Width(), LengthMM: left - s.LeadMM - s.TailMM}
		part, _ := nest.Equal(b, piece.size(), room, s.GapMM, len(load.Placements), allowed)
		fit += max(len(part.Full), load.before(left-s.TailMM))
		break
	}
	l.tooShort(s, need, req.Copies, fit)
	return false
}

// tooShort says that the roll does not hold so many copies, and leaves none laid.
func (l *Layout) tooShort(s workshop.Stock, need float64, copies, fit int) {
	l.Loads = nil
	l.Findings = append(l.Findings, finding.New(finding.RollTooShort, 1, finding.Values{
		"stock": finding.Text(s.Name), "need_mm": finding.Num(need), "left_mm": finding.Num(s.LengthMM), "copies": finding.Int(copies), "fit": finding.Int(fit),
	}))
}

// before counts the copies that end before y.
func (l Load) before(y float64) int {
	n := 0
	for _, at := range l.Placements {
		if at.Bounds.Max.Y <= y {
			n++
		}
	}
	return n
}

// drawn is what a run takes of the roll, from the length in mm that its copies take
// with one gap too many.
func drawn(length float64, s workshop.Stock) float64 { return s.LeadMM + length - s.GapMM + s.TailMM }
