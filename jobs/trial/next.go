package trial

import "slices"

// Obstacle says why no force is looked for any further.
type Obstacle string

// The obstacles.
const (
	TooWeak  Obstacle = "machine_too_weak" // all is too light, up to what the machine gives
	TooSharp Obstacle = "blade_too_deep"   // all is too deep, down to the least force
	NoWindow Obstacle = "no_window"        // what is heavy enough to cut is too deep already
	Nowhere  Obstacle = "nothing_passed"   // no cell passed, however close they lie
)

// Next is what is known after some sheets, and the sheet to cut now.
type Next struct {
	Number int    `json:"number"` // of the sheet, from 1, since a search began
	Aim    Aim    `json:"aim,omitempty"`
	Cells  []Cell `json:"cells,omitempty"` // none where there is an obstacle
	// Force is the window of forces at the speed of the first sheets, Speed that of
	// speeds at the force that was taken; nil: not known yet.
	Force *Window `json:"force,omitempty"`
	Speed *Window `json:"speed,omitempty"`
	// Found is the cell that the setting should be; nil: not known yet.
	Found *Cell    `json:"found,omitempty"`
	None  Obstacle `json:"none,omitempty"`
}

// After returns what the sheets of a setting say, oldest first, and the sheet to cut
// next. force and speed are those of the setting: the first forces lie about them,
// and they are what is cut again once all is found.
func After(force, speed float64, lim Limits, all []Record) Next {
	known := series(all)
	n := Next{Number: len(known) + 1}
	if len(known) == 0 && StandingOf(Use{ForceGF: force, SpeedMMS: speed}, all).Good > 0 {
		n.again(force, speed)
		return n
	}
	base := lim.speed(speed)
	if at := slices.IndexFunc(known, func(r Record) bool { return r.Aim == Force }); at >= 0 {
		base = known[at].Cells[0].SpeedMMS
	}
	cut, sheets := cutAt(known, func(c Cell) (float64, bool) { return c.ForceGF, c.SpeedMMS == base }), 0
	for _, r := range known {
		if r.Aim == Force {
			sheets++
		}
	}
	w, from, to, ok := windowOf(cut)
	if !ok {
		n.search(force, base, lim, cut, sheets)
		return n
	}
	n.Force = &w
	if edges := w.edges(lim); sheets < 2 && w.To < wide*w.From && len(edges) > 0 {
		if forces := spread(edges, mostCells, lim.force, cut); len(forces) > 0 {
			n.forces(forces, base)
			return n
		}
	}
	n.taken(middle(cut, w, from, to), base, lim, known)
	if n.Found != nil {
		n.again(force, speed)
	}
	return n
}

// cutAt lists the cells that vary in one thing, by it, each once: one that failed
// outweighs those alike that passed.
func cutAt(all []Record, of func(Cell) (at float64, is bool)) []tried {
	var cut []tried
	for _, r := range all {
		for _, c := range r.Cells {
			at, is := of(c)
			if !is {
				continue
			}
			if k := slices.IndexFunc(cut, func(t tried) bool { return t.at == at }); k < 0 {
				cut = append(cut, tried{at, c.Verdict})
			} else if cut[k].verdict == Passed {
				cut[k].verdict = c.Verdict
			}
		}
	}
	return inOrder(cut)
}

// edges returns where the edges of a window of forces are looked for.
func (w Window) edges(lim Limits) []gap {
	below, above := gap{from: w.Below, to: w.From}, gap{from: w.To, to: w.Above}
	if w.Below == 0 {
		below = gap{from: max(lim.leastGF(), w.From/wide), to: w.From, withFrom: true}
	}
	if w.Above == 0 {
		above = gap{from: w.To, to: min(lim.mostGF(w.To), w.To*wide), withTo: true}
	}
	return slices.DeleteFunc([]gap{below, above}, func(g gap) bool { return g.to < fine*g.from })
}

// mostGF is the most force, at least any that was cut.
func (l Limits) mostGF(cut float64) float64 {
	if l.MostGF <= 0 {
		return cut * further
	}
	return max(cut, l.MostGF)
}

func (n *Next) forces(all []float64, speed float64) {
	n.Aim = Force
	for _, f := range all {
		n.Cells = append(n.Cells, Cell{ForceGF: f, SpeedMMS: speed})
	}
}

func (n *Next) again(force, speed float64) {
	n.Aim, n.Cells = Again, []Cell{{ForceGF: force, SpeedMMS: speed}}
}

// taken goes on with a force: with speeds to try, or with what is found.
func (n *Next) taken(force, base float64, lim Limits, known []Record) {
	cut := cutAt(known, func(c Cell) (float64, bool) { return c.SpeedMMS, c.ForceGF == force })
	if !slices.ContainsFunc(known, func(r Record) bool { return r.Aim == Speed && r.Cells[0].ForceGF == force }) {
		grid := gap{from: base / speeds, to: base * speeds, withFrom: true, withTo: true}
		if lim.MostMMS > 0 {
			grid.to = max(grid.from, min(grid.to, lim.MostMMS))
		}
		n.Aim = Speed
		for _, v := range spread([]gap{grid}, mostCells, lim.speed, nil) {
			n.Cells = append(n.Cells, Cell{ForceGF: force, SpeedMMS: v})
		}
		return
	}
	w, from, to, ok := windowOf(cut)
	if !ok { // the cell of the first sheets has passed
		return
	}
	n.Speed = &w
	n.Found = &Cell{ForceGF: force, SpeedMMS: cut[steady(cut, from, to)].at, Verdict: Passed}
}

// steady returns the speed to take of a window: the fastest where nothing faster
// failed, and otherwise the one below it that passed.
func steady(cut []tried, from, to int) int {
	if to == len(cut)-1 {
		return to
	}
	for i := to - 1; i >= from; i-- {
		if cut[i].verdict == Passed {
			return i
		}
	}
	return to
}
