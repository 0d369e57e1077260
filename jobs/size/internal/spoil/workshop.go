package spoil

import (
	"math"

	"knifedesk/jobs/workshop"
)

// chooseLayers picks the workshop's convention and the layers of work and frame. In
// half of the workshops the convention says that the frame is the sheet.
func chooseLayers(m *maker) {
	m.workOn, m.frameOn = "CUT", pick(m, "PAGE", "PAGE", "FRAME", "0", "CUT", "CUT")
	if m.chance(0.15) {
		m.workOn, m.frameOn = "", "" // nothing has a layer
	}
	m.rules = workshop.Convention{ID: "c", Name: "Convention", Version: 1, FrameIsSheet: m.chance(0.5), ToleranceDE: 2, NearDE: 15}
	if m.chance(0.6) {
		m.rules.Rules = append(m.rules.Rules, workshop.Rule{Layer: pick(m, "PAGE", "page", "FRAME", "fra*", "PA?E"), Means: workshop.MeansFrame})
	}
	m.rules.Rules = append(m.rules.Rules, workshop.Rule{Layer: "CUT", Means: workshop.MeansCut}, workshop.Rule{Layer: "FOLD", Means: workshop.MeansScore})
	if m.rules.FrameIsSheet {
		m.note("convention: the frame is the sheet")
	}
}

// onFrameLayer reports whether the convention keeps the frame's layer for it.
func (m *maker) onFrameLayer() bool {
	for _, r := range m.rules.Rules {
		if r.Means == workshop.MeansFrame && workshop.OnLayer(r.Layer, m.frameOn) {
			return true
		}
	}
	return false
}

// offCut reports whether the frame lies where nothing is cut: not on a layer
// that the convention cuts, and not on that of the work.
func (m *maker) offCut() bool { return m.onFrameLayer() || m.frameOn != m.workOn && m.frameOn != "CUT" }

// anyStock is a sheet of any size from A5 to A2, an offcut or a roll.
func anyStock(m *maker) {
	switch r := m.rng.Float64(); {
	case r < 0.6:
		m.sheet(seriesA()[2+m.rng.IntN(4)])
	case r < 0.7:
		m.stock = m.card()
		m.stock.Form = workshop.Offcut
		m.stock.WidthMM, m.stock.LengthMM = math.Round(m.between(180, 380)), math.Round(m.between(250, 500))
		m.stock.UsableWidthMM = m.stock.WidthMM - 20
	default:
		m.stock = workshop.Stock{
			ID: "s", Name: "Film", Family: workshop.RemovableFilm, Form: workshop.Roll, Hold: workshop.Rollers, Liner: true, Mirror: workshop.MirrorNever,
			LengthMM: 25000, LeadMM: 50, TailMM: 50, GapMM: 10, CaliperUM: 70, Limits: workshop.DefaultLimits(),
		}
		m.stock.WidthMM = pick(m, 300.0, 500.0, 610.0, 1220.0)
		m.stock.UsableWidthMM = m.stock.WidthMM - 20
	}
}

// stockFor is the sheet of the page in half of the cases, else any stock.
func stockFor(m *maker, s sheet) {
	if m.chance(0.5) {
		m.sheet(s)
		return
	}
	anyStock(m)
}

// card is what all sheets and offcuts here are.
func (m *maker) card() workshop.Stock {
	return workshop.Stock{
		ID: "s", Name: "Card", Family: workshop.LightCard, Form: workshop.Sheet, Hold: workshop.Mat, MatTack: workshop.LowTack,
		Mirror: workshop.MirrorNever, MarginMM: 10, GapMM: 4, CaliperUM: 200, GrammageGSM: 160, Limits: workshop.DefaultLimits(),
	}
}

func (m *maker) sheet(s sheet) {
	m.stock = m.card()
	m.stock.NamedSize, m.stock.WidthMM, m.stock.LengthMM = s.name, math.Min(s.w, s.h), math.Max(s.w, s.h)
	m.stock.UsableWidthMM = m.stock.WidthMM - 20
}

// fits reports whether w by h mm lies on the stock in either turn.
func (m *maker) fits(w, h float64) bool {
	return m.lies(w, h) || m.lies(h, w)
}

func (m *maker) lies(w, h float64) bool { return w <= m.stock.WidthMM && h <= m.stock.LengthMM }

// isSheet reports whether a rectangle has the size of the stock's sheet or of
// an offcut, and so could not be cut out of it.
func (m *maker) isSheet(w, h float64) bool {
	return m.stock.Form != workshop.Roll &&
		math.Min(w, h) == math.Min(m.stock.WidthMM, m.stock.LengthMM) && math.Max(w, h) == math.Max(m.stock.WidthMM, m.stock.LengthMM)
}

// makeRequest makes the workshop's data and the request. The machine is left out in
// most of them.
func makeRequest(m *maker) {
	data := workshop.Example()
	data.Stocks = []workshop.Stock{m.stock}
	data.Conventions = []workshop.Convention{m.rules}
	data.Machines = machinesLike(m, data.Machines[0])
	m.c.Data = data
	m.c.Choices.Stock = m.stock.ID
	if m.chance(0.2) {
		m.c.Choices.Machine = data.Machines[m.rng.IntN(len(data.Machines))].ID
	}
}

// machinesLike are one to three cutters of any width and strength, with mats or
// without.
func machinesLike(m *maker, like workshop.Machine) []workshop.Machine {
	all := make([]workshop.Machine, 1+m.rng.IntN(3))
	for i := range all {
		one := like
		one.ID = string(rune('a' + i))
		one.WidthMM = pick(m, 210.0, 305, 420, 610, 1250)
		one.MaxForceGF = pick(m, 60.0, 130, 200, 400)
		one.MaxCaliperUM = pick(m, 60.0, 150, 300, 800)
		one.Mats = nil
		for k := range m.rng.IntN(3) {
			one.Mats = append(one.Mats, workshop.MatSize{
				ID: string(rune('p' + k)), Tack: pick(m, workshop.LowTack, workshop.MediumTack, workshop.HighTack),
				WidthMM: pick(m, 200.0, 300, 600), LengthMM: pick(m, 300.0, 430, 620),
			})
		}
		all[i] = one
	}
	return all
}
