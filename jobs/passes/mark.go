package passes

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// MarkMM is the side of a test mark (common practice, no source).
const MarkMM = 8

// Mark is a small square in waste that is cut before the pass whose setting it tries, by
// itself, so that somebody can look before the work is cut.
type Mark struct {
	Box geometry.Box `json:"box"` // on the load, in mm
}

// Spot is a circle that lies in what is removed of a piece, in its coordinates.
type Spot struct {
	At       geometry.Point
	RadiusMM float64
}

// SpotsOf lists where marks may lie within a piece, in the order of its regions.
func SpotsOf(m *weeding.Map) []Spot {
	var all []Spot
	for i := range m.Regions {
		if r := &m.Regions[i]; !r.Kept() {
			all = append(all, Spot{r.Pick, r.PickRadiusMM})
		}
	}
	return all
}

// marked reports whether a mark is cut before the step on the first load: it cuts, and
// its setting is not trusted for the batch that is loaded.
func (st *step) marked(req Request) bool {
	return st.set.Operation.Cuts() && slices.Contains(req.Untrusted, st.set.ID)
}

// markFor finds room for a mark that a blade of this offset cuts: in the waste between
// and about the copies, off the lead-in, else in what is removed of a copy. nil: there is
// none.
func markFor(b *budget.Budget, load layout.Load, req Request, offset float64, lead *toolpath.LeadIn) *Mark {
	clear := offset + leadClearMM
	area := reach(load, req).Grow(-clear)
	side := geometry.Pt(MarkMM, MarkMM)
	var best *Mark
	rest, least := req.Machine.Axes.Rest(load.WidthMM, load.LengthMM), math.Inf(1)
	for _, p := range wasteCorners(load, area, clear, MarkMM) {
		box := geometry.BoxAround(p, p.Add(side))
		inTheWay := lead != nil && geometry.BoxAround(lead.From, lead.To).Grow(clear).Overlaps(box)
		if far := p.Dist(rest); far < least && area.ContainsBox(box) && !inTheWay && clearOf(b, load, box.Grow(clear-1e-9)) {
			best, least = &Mark{box}, far
		}
	}
	if best != nil {
		return best
	}
	need := MarkMM/math.Sqrt2 + clear
	for _, at := range load.Placements[:min(len(load.Placements), leadCopies)] {
		for _, s := range req.Removed {
			b.Step()
			if s.RadiusMM >= need {
				c := at.Transform.Apply(s.At)
				return &Mark{geometry.BoxAround(c.Sub(side.Mul(0.5)), c.Add(side.Mul(0.5)))}
			}
		}
	}
	return nil
}

// mark plans the pass of a mark before a step; nil where there is no room.
func (st *step) mark(b *budget.Budget, load layout.Load, req Request, now toolpath.Walk, number int, changed bool) *Pass {
	pass := st.pass(number, changed, req.Machine)
	lead := leadIn(b, load, req, pass.Rule.InFile().OffsetMM)
	pass.leadIn(now, lead)
	if pass.Mark = markFor(b, load, req, pass.Rule.OffsetMM, lead); pass.Mark == nil {
		return nil
	}
	return &pass
}

// Lines is how many lines the pass runs.
func (p *Pass) Lines() int {
	if p.Mark != nil {
		return 1
	}
	return len(p.Runs)
}
