package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// endless is the usable length of a roll, in mm: longer than any layout.
const endless = 1e6

// area is where copies may lie, in the coordinates of a load.
type area struct {
	box  geometry.Box
	roll bool
	mat  workshop.MatSize
}

// usable returns the stock less its margins, lead and lanes, narrowed to what
// the machine cuts and the mat carries. What it had to give up is a finding.
func (l *Layout) usable(req Request) area {
	s, m := req.Stock, req.Machine
	side := (s.WidthMM - s.UsableWidthMM) / 2
	a := area{roll: s.Form == workshop.Roll}
	a.box = geometry.Box{
		Min: geometry.Pt(side, s.MarginMM),
		Max: geometry.Pt(side+s.UsableWidthMM, s.LengthMM-s.MarginMM),
	}
	if a.roll {
		a.box.Min.Y, a.box.Max.Y = s.LeadMM, s.LeadMM+endless
	}
	if m.WidthMM > 0 && m.WidthMM < a.box.Width() {
		l.Findings = append(l.Findings, finding.New(finding.MachineNarrower, 1, finding.Values{
			"stock": finding.Text(s.Name), "usable_mm": finding.Num(s.UsableWidthMM), "machine": finding.Text(m.Name), "machine_mm": finding.Num(m.WidthMM),
		}))
		a.narrow(s.WidthMM, m.WidthMM)
	}
	if s.Hold == workshop.Mat {
		l.onMat(req, &a)
	}
	return a
}

// narrow keeps the middle of the stock, width mm of it.
func (a *area) narrow(stock, width float64) {
	a.box.Min.X = math.Max(a.box.Min.X, (stock-width)/2)
	a.box.Max.X = math.Min(a.box.Max.X, (stock+width)/2)
}

// onMat chooses a mat and clips the area to it. The stock lies in the middle
// of the mat, flush with its leading edge.
func (l *Layout) onMat(req Request, a *area) {
	s := req.Stock
	mat, ok := chooseMat(req.Machine.Mats, s)
	values := finding.Values{"stock": finding.Text(s.Name), "machine": finding.Text(req.Machine.Name), "tack": finding.Text(string(s.MatTack)), "mat": finding.Text(mat.ID), "mat_tack": finding.Text(string(mat.Tack))}
	if !ok {
		l.Findings = append(l.Findings, finding.New(finding.NoMat, 1, values))
		return
	}
	a.mat = mat
	if s.MatTack != "" && mat.Tack != s.MatTack {
		l.Findings = append(l.Findings, finding.New(finding.MatTackMissing, 1, values))
	}
	if a.box.Width() > mat.WidthMM || a.box.Max.Y > mat.LengthMM {
		values["mat_width_mm"], values["mat_length_mm"] = finding.Num(mat.WidthMM), finding.Num(mat.LengthMM)
		l.Findings = append(l.Findings, finding.New(finding.SheetOverMat, 1, values))
		a.narrow(s.WidthMM, mat.WidthMM)
		a.box.Max.Y = math.Max(a.box.Min.Y, math.Min(a.box.Max.Y, mat.LengthMM))
	}
}

// chooseMat returns the mat for the stock: one that carries it wholly before
// one that does not, then the tack nearest to the one asked for (the weaker
// of two), then the smallest.
func chooseMat(mats []workshop.MatSize, s workshop.Stock) (workshop.MatSize, bool) {
	rank := map[workshop.Tack]int{workshop.LowTack: 1, workshop.MediumTack: 2, workshop.HighTack: 3}
	worse := func(m workshop.MatSize) float64 {
		score := m.WidthMM * m.LengthMM / 1e9 // below 1 for any mat
		if want := rank[s.MatTack]; want > 0 {
			d := rank[m.Tack] - want
			score += 2 * math.Abs(float64(d))
			if d > 0 {
				score++
			}
		}
		if m.WidthMM < s.UsableWidthMM || m.LengthMM < s.LengthMM-s.MarginMM {
			score += 100
		}
		return score
	}
	if len(mats) == 0 {
		return workshop.MatSize{}, false
	}
	best := mats[0]
	for _, m := range mats[1:] {
		if worse(m) < worse(best) {
			best = m
		}
	}
	return best, true
}

// enough reports whether the roll holds the arrangement; where it does not
// the finding says how many copies it holds.
func (l *Layout) enough(b *budget.Budget, piece Piece, req Request, a area, allowed nest.Turns, plan nest.Arrangement) bool {
	s := req.Stock
	need := s.LeadMM + float64(plan.LengthUM)/1000 - s.GapMM + s.TailMM
	if s.LengthMM == 0 || need <= s.LengthMM {
		return true
	}
	left := nest.Size{WidthMM: a.box.Width(), LengthMM: s.LengthMM - s.LeadMM - s.TailMM}
	part, _ := nest.Equal(b, piece.size(), left, s.GapMM, req.Copies, allowed)
	l.Findings = append(l.Findings, finding.New(finding.RollTooShort, 1, finding.Values{
		"stock": finding.Text(s.Name), "need_mm": finding.Num(need), "left_mm": finding.Num(s.LengthMM), "copies": finding.Int(req.Copies), "fit": finding.Int(len(part.Full)),
	}))
	return false
}
