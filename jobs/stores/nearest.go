package stores

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/jobs/workshop"
)

// Nearest returns the stock that comes closest to one that is short and of which
// there is enough: of the same material, form and hold, at least as large where
// the work lies, then the one that differs least in caliper and size. Whether the
// work still needs as much of it a plan on it says.
func Nearest(want workshop.Stock, need Need, stocks []workshop.Stock, lots []Lot) (workshop.Stock, bool) {
	var near []workshop.Stock
	for _, s := range stocks {
		need.Item = s.ID
		if s.ID != want.ID && s.Family == want.Family && s.Form == want.Form && s.Hold == want.Hold && coversIt(s, want) && need.Holds(lots) {
			near = append(near, s)
		}
	}
	if len(near) == 0 {
		return workshop.Stock{}, false
	}
	return slices.MinFunc(near, func(a, b workshop.Stock) int {
		return cmp.Or(
			cmp.Compare(math.Abs(a.CaliperUM-want.CaliperUM), math.Abs(b.CaliperUM-want.CaliperUM)),
			cmp.Compare(a.WidthMM, b.WidthMM), cmp.Compare(a.LengthMM, b.LengthMM), cmp.Compare(a.ID, b.ID))
	}), true
}

func coversIt(s, want workshop.Stock) bool {
	return s.UsableWidthMM >= want.UsableWidthMM && (s.Form == workshop.Roll || s.LengthMM-2*s.MarginMM >= want.LengthMM-2*want.MarginMM)
}
