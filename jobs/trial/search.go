package trial

import "slices"

// search looks for a first force that passes.
func (n *Next) search(start, speed float64, lim Limits, cut []tried, sheets int) {
	var gaps []gap
	switch first, last := 0, len(cut)-1; {
	case len(cut) == 0:
		gaps = []gap{lim.first(start)}
	case allAre(cut, TooLight):
		if n.None = TooWeak; cut[last].at < lim.mostGF(0) || lim.MostGF <= 0 {
			gaps = []gap{{from: cut[last].at, to: min(lim.mostGF(cut[last].at), further*cut[last].at), withTo: true}}
		}
	case allAre(cut, TooDeep):
		n.None = TooSharp
		gaps = []gap{{from: max(lim.leastGF(), cut[first].at/further), to: cut[first].at, withFrom: true}}
	case !slices.ContainsFunc(cut, func(t tried) bool { return t.verdict == Failed }):
		n.None = NoWindow
		k := turn(cut)
		gaps = []gap{{from: cut[k-1].at, to: cut[k].at}}
	default:
		n.None = Nowhere
		if gaps = between(cut, lim); searched(gaps, sheets) {
			gaps = nil
		}
	}
	if forces := spread(gaps, mostCells, lim.force, cut); len(forces) > 0 {
		n.None = ""
		n.forces(forces, speed)
	}
}

// first is the range of the first forces: about the start, and within the machine.
func (l Limits) first(start float64) gap {
	most := start * reach
	if l.MostGF > 0 {
		most = min(most, l.MostGF)
	}
	return gap{from: max(l.leastGF(), min(start, most)/reach), to: most, withFrom: true, withTo: true}
}

func allAre(cut []tried, v Verdict) bool {
	return !slices.ContainsFunc(cut, func(t tried) bool { return t.verdict != v })
}

// turn returns the first cell that is too deep rather than too light, by the fewest
// that disagree; from 1 to the last.
func turn(cut []tried) int {
	best, least := 1, len(cut)+1
	for k := 1; k < len(cut); k++ {
		against := 0
		for i, c := range cut {
			if i < k && c.verdict == TooDeep || i >= k && c.verdict == TooLight {
				against++
			}
		}
		if against < least {
			best, least = k, against
		}
	}
	return best
}

// between returns the ranges between cells of which nobody said which way they failed,
// without those where it is known that the window lies beyond, and what the machine
// gives beyond the heaviest.
func between(cut []tried, lim Limits) []gap {
	from, to := 0, len(cut)-1
	for from < to && cut[from].verdict == TooLight && cut[from+1].verdict == TooLight {
		from++
	}
	for to > from && cut[to].verdict == TooDeep && cut[to-1].verdict == TooDeep {
		to--
	}
	var gaps []gap
	for i := from; i < to; i++ {
		gaps = append(gaps, gap{from: cut[i].at, to: cut[i+1].at})
	}
	if last := cut[len(cut)-1]; to == len(cut)-1 && last.verdict != TooDeep {
		gaps = append(gaps, gap{from: last.at, to: min(lim.mostGF(last.at), last.at*wide), withTo: true})
	}
	return gaps
}

// searched reports whether all gaps are close enough to say that nothing is there,
// after as many sheets as it takes to find a window of usual width.
func searched(gaps []gap, sheets int) bool {
	return sheets >= enough && !slices.ContainsFunc(gaps, func(g gap) bool { return g.to > apart*g.from })
}
