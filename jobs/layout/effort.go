package layout

import "knifedesk/jobs/weeding"

// Effort returns what weeding one copy takes: of its panels together, and of the piece
// where it is whole. Each panel is begun like a load.
func (l *Layout) Effort(piece weeding.Effort) weeding.Effort {
	if l.Panels == nil {
		return piece
	}
	return l.Panels.Effort()
}

// Effort returns what weeding one copy of all panels takes. Its difficulty is that of
// the hardest, and its time the sum.
func (p *Panels) Effort() weeding.Effort {
	return p.effort(func(e weeding.Effort) weeding.Effort { return e })
}

// effort adds up the efforts of the panels, each as of sees it.
func (p *Panels) effort(of func(weeding.Effort) weeding.Effort) weeding.Effort {
	var sum weeding.Effort
	for i := range p.List {
		e := of(p.List[i].Map.Effort)
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

// Terms returns what weeding so many copies is counted by, with a start a load.
func (l *Layout) Terms(piece weeding.Effort, copies int) weeding.Terms {
	times := weeding.DefaultTimes()
	sum := weeding.Terms{Starts: float64(max(1, len(l.Loads)))}
	if l.Panels == nil {
		return sum.Plus(times.TermsOf(piece, copies))
	}
	for i := range l.Panels.List {
		sum = sum.Plus(times.TermsOf(l.Panels.List[i].Map.Effort, copies))
	}
	return sum
}

// StaffEffort is Effort as a practised hand has it.
func (l *Layout) StaffEffort(piece weeding.Effort) weeding.Effort {
	practised := func(e weeding.Effort) weeding.Effort { return weeding.DefaultTimes().Weigh(e, false) }
	if l.Panels == nil {
		return practised(piece)
	}
	return l.Panels.effort(practised)
}
