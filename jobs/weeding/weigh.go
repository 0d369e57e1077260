package weeding

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/near"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// weighing is the step that holds a map against the limits of the stock.
type weighing struct {
	*survey
	letters []textline // of lettering
}

// weighed is a survey whose faults are found and whose effort is counted.
type weighed struct{ survey }

// weigh holds what was measured against the limits of the stock, and counts
// the effort.
func (m survey) weigh() weighed {
	s := weighing{survey: &m}
	if s.req.Purpose == Lettering {
		s.letters = s.lines()
	}
	s.effort()
	fine := tooFine{}
	s.weighStrokes(&fine)
	s.weighNecks()
	s.weighCounters()
	s.weighLetters(&fine)
	s.settle(fine)
	s.weighAngles()
	s.weighPieces()
	s.tellSurround()
	s.weighLooseEnds()
	return weighed{m}
}

// tally gathers the places of one fault.
type tally struct {
	places []finding.Place
	count  int
	least  float64
	length float64
	area   float64
}

func (t *tally) add(box geometry.Box, measure, length float64) {
	if t.count == 0 || measure < t.least {
		t.least = measure
	}
	t.count++
	t.length += length
	t.area += measure * length
	t.places = append(t.places, finding.Place{Box: box})
}

// finding returns the finding for what was tallied, with the words for the
// material in its texts.
func (s weighing) finding(code finding.Code, t *tally, values finding.Values) finding.Finding {
	values["least_mm"], values["length_mm"], values["area_mm2"] = finding.Num(t.least), finding.Num(t.length), finding.Num(t.area)
	return finding.New(code, t.count, s.worded(values), t.places...)
}

// report adds a finding when anything was tallied.
func (s weighing) report(code finding.Code, t *tally, values finding.Values) {
	if t.count > 0 {
		s.find(s.finding(code, t, values))
	}
}

// worded adds to values how one speaks of the material and of taking away what
// is not wanted of it.
func (s *terms) worded(values finding.Values) finding.Values {
	words := map[string]string{"lift": "lift", "bent": "bent", "peel": "lift the work off the mat", "slowly": "Lift the work off slowly"}
	if s.peeled() {
		words = map[string]string{"lift": "peel", "bent": "lifted", "peel": "peel off what is round it", "slowly": "Peel slowly there"}
	}
	for name, word := range words {
		values[name] = finding.Text(word)
	}
	values["material"] = finding.Text(s.req.Stock.Family.Material())
	return values
}

// strokeLevels are the limits below which a stretch of what stays needs care, a
// practised hand, or is too thin.
func (s *terms) strokeLevels() [3]float64 {
	return [3]float64{s.limits.StrokeEasyMM, s.limits.StrokeCareMM, s.limits.StrokeExpertMM}
}

// refusedMM is the length of a stretch from which what is too thin is refused,
// in mm; along a shorter one it may tear and the rest still holds (common
// practice, no source).
const refusedMM = 3

// weighStrokes sorts the narrow stretches of what stays into care, expert and
// too thin. A stretch counts at a limit where it stays below it over more than
// its own width: a shorter one is the notch of a wider place. A part that is
// nowhere as wide as the last limit is too thin as a whole.
func (s weighing) weighStrokes(fine *tooFine) {
	var tallies [3]tally
	for i := range s.parts {
		p := &s.parts[i]
		if p.base.class != Kept {
			continue
		}
		if s.thinAllOver(i) {
			r := &s.regions[i]
			s.budget.Spend(len(r.Outer.Segments))
			tallies[2].add(r.Outer.Bounds(), 2*p.shape.Pole.Radius, r.PerimeterMM/2)
			fine.refused = true
			continue
		}
		s.sortStretches(p, &tallies)
		for _, n := range p.shape.Finer[1] {
			fine.refused = fine.refused || counts(n) && n.LengthMM > refusedMM && !s.onBridge(n.At)
		}
	}
	care, expert, thin := &tallies[0], &tallies[1], &tallies[2]
	if thin.count > 0 {
		f := s.finding(finding.StrokeTooThin, thin, finding.Values{"expert_mm": finding.Num(s.limits.StrokeExpertMM)})
		fine.thin = &f
	}
	s.report(finding.StrokeExpert, expert, finding.Values{"care_mm": finding.Num(s.limits.StrokeCareMM)})
	s.report(finding.StrokeCare, care, finding.Values{"easy_mm": finding.Num(s.limits.StrokeEasyMM)})
}

// thinAllOver reports whether the largest circle found in the part is not as wide
// as the last limit. A hundredth is left for what may have been missed.
func (s weighing) thinAllOver(part int) bool {
	radius := s.parts[part].shape.Pole.Radius
	return radius > 0 && 2*radius < 0.99*s.limits.StrokeExpertMM
}

// sortStretches adds the stretches of a part to the tallies of their levels, the
// thinnest first: a stretch that holds a thinner one that counts is told by that.
func (s weighing) sortStretches(p *part, tallies *[3]tally) {
	var told []geometry.Point
	for level := 2; level >= 0; level-- {
		necks := p.shape.Necks
		if level > 0 {
			necks = p.shape.Finer[level-1]
		}
		before := slices.SortedFunc(slices.Values(told), func(p, q geometry.Point) int { return cmp.Compare(p.X, q.X) })
		for _, n := range necks {
			if !counts(n) || s.onBridge(n.At) || s.holdsAny(n.Box.Grow(n.WidthMM/2), before) {
				continue
			}
			tallies[level].add(n.Box.Grow(n.WidthMM/2), n.AreaMM2/n.LengthMM, n.LengthMM)
			told = append(told, n.At)
		}
	}
}

// counts reports whether a stretch is more than a notch.
func counts(n clearance.Neck) bool { return n.LengthMM > n.WidthMM }

// onBridge reports whether a stretch is at its thinnest on a bridge, which the plan laid
// as wide as is wanted: whoever drew has nothing to make wider there.
func (s weighing) onBridge(at geometry.Point) bool {
	s.budget.Spend(len(s.bridges))
	return slices.ContainsFunc(s.bridges, func(b geometry.Path) bool {
		corners := b.FlattenIn(s.budget, geometry.DefaultChord)
		for i, c := range corners { // its ends are mouths, which may be the thinnest
			if at.DistToSegment(c, corners[(i+1)%len(corners)]) < s.limits.BridgeMM/10 {
				return true
			}
		}
		return near.Inside(at, corners)
	})
}

// holdsAny reports whether a box holds one of the points, which are sorted by x.
func (s weighing) holdsAny(box geometry.Box, points []geometry.Point) bool {
	from, _ := slices.BinarySearchFunc(points, box.Min.X, func(p geometry.Point, x float64) int { return cmp.Compare(p.X, x) })
	for _, p := range points[from:] {
		s.budget.Step()
		switch {
		case p.X > box.Max.X:
			return false
		case box.Contains(p):
			return true
		}
	}
	return false
}

func (s weighing) place(stroke int32, box geometry.Box) finding.Place {
	return placeOf(&s.cells.strokes[stroke], box)
}

func placeOf(st *artwork.Stroke, box geometry.Box) finding.Place {
	p := finding.Place{Box: box, Layer: st.Layer}
	if len(st.Sources) > 0 {
		p.Source = st.Sources[0].String()
	}
	return p
}

// effort counts what takes time, and works the time out.
func (s weighing) effort() {
	e := &s.work
	for i, edge := range s.cells.Edges {
		s.budget.Step()
		if edge.Role == planar.Bounding && (s.kept[edge.Left] || s.kept[edge.Right]) {
			e.KeptContourM += s.cells.EdgeLength(int32(i)) / 1000
		}
	}
	for i := range s.base {
		switch s.base[i].class {
		case Surround, Ground:
			e.Grounds++
		case Counter:
			e.Counters++
		}
	}
	for i := range s.regions {
		if s.regions[i].Fragile {
			e.Fragile++
		}
	}
	e.LeastHeightMM = leastHeight(s.letters)
	*e = s.times().Weigh(*e, s.req.Novice)
}
