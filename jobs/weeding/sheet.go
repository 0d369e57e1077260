package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
)

// addSheet makes the sheet round a stencil's openings the last region: the sheet
// is the product, and its size that of the piece. On film it is cut out, so that
// it can be lifted off the liner; a sheet that is cut through needs no edge.
func (n *numbered) addSheet() {
	openings := n.bounds
	if openings.Empty() {
		return
	}
	box, least := n.sheetRound(openings)
	if want := n.limits.Stencil.OrDefault().LeastMarginMM; least < want-1e-6 {
		n.find(finding.New(finding.StencilMargin, 1, finding.Values{"margin_mm": finding.Num(least), "least_mm": finding.Num(want)}, finding.Place{Box: box}))
	}
	n.surround(box, n.req.Stock.Liner && n.req.Border)
}

// drawnMargins finds sheets whose edge is drawn and leaves little round the
// openings.
func (n *numbered) drawnMargins() {
	want := n.limits.Stencil.OrDefault().LeastMarginMM
	narrowest := want
	var places []finding.Place
	for i := range n.base {
		f := n.base[i].face
		if !n.kept[f] || n.cells.depth[f] != 1 {
			continue
		}
		openings := geometry.EmptyBox()
		for _, ring := range n.base[i].rings[1:] {
			n.budget.Spend(len(ring))
			openings = openings.Union(geometry.BoxAround(ring...))
		}
		box := n.cells.box(n.budget, f)
		if openings.Empty() {
			continue
		}
		if m := least(margins(box, openings)); m < want-1e-6 {
			narrowest = math.Min(narrowest, m)
			places = append(places, finding.Place{Box: box})
		}
	}
	if len(places) > 0 {
		n.find(finding.New(finding.StencilMargin, len(places), finding.Values{"margin_mm": finding.Num(narrowest), "least_mm": finding.Num(want)}, places...))
	}
}

// sheetRound returns the box of the sheet round the openings and its least
// margin: the margin is that of the frame that was drawn, or else of the limits,
// and shorter where the stock has no room for it.
func (n *numbered) sheetRound(openings geometry.Box) (sheet geometry.Box, margin float64) {
	limits := n.limits.Stencil.OrDefault()
	wanted := openings.Grow(limits.MarginMM)
	if n.drawn != nil {
		wanted = *n.drawn
	}
	room := n.req.Room
	if room == nil {
		return wanted, least(margins(wanted, openings))
	}
	need := math.Max(0, limits.LeastMarginMM-room.EdgeMM)
	across, along := room.WidthMM, room.LengthMM
	if along == 0 {
		along = math.Inf(1)
	}
	if least := openings.Grow(need); least.Width() > across || least.Height() > along {
		across, along = along, across
	}
	before := margins(wanted, openings)
	sheet = wanted
	sheet.Min.X, sheet.Max.X = shortened(wanted.Min.X, wanted.Max.X, before[0], before[1], across, need)
	sheet.Min.Y, sheet.Max.Y = shortened(wanted.Min.Y, wanted.Max.Y, before[2], before[3], along, need)
	after := margins(sheet, openings)
	for i, m := range after {
		if m < before[i] {
			after[i] = math.Min(before[i], m+room.EdgeMM)
		}
	}
	return sheet, least(after)
}

// shortened takes what is longer than the room off both ends alike, and leaves
// each a margin of need where it has that.
func shortened(lo, hi, marginLo, marginHi, room, need float64) (float64, float64) {
	over := hi - lo - room
	if over <= 0 {
		return lo, hi
	}
	canLo, canHi := math.Max(0, marginLo-need), math.Max(0, marginHi-need)
	offLo := math.Min(canLo, over/2)
	offHi := math.Min(canHi, over-offLo)
	offLo = math.Min(canLo, over-offHi)
	return lo + offLo, hi - offHi
}

// margins returns how far the sides of the outer box lie off the inner: left,
// right, lower and upper.
func margins(outer, inner geometry.Box) [4]float64 {
	return [4]float64{inner.Min.X - outer.Min.X, outer.Max.X - inner.Max.X, inner.Min.Y - outer.Min.Y, outer.Max.Y - inner.Max.Y}
}

func least(m [4]float64) float64 { return min(m[0], m[1], m[2], m[3]) }
