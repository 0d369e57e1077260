package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// weighing is the step that holds a map against the limits of the stock.
type weighing struct{ *survey }

// weighed is a survey whose faults are found and whose effort is counted.
type weighed struct{ survey }

// weigh holds what was measured against the limits of the stock, and counts
// the effort.
func (m survey) weigh() weighed {
	s := weighing{&m}
	s.effort()
	s.weighStrokes()
	s.weighNecks()
	s.weighCounters()
	s.weighLetters()
	s.weighAngles()
	s.weighPieces()
	s.weighLooseEnds()
	return weighed{m}
}

// tally gathers the places of one fault.
type tally struct {
	places []finding.Place
	count  int
	least  float64
	length float64
}

func (t *tally) add(box geometry.Box, measure, length float64) {
	if t.count == 0 || measure < t.least {
		t.least = measure
	}
	t.count++
	t.length += length
	t.places = append(t.places, finding.Place{Box: box})
}

// report adds a finding when anything was tallied.
func (s weighing) report(code finding.Code, t *tally, values finding.Values) {
	if t.count == 0 {
		return
	}
	values["least_mm"], values["length_mm"] = finding.Num(t.least), finding.Num(t.length)
	s.find(finding.New(code, t.count, values, t.places...))
}

// weighStrokes sorts the narrow stretches of kept film into care, expert and
// too thin.
func (s weighing) weighStrokes() {
	l := s.limits
	var care, expert, thin tally
	for i := range s.parts {
		if s.parts[i].base.class != Kept {
			continue
		}
		for _, n := range s.parts[i].shape.Necks {
			t := &care
			if n.WidthMM < l.StrokeCareMM {
				t = &expert
			}
			if n.WidthMM < l.StrokeExpertMM {
				t = &thin
			}
			t.add(n.Box.Grow(n.WidthMM/2), n.WidthMM, n.LengthMM)
		}
	}
	s.report(finding.StrokeTooThin, &thin, finding.Values{"expert_mm": finding.Num(l.StrokeExpertMM)})
	s.report(finding.StrokeExpert, &expert, finding.Values{"care_mm": finding.Num(l.StrokeCareMM)})
	s.report(finding.StrokeCare, &care, finding.Values{"easy_mm": finding.Num(l.StrokeEasyMM)})
}

func (s weighing) weighNecks() {
	var t tally
	for i := range s.parts {
		if s.parts[i].base.class == Kept || !s.peeled() {
			continue
		}
		for _, n := range s.parts[i].shape.Necks {
			if n.LengthMM > n.WidthMM { // shorter ones are the corners of a wider place
				t.add(n.Box.Grow(n.WidthMM/2), n.WidthMM, n.LengthMM)
			}
		}
	}
	s.report(finding.NeckTears, &t, finding.Values{"neck_mm": finding.Num(s.limits.NeckMM)})
}

func (s weighing) weighCounters() {
	var t tally
	area := math.Inf(1)
	for i := range s.regions {
		r := &s.regions[i]
		if r.Class != Counter || (2*r.PickRadiusMM >= s.limits.CounterMM && r.AreaMM2 >= s.limits.CounterMM2) {
			continue
		}
		s.budget.Spend(len(r.Outer.Segments))
		t.add(r.Outer.Bounds(), 2*r.PickRadiusMM, 0)
		area = math.Min(area, r.AreaMM2)
	}
	s.report(finding.CounterSmall, &t, finding.Values{
		"counter_mm": finding.Num(s.limits.CounterMM), "counter_mm2": finding.Num(s.limits.CounterMM2), "least_mm2": finding.Num(area),
	})
}

func (s weighing) weighLetters() {
	h, l := s.work.LeastHeightMM, s.limits
	if h == 0 || h >= l.LetterEasyMM {
		return
	}
	code := finding.LetterCare
	if h < l.LetterCareMM {
		code = finding.LetterExpert
	}
	if h < l.LetterExpertMM {
		code = finding.LetterTooLow
	}
	var places []finding.Place
	letters := lettering{s.budget, s.cells}.letters()
	for _, b := range letters {
		if b.Height() <= h {
			places = append(places, finding.Place{Box: b})
		}
	}
	s.find(finding.New(code, max(1, len(places)), finding.Values{
		"height_mm": finding.Num(h), "easy_mm": finding.Num(l.LetterEasyMM), "care_mm": finding.Num(l.LetterCareMM), "expert_mm": finding.Num(l.LetterExpertMM),
	}, places...))
}

// weighAngles looks for sharp corners of kept regions.
func (s weighing) weighAngles() {
	var t tally
	for i := range s.parts {
		if s.parts[i].base.class != Kept {
			continue
		}
		for _, ring := range s.parts[i].rings {
			for k := range ring {
				s.budget.Spend(4)
				angle := insideAngle(ring, k)
				if angle < s.limits.KeptAngleDeg {
					t.add(geometry.BoxAround(ring[k]), angle, 0)
				}
			}
		}
	}
	if t.count == 0 {
		return
	}
	s.find(finding.New(finding.KeptAngleSharp, t.count, finding.Values{
		"limit_deg": finding.Num(s.limits.KeptAngleDeg), "least_deg": finding.Num(t.least),
	}, t.places...))
}

// insideAngle returns the angle inside the region at corner k of a ring that
// has the region on its left, in degrees.
func insideAngle(ring []geometry.Point, k int) float64 {
	n := len(ring)
	u, v := ring[k].Sub(ring[(k+n-1)%n]), ring[(k+1)%n].Sub(ring[k])
	return 180 - math.Atan2(u.Cross(v), u.Dot(v))*180/math.Pi
}

func (s weighing) weighPieces() {
	var t tally
	for i := range s.regions {
		if r := &s.regions[i]; r.Fragile {
			s.budget.Spend(len(r.Outer.Segments))
			t.add(r.Outer.Bounds(), r.AreaMM2, 0)
		}
	}
	if t.count == 0 {
		return
	}
	s.find(finding.New(finding.PieceFragile, t.count, finding.Values{
		"limit_mm2": finding.Num(s.limits.FragileMM2), "least_mm2": finding.Num(t.least),
	}, t.places...))
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
	if s.req.Purpose == Lettering {
		e.LeastHeightMM = leastHeight(lettering{s.budget, s.cells}.letters())
	}
	*e = s.times().Weigh(*e, s.req.Novice)
}
