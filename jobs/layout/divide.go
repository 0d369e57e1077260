package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/panel"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// mostPanels is how many panels a piece is made of at most, in one of its copies: what
// takes more has most likely the wrong unit (common practice, no source).
const mostPanels = 24

// division is how a piece is divided and how its panels lie on the stock.
type division struct {
	panel.Division
	turned bool           // by a quarter
	room   geometry.Point // of a panel with its marks, across and along the stock
}

// work is the box of a piece without its weed border. A stencil's edge is part of it.
func (p Piece) work() geometry.Box {
	if p.Map == nil || p.Map.Purpose == weeding.Stencil {
		return p.Bounds
	}
	box := geometry.EmptyBox()
	for i := range p.Map.Strokes {
		if s := &p.Map.Strokes[i]; s.Added != artwork.Border && s.Added != artwork.Relief {
			box = box.Union(s.Path.Bounds())
		}
	}
	if box.Empty() {
		return p.Bounds
	}
	return box
}

// divide divides a piece into the fewest panels that fit on the stock, in the turn in
// which they are fewer and their seams cross less; folds that mind the grain decide the
// turn before. It returns nil where panels do not help.
func divide(b *budget.Budget, piece Piece, req Request, a area) *division {
	if piece.Map == nil {
		return nil
	}
	room := geometry.Pt(a.box.Width(), a.box.Height())
	if s := req.Stock; s.Form == workshop.Roll && s.LengthMM > 0 {
		room.Y = math.Min(room.Y, s.LengthMM-s.LeadMM-s.TailMM)
	}
	room = room.Sub(geometry.Pt(2, 2).Mul(req.Chart.PanelBorder()))
	if room.X <= 0 || room.Y <= 0 {
		return nil
	}
	work, overlap := piece.toDivide(b), req.Stock.Joined().OverlapMM
	var best *division
	worse := piece.TurnedMM - piece.AcrossMM
	for _, turned := range [...]bool{false, true} {
		if worse > sameAcross && turned || worse < -sameAcross && !turned {
			continue
		}
		limits := panel.Limits{Width: room.X, Length: room.Y, Overlap: overlap}
		if turned {
			limits.Width, limits.Length = room.Y, room.X
		}
		d, ok := panel.Divide(b, work, limits)
		if ok && len(d.Panels) > 1 && len(d.Panels) <= mostPanels && (best == nil || d.Less(best.Division)) {
			best = &division{d, turned, room}
		}
	}
	return best
}

// fineMM is the largest side of a counter that seams keep away from, and the width of a
// kept part below which they do, in times of the stroke that is easy to weed (common
// practice, no source).
const (
	fineMM     = 150
	fineStroke = 2
)

// Seams keep bridgeMM off the bridges of a stencil, which count like bridgeTimes thin
// parts: one that is cut holds nothing, and along it a seam meets no edge, which would
// else count for it (common practice, no source).
const (
	bridgeMM    = 2
	bridgeTimes = 4
)

// toDivide returns what seams go by.
func (p Piece) toDivide(b *budget.Budget) panel.Work {
	w := panel.Work{Bounds: p.work()}
	for i := range p.Map.Regions {
		r := &p.Map.Regions[i]
		box := r.Outer.BoundsIn(b)
		switch {
		case r.Kept():
			for _, ring := range append([]geometry.Path{r.Outer}, r.Holes...) {
				w.Kept = append(w.Kept, ring.FlattenIn(b, geometry.DefaultChord))
			}
			if at := r.LeastWidthAt; at != nil && r.LeastWidthMM < fineStroke*workshop.DefaultLimits().StrokeEasyMM {
				w.Avoid = append(w.Avoid, geometry.BoxAround(*at).Grow(r.LeastWidthMM))
			}
		case r.Class == weeding.Counter && math.Max(box.Width(), box.Height()) <= fineMM:
			w.Avoid = append(w.Avoid, box)
		}
	}
	for _, strip := range p.Map.Bridges {
		box := strip.BoundsIn(b).Grow(bridgeMM)
		w.Avoid = append(w.Avoid, slices.Repeat([]geometry.Box{box}, bridgeTimes)...)
	}
	return w
}

// sizes lists the finished sizes of the panels, equal ones once.
func (d *division) sizes() string {
	var sizes []string
	counts := map[string]int{}
	for _, p := range d.Panels {
		size := fmt.Sprintf("%.0f × %.0f mm", p.Box.Width(), p.Box.Height())
		if counts[size]++; counts[size] == 1 {
			sizes = append(sizes, size)
		}
	}
	for i, size := range sizes {
		if n := counts[size]; n > 1 {
			sizes[i] = fmt.Sprintf("%d of %s", n, size)
		}
	}
	return strings.Join(sizes, ", ")
}
