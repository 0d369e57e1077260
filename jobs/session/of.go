package session

import (
	"strconv"

	"knifedesk/jobs/estimate"
)

// Of returns the loads of an estimate by its high minutes, named by what stands before
// their numbers.
func Of(before string, times []estimate.LoadTime) []Load {
	all := make([]Load, len(times))
	for i, t := range times {
		all[i] = Load{
			Code: before + strconv.Itoa(t.Number), Prepare: t.Prepare.High, Cut: t.Cut.High, Unload: t.Unload.High, Bench: t.Bench.High,
		}
	}
	return all
}
