package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// Where a lead-in may lie (common practice, no source).
const (
	leadClearMM = 0.5 // off what is kept
	leadEdgeMM  = 2   // off the edge of the stock
	leadCopies  = 16  // copies beside which a place is looked for
)

// leadIn returns a straight cut in the waste of a load that turns a blade which
// may point anywhere; nil where the tool does not trail, or nothing is free. What
// the boxes of all copies leave of the stock is waste.
//
// The tip comes down within an offset of the axis and never leaves that band, so
// the cut keeps a band of the offset clear on both sides.
func leadIn(b *budget.Budget, load layout.Load, req Request, offset float64) *toolpath.LeadIn {
	if offset <= 0 {
		return nil
	}
	clear := offset + leadClearMM
	area := reach(load, req).Grow(-clear)
	var best *toolpath.LeadIn
	rest, least := req.Machine.Axes.Rest(load.WidthMM, load.LengthMM), math.Inf(1)
	for _, one := range leadPlaces(load, area, clear, toolpath.LeadInLength(offset)) {
		far := one.From.Dist(rest)
		if far >= least || !area.Contains(one.From) || !area.Contains(one.To) || !freeOf(b, load, one, clear) {
			continue
		}
		best, least = &one, far
	}
	return best
}

// leadIn takes a lead-in into the pass: into the load where nobody knows how the blade
// stands, as the machine is now, else only into a file of the pass by itself.
func (p *Pass) leadIn(now toolpath.Walk, l *toolpath.LeadIn) {
	if p.Changed || now.Heading == (geometry.Point{}) {
		p.LeadIn = l
	} else {
		p.LeadInAlone = l
	}
}

// reach is where the knife can run on a load: all of what lies on a mat but its
// edge, or between the lanes of the rollers, as far as the machine is wide.
func reach(load layout.Load, req Request) geometry.Box {
	side := float64(leadEdgeMM)
	if req.Stock.Hold == workshop.Rollers {
		side = max(side, (load.WidthMM-req.Stock.UsableWidthMM)/2)
	}
	if m := req.Machine.WidthMM; m > 0 {
		side = max(side, (load.WidthMM-m)/2)
	}
	return geometry.Box{Min: geometry.Pt(side, leadEdgeMM), Max: geometry.Pt(load.WidthMM-side, load.LengthMM-leadEdgeMM)}
}

// leadPlaces lists lead-ins of that length along the edges of the area and along
// the sides of the first copies, each both across and along the feed.
func leadPlaces(load layout.Load, area geometry.Box, clear, length float64) []toolpath.LeadIn {
	var all []toolpath.LeadIn
	for _, p := range wasteCorners(load, area, clear, length) {
		all = append(all, toolpath.LeadIn{From: p, To: p.Add(geometry.Pt(length, 0))}, toolpath.LeadIn{From: p, To: p.Add(geometry.Pt(0, length))})
	}
	return all
}

// wasteCorners lists the lower left corners of what may lie along the edges of the area
// and along the sides of the first copies, and is so long.
func wasteCorners(load layout.Load, area geometry.Box, clear, length float64) []geometry.Point {
	xs := [...]float64{area.Min.X, area.Max.X, area.Max.X - length}
	ys := [...]float64{area.Min.Y, area.Max.Y, area.Max.Y - length}
	corners := []geometry.Point{area.Min}
	for _, at := range load.Placements[:min(len(load.Placements), leadCopies)] {
		box := at.Bounds.Grow(clear)
		corners = append(corners, box.Min, geometry.Pt(box.Max.X, box.Min.Y), geometry.Pt(box.Min.X, box.Max.Y))
	}
	var all []geometry.Point
	for _, c := range corners {
		all = append(all, c)
		for _, x := range xs {
			all = append(all, geometry.Pt(x, c.Y))
		}
		for _, y := range ys {
			all = append(all, geometry.Pt(c.X, y))
		}
	}
	return all
}

// freeOf reports whether a lead-in keeps clear of all copies.
func freeOf(b *budget.Budget, load layout.Load, l toolpath.LeadIn, clear float64) bool {
	return clearOf(b, load, geometry.BoxAround(l.From, l.To).Grow(clear-1e-9))
}

// clearOf reports whether a box touches no copy.
func clearOf(b *budget.Budget, load layout.Load, box geometry.Box) bool {
	for _, at := range load.Placements {
		b.Step()
		if at.Bounds.Overlaps(box) {
			return false
		}
	}
	return true
}
