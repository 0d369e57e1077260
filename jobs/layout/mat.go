package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// onMat chooses a mat and clips the area to it. The stock lies in the middle
// of the mat, flush with its loading edge.
func (a *area) onMat(req Request) {
	s := req.Stock
	mat, ok := chooseMat(req.Machine.Mats, s)
	values := finding.Values{"stock": finding.Text(s.Name), "machine": finding.Text(req.Machine.Name), "tack": finding.Text(string(s.MatTack)), "mat": finding.Text(mat.ID), "mat_tack": finding.Text(string(mat.Tack))}
	if !ok {
		a.note(finding.NoMat, values)
		return
	}
	a.mat = mat
	a.whole = mat.WidthMM >= s.WidthMM && mat.LengthMM >= s.LengthMM
	if s.MatTack != "" && mat.Tack != s.MatTack {
		a.note(finding.MatTackMissing, values)
	}
	if a.box.Width() > mat.WidthMM || a.box.Max.Y > mat.LengthMM {
		values["mat_width_mm"], values["mat_length_mm"] = finding.Num(mat.WidthMM), finding.Num(mat.LengthMM)
		a.note(finding.SheetOverMat, values)
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

// at is the place of a sheet on a mat that carries several: its column across the
// feed and its row along it.
type at struct{ column, row int }

// sheetsAtOnce returns how many whole sheets lie on the mat side by side and one
// behind the other, edge to edge, as far as the machine reaches across. It is one
// each for a roll, an offcut and a sheet that the mat does not carry whole.
func (a area) sheetsAtOnce(req Request) at {
	s := req.Stock
	if !a.whole || s.Form != workshop.Sheet || s.Hold != workshop.Mat {
		return at{1, 1}
	}
	const slack = 1e-9 // keeps an exact fit
	across := int(a.mat.WidthMM/s.WidthMM + slack)
	if w := req.Machine.WidthMM; w > 0 {
		across = min(across, 1+int(math.Max(0, w-a.box.Width())/s.WidthMM+slack))
	}
	return at{max(1, across), max(1, int(a.mat.LengthMM/s.LengthMM+slack))}
}

// sheets returns where n sheets lie on the mat, the first row first, and how wide
// and long they are together.
func (most at) sheets(n int, s workshop.Stock) (boxes []geometry.Box, width, length float64) {
	for i := range n {
		x, y := float64(i%most.column)*s.WidthMM, float64(i/most.column)*s.LengthMM
		box := geometry.Box{Min: geometry.Pt(x, y), Max: geometry.Pt(x+s.WidthMM, y+s.LengthMM)}
		boxes = append(boxes, box)
		width, length = math.Max(width, box.Max.X), math.Max(length, box.Max.Y)
	}
	return boxes, width, length
}
