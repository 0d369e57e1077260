package stores

import (
	"math"
	"slices"

	"knifedesk/jobs/workshop"
)

// leastPieceMM is the least that an offcut leaves to cut in beside lead and tail,
// the shorter side from which a remainder is worth keeping (common practice, no
// source).
const leastPieceMM = 50

// matEdgeMM is how near to the edge of an offcut on a mat is cut (common practice,
// no source).
const matEdgeMM = 5

// StockOf returns an offcut of a stock as a stock of its own, width across the
// feed, and whether it can be offered. One that is cut off a roll is held like the
// roll where two rollers reach it and it is longer than lead and tail; otherwise
// it lies on a mat, where a machine has one that carries it, and is not offered
// where none has. What was on a mat stays on one.
func (r Rules) StockOf(code string, of workshop.Stock, widthMM, lengthMM int64, machines []workshop.Machine) (workshop.Stock, bool) {
	s := of
	s.ID, s.Name, s.Form, s.NamedSize = OffcutItem(code), of.Name+", offcut "+code, workshop.Offcut, ""
	s.WidthMM, s.LengthMM = float64(widthMM), float64(lengthMM)
	lead := of.MarginMM
	if of.Form == workshop.Roll {
		lead = math.Max(of.LeadMM, of.TailMM)
	}
	lanes := math.Max(0, of.WidthMM-of.UsableWidthMM)
	inRollers := of.Hold == workshop.Rollers && widthMM >= int64(r.LeastRollerMM) && s.WidthMM-lanes >= leastPieceMM && s.LengthMM-2*lead >= leastPieceMM
	s.LeadMM, s.TailMM = 0, 0
	if inRollers {
		s.UsableWidthMM, s.MarginMM = s.WidthMM-lanes, lead
		return s, true
	}
	s.Hold, s.MarginMM = workshop.Mat, matEdgeMM
	s.UsableWidthMM = s.WidthMM - 2*matEdgeMM
	return s, math.Min(s.UsableWidthMM, s.LengthMM-2*matEdgeMM) >= leastPieceMM && slices.ContainsFunc(machines, func(m workshop.Machine) bool {
		return slices.ContainsFunc(m.Mats, func(mat workshop.MatSize) bool {
			return mat.WidthMM >= s.WidthMM && mat.LengthMM >= s.LengthMM
		})
	})
}
