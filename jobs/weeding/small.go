package weeding

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/finding"
)

func (s weighing) weighNecks() {
	var t tally
	for i := range s.parts {
		if s.parts[i].base.class == Kept || !s.peeled() {
			continue
		}
		for _, n := range s.parts[i].shape.Necks {
			if counts(n) {
				t.add(n.Box.Grow(n.WidthMM/2), n.WidthMM, n.LengthMM)
			}
		}
	}
	s.report(finding.NeckTears, &t, finding.Values{"neck_mm": finding.Num(s.limits.NeckMM)})
}

// weighCounters looks for openings that are too small. The stroke of a letter
// and a slot are none, however narrow: they are long enough to be gripped.
func (s weighing) weighCounters() {
	var t tally
	area := math.Inf(1)
	for i := range s.regions {
		r := &s.regions[i]
		across := 2*r.PickRadiusMM >= s.limits.CounterMM || r.slender()
		if r.Class != Counter || across && r.AreaMM2 >= s.limits.CounterMM2 {
			continue
		}
		s.budget.Spend(len(r.Outer.Segments))
		t.add(r.Outer.Bounds(), 2*r.PickRadiusMM, 0)
		area = math.Min(area, r.AreaMM2)
	}
	s.report(finding.CounterSmall, &t, finding.Values{
		"counter_mm": finding.Num(s.limits.CounterMM), "counter_mm2": finding.Num(s.limits.CounterMM2), "least_mm2": finding.Num(area),
		"wanted_mm": finding.Num(math.Max(s.limits.CounterMM, math.Sqrt(4/math.Pi*s.limits.CounterMM2))), // a round hole as wide has the area too
	})
}

// slender reports whether the region is longer than three times its width, as a
// strip l by w of its area l·w and perimeter 2·(l+w) is from (l+w)² = 16/3·l·w on.
func (r *Region) slender() bool {
	half := r.PerimeterMM / 2
	return half*half > 16.0/3*r.AreaMM2
}

// weighLetters holds the lowest letters against the limits. Letters that are too
// low are refused; shapes without a bay or a hole, such as bars and dots, may be no
// letters, and are only told.
func (s weighing) weighLetters(fine *tooFine) {
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
	lettered := false
	for _, line := range s.letters {
		if line.lowest() > h*(1+1e-9) {
			continue
		}
		lettered = lettered || line.lettered()
		for _, f := range line.letters() {
			if line.heightOf(f) <= h*(1+1e-9) {
				places = append(places, finding.Place{Box: line.place(f.Box)})
			}
		}
	}
	f := finding.New(code, max(1, len(places)), s.worded(finding.Values{
		"height_mm": finding.Num(h), "easy_mm": finding.Num(l.LetterEasyMM), "care_mm": finding.Num(l.LetterCareMM), "expert_mm": finding.Num(l.LetterExpertMM),
	}), places...)
	switch {
	case code != finding.LetterTooLow:
		s.find(f)
	case !lettered:
		s.find(f.As(finding.Warn))
	default:
		fine.low, fine.refused = &f, true
	}
}

// tellSurround says why work that is framed by an outline of its own gets no weed
// border, and so no step for the film round it.
func (s weighing) tellSurround() {
	if !s.req.Border || !s.peeled() || s.sheet || !s.leavesSurround() {
		return
	}
	s.find(finding.New(finding.SurroundStays, 1, s.worded(finding.Values{}), finding.Place{Box: s.cells.bounds}))
}

// weighAngles looks for sharp corners of kept regions.
func (s weighing) weighAngles() {
	var t tally
	for i := range s.parts {
		if s.parts[i].base.class != Kept {
			continue
		}
		for _, ring := range s.parts[i].rings {
			s.budget.Spend(2 * len(ring))
			for k := range ring {
				if s.limits.KeptAngleDeg <= 90 && !turnsBack(ring, k) {
					continue // the angle is a right one or more
				}
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
	s.find(finding.New(finding.KeptAngleSharp, t.count, s.worded(finding.Values{
		"limit_deg": finding.Num(s.limits.KeptAngleDeg), "least_deg": finding.Num(t.least),
	}), t.places...))
}

// insideAngle returns the angle inside the region at corner k of a ring that
// has the region on its left, in degrees.
func insideAngle(ring []geometry.Point, k int) float64 {
	n := len(ring)
	u, v := ring[k].Sub(ring[(k+n-1)%n]), ring[(k+1)%n].Sub(ring[k])
	return 180 - math.Atan2(u.Cross(v), u.Dot(v))*180/math.Pi
}

// turnsBack reports whether a ring turns by more than a right angle at corner k.
func turnsBack(ring []geometry.Point, k int) bool {
	n := len(ring)
	return ring[k].Sub(ring[(k+n-1)%n]).Dot(ring[(k+1)%n].Sub(ring[k])) < 0
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
	s.find(finding.New(finding.PieceFragile, t.count, s.worded(finding.Values{
		"limit_mm2": finding.Num(s.limits.FragileMM2), "least_mm2": finding.Num(t.least),
	}), t.places...))
}
