package trial

import (
	"cmp"
	"math"
	"slices"
)

// Window is from where to where cells pass, of forces in gf or of speeds in mm/s.
type Window struct {
	From float64 `json:"from"` // the least that passed
	To   float64 `json:"to"`   // the most
	// Below and Above are the nearest that did not pass: the edges of the window lie
	// between them and From and To. 0: nothing beyond was cut.
	Below float64 `json:"below,omitempty"`
	Above float64 `json:"above,omitempty"`
}

// tried is a cell by what is varied.
type tried struct {
	at      float64
	verdict Verdict
}

// inOrder sorts by what is varied, and by the verdict where that is alike.
func inOrder(all []tried) []tried {
	slices.SortStableFunc(all, func(a, b tried) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.verdict, b.verdict)) })
	return all
}

// windowOf returns the window that disagrees with the fewest cells, as some near its
// edges pass by chance and some fail; false where none passed. Of windows that
// disagree alike it is the one that more cells passed in, and then the lightest.
func windowOf(cells []tried) (w Window, from, to int, ok bool) {
	least, most := math.MaxInt, 0
	for i := range cells {
		for j := i; j < len(cells); j++ {
			if cells[i].verdict != Passed || cells[j].verdict != Passed {
				continue
			}
			against, inside := disagree(cells, i, j)
			if against < least || against == least && inside > most {
				least, most, from, to, ok = against, inside, i, j, true
			}
		}
	}
	if !ok {
		return Window{}, 0, 0, false
	}
	w = Window{From: cells[from].at, To: cells[to].at}
	if from > 0 {
		w.Below = cells[from-1].at
	}
	if to < len(cells)-1 {
		w.Above = cells[to+1].at
	}
	return w, from, to, true
}

// disagree counts the cells that speak against a window from i to j, and those that
// passed in it.
func disagree(cells []tried, i, j int) (against, inside int) {
	for k, c := range cells {
		in := i <= k && k <= j
		switch {
		case in && c.verdict == Passed:
			inside++
		case in, c.verdict == Passed, k > j && c.verdict == TooLight, k < i && c.verdict == TooDeep:
			against++
		}
	}
	return against, inside
}

// middle returns the passed cell of a window that lies nearest to its middle, by
// ratio. An edge lies halfway to what failed beyond it, and at the outermost cell
// where nothing beyond was cut.
func middle(cells []tried, w Window, from, to int) float64 {
	low, high := math.Log(w.From), math.Log(w.To)
	if w.Below > 0 {
		low = (low + math.Log(w.Below)) / 2
	}
	if w.Above > 0 {
		high = (high + math.Log(w.Above)) / 2
	}
	best := w.From
	for _, c := range cells[from : to+1] {
		if c.verdict == Passed && math.Abs(math.Log(c.at)-(low+high)/2) < math.Abs(math.Log(best)-(low+high)/2)-1e-9 {
			best = c.at
		}
	}
	return best
}
