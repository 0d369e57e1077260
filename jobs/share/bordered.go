package share

import (
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// together makes one map of copies: within weed borders round all that lies on a sheet, or
// as the members' own maps have it. A border runs over no joint of two sheets on a mat, as
// each of them is peeled by itself. Groups of copies on one sheet would take more cutting:
// copies lie as near to each other as the gap, and a line across that is shorter than the
// sides of two borders there.
func (r Request) together(b *budget.Budget, load *layout.Load, all []weeding.Laid, round bool) (*weeding.Load, error) {
	if round {
		return weeding.RoundGroups(b, all, bySheet(load), r.Layout.Chart)
	}
	return weeding.Beside(b, all), nil
}

// bySheet groups the copies of a load by the sheet on which they lie.
func bySheet(load *layout.Load) [][]int {
	groups := make([][]int, 1+len(load.Sheets))
	for k, at := range load.Placements {
		sheet := sheetOf(load, at.Bounds)
		groups[sheet] = append(groups[sheet], k)
	}
	return slices.DeleteFunc(groups, func(g []int) bool { return len(g) == 0 })
}
