package layout

import "knifedesk/jobs/weeding"

// Effort returns what weeding one copy takes: of all that has a map of its own together,
// and of the piece where it is whole. Each of these maps is begun like a load; the
// difficulty is that of the hardest, and the time the sum.
func (l *Layout) Effort(piece weeding.Effort) weeding.Effort {
	return l.effort(piece, func(e weeding.Effort) weeding.Effort { return e })
}

// StaffEffort is Effort as a practised hand has it.
func (l *Layout) StaffEffort(piece weeding.Effort) weeding.Effort {
	return l.effort(piece, func(e weeding.Effort) weeding.Effort { return weeding.DefaultTimes().Weigh(e, false) })
}

// effort adds up the efforts of the maps, each as of sees it.
func (l *Layout) effort(piece weeding.Effort, of func(weeding.Effort) weeding.Effort) weeding.Effort {
	if len(l.Maps) == 0 {
		return of(piece)
	}
	var sum weeding.Effort
	for _, m := range l.Maps {
		e := of(m.Effort)
		sum.KeptContourM += e.KeptContourM
		sum.Grounds += e.Grounds
		sum.Counters += e.Counters
		sum.Fragile += e.Fragile
		sum.LeastHeightMM = e.LeastHeightMM
		sum.Difficulty = max(sum.Difficulty, e.Difficulty)
		sum.CopyS += e.CopyS
		sum.StartS = e.StartS
	}
	return sum
}
