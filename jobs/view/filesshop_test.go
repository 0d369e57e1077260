package view_test

import (
	"fmt"
	"math/rand/v2"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// errand is a drawing in a workshop whose machines, blades and settings are unlike each
// other.
type errand struct {
	name    string
	file    string
	shop    workshop.Data
	choices plan.Choices
	marks   *trial.Marks // lengths as they came out; nil: right
}

// errandAtRandom varies what a generator of files takes for granted.
func errandAtRandom(seed uint64) errand {
	r := rand.New(rand.NewPCG(seed, 21))
	stocks := []string{"card-160-a4", "card-220-a4", "card-220-a3", "film-removable-610", "film-heat-500", "film-permanent-300", "stencil-a3"}
	e := errand{shop: workshop.Example(), choices: plan.Choices{Stock: stocks[r.IntN(len(stocks))], Copies: 1 + r.IntN(9)}}
	film := e.choices.Stock[0] == 'f' || e.choices.Stock[0] == 's'
	e.file = drawnAtRandom(r, film)
	by := []workshop.Compensation{workshop.CompensatesNothing, workshop.CompensatesNothing, workshop.CompensatesOffset, workshop.CompensatesAll}[r.IntN(4)]
	axes := workshop.Axes{
		Feed:   []workshop.Direction{"", workshop.PlusY, workshop.MinusY, workshop.PlusX, workshop.MinusX}[r.IntN(5)],
		Origin: []workshop.Corner{"", workshop.LeadLeft, workshop.LeadRight, workshop.TailLeft, workshop.TailRight}[r.IntN(5)],
	}
	offset, overcut := []float64{0.25, 0.5, 0.9}[r.IntN(3)], []float64{0, 0.3, 1, 2.5}[r.IntN(4)]
	arcs, turns := r.IntN(2) == 0, r.IntN(3) == 0
	for i := range e.shop.Machines {
		m := &e.shop.Machines[i]
		m.Compensates, m.Axes, m.PlotterArcs, m.TurnsLifted = by, axes, arcs, turns
		m.Blade.OffsetMM, m.Blade.OvercutMM = offset, overcut
		for k := range m.Blades {
			m.Blades[k].OffsetMM, m.Blades[k].OvercutMM = offset, overcut
		}
	}
	setAtRandom(r, &e.shop)
	if r.IntN(3) == 0 {
		e.shop = blunt(e.shop)
	}
	if r.IntN(3) == 0 {
		mirror := true
		e.choices.Mirror = &mirror
	}
	if r.IntN(3) == 0 {
		e.choices.Batch = "B 7"
	}
	if r.IntN(4) == 0 {
		e.marks = &trial.Marks{AcrossMM: 99 + 2*r.Float64(), AlongMM: 99 + 2*r.Float64()}
		for i := range e.shop.Machines {
			e.shop.Machines[i].Lengths = workshop.LengthsByFile
		}
	}
	e.name = fmt.Sprintf("%d: %s × %d, %s, offset %g, overcut %g, %v, arcs %v", seed, e.choices.Stock, e.choices.Copies, by, offset, overcut, axes, arcs)
	return e
}

// setAtRandom varies repeats and dashes.
func setAtRandom(r *rand.Rand, shop *workshop.Data) {
	for i := range shop.Settings {
		s := &shop.Settings[i]
		if s.Operation != artwork.Pen {
			s.Passes = 1 + r.IntN(3)
		}
		if s.Operation == artwork.Perforate {
			s.DashMM, s.TieMM = 1+3*r.Float64(), 0.5+1.5*r.Float64()
		}
	}
}
