package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/workshop"
)

// nearest returns the ID of the stock that would take a box which this one does not,
// and a sentence that says so: the same stock held in another way, then of the
// others of its family one of the same form before one of another, and of these the
// smallest. The ID is empty where none would do.
func nearest(box geometry.Box, req Request) (id, advice string) {
	for _, h := range req.Stock.Holds {
		held, _ := req.Stock.HeldBy(h.Hold)
		if holds(box, held, req.Machine) {
			return held.ID, req.Stock.Name + " would do " + h.Hold.Words() + "."
		}
	}
	var fit []workshop.Stock
	for _, s := range req.Others {
		if holds(box, s, req.Machine) {
			fit = append(fit, s)
		}
	}
	if len(fit) == 0 {
		return "", "No larger stock of this kind that the machine takes is listed."
	}
	best := slices.MinFunc(fit, func(p, q workshop.Stock) int {
		return cmp.Or(cmp.Compare(unlike(p, req.Stock), unlike(q, req.Stock)), cmp.Compare(extent(p), extent(q)), cmp.Compare(p.ID, q.ID))
	})
	return best.ID, best.Name + " would do."
}

// Advice says in a sentence which other stock would take a box.
func Advice(box geometry.Box, req Request) string {
	_, advice := nearest(box, req)
	return advice
}

// holds reports whether a box fits on a stock, in the machine that the request names.
func holds(box geometry.Box, s workshop.Stock, m workshop.Machine) bool {
	if s.Hold == workshop.Mat && len(m.Mats) == 0 || m.MaxCaliperUM > 0 && s.CaliperUM > m.MaxCaliperUM {
		return false
	}
	on := Layout{}
	return on.usable(Piece{Bounds: box}, Request{Stock: s, Machine: m}).holds(box)
}

// unlike is 1 where two stocks come in different forms.
func unlike(p, q workshop.Stock) int {
	if p.Form == q.Form {
		return 0
	}
	return 1
}

// extent orders stocks by size: sheets by their area, rolls by their width.
func extent(s workshop.Stock) float64 {
	if s.Form == workshop.Roll {
		return s.WidthMM
	}
	return math.Abs(s.WidthMM * s.LengthMM)
}
