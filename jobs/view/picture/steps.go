package picture

import (
	"math"
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/weeding"
)

// standing is where the number of a step stands in a panel.
type standing struct {
	step    weeding.Step
	foot    geometry.Point // the pick point, in pixels
	at      geometry.Point // the middle of the number
	r, size float64        // of the badge and its digits, r 0: no room
	pull    geometry.Point // direction of the arrow
	arrow   float64        // its length, 0: none
	covers  bool           // it stands over what has a number of its own
}

// apart reports whether the number stands off its pick point.
func (t *standing) apart() bool { return t.at != t.foot }

// sizes of badges by the number of digits: radius and letter size, the common
// one and the small one for places with less room.
func badgeSizes(digits int) [2][2]float64 {
	if digits <= 2 {
		return [2][2]float64{{12.5, 15}, {10.5, 13}}
	}
	const most, least, digit = 13.5, 12.5, 0.36 // half of how wide a digit is at most, in its size
	half := func(size float64) float64 { return digit*size*float64(digits) + 1.2 }
	return [2][2]float64{{half(most), most}, {half(least), least}}
}

// place finds room for the numbers of steps in the panel: those that fit in
// their region first, then their arrows, then the others beside their region.
func (s *sheet) place(steps []weeding.Step) []standing {
	all := make([]standing, len(steps))
	for i, st := range steps {
		all[i] = s.stand(st)
		if t := &all[i]; t.apart() {
			s.Spots.Take(t.foot, 3)
		} else {
			s.Spots.Take(t.at, t.r+1)
		}
	}
	for i := range all {
		if pulls(s.m) {
			s.pullArrow(&all[i])
		}
	}
	for i := range all {
		if all[i].apart() {
			s.stepAside(&all[i])
		}
	}
	return all
}

// stand puts a number at its pick point where its region has room for it.
func (s *sheet) stand(st weeding.Step) standing {
	t := standing{step: st, foot: s.View.Apply(st.Pick)}
	t.at = geometry.Pt(math.Inf(1), 0)
	pull := geometry.Rotate(st.PeelDeg * math.Pi / 180).ApplyVector(geometry.Pt(1, 0))
	t.pull = s.View.ApplyVector(pull).Unit()
	for _, b := range badgeSizes(len(strconv.Itoa(st.Order))) {
		if r := b[0]; s.Spots.Within(t.foot, r+2, st.Region) && s.Spots.Free(t.foot, r) && !s.Spots.OnLine(t.foot, r) {
			t.at, t.r, t.size = t.foot, r, b[1]
			break
		}
	}
	return t
}

// pullArrow gives the step an arrow where its region runs on that way.
func (s *sheet) pullArrow(t *standing) {
	const least, most = 20.0, 34.0
	from := t.start()
	run := s.Spots.Run(t.foot, t.pull, t.step.Region, most+20) - from.Dist(t.foot) - 4
	length := math.Min(run, most)
	near, tip := from.Add(t.pull.Mul(2*figure.Cell)), from.Add(t.pull.Mul(length))
	if length < least || !s.Spots.FreeLine(near, tip) {
		return
	}
	t.arrow = length
	s.Spots.TakeLine(from, tip)
	s.Spots.Take(tip.Sub(t.pull.Mul(4)), 5)
}

// start returns where the arrow starts: at the pick point, or at the edge of a
// number that stands there.
func (t *standing) start() geometry.Point {
	if t.apart() {
		return t.foot.Add(t.pull.Mul(4))
	}
	return t.foot.Add(t.pull.Mul(t.r))
}

// stepAside puts a number beside its pick point, over what is kept rather than
// over what goes, above all what has a number of its own.
func (s *sheet) stepAside(t *standing) {
	sizes := badgeSizes(len(strconv.Itoa(t.step.Order)))
	price := func(i int) float64 {
		n := s.Spots.Region(i)
		if n == t.step.Region {
			return 0.5
		}
		if r := s.byNumber[n]; r == nil || r.Kept() {
			return 0
		}
		return 2
	}
	for _, far := range [...]float64{nearBy, farOff} {
		for _, b := range sizes {
			at, ok := s.Spots.Beside(t.foot, b[0], far*b[0], price)
			if !ok {
				continue
			}
			t.at, t.r, t.size = at, b[0], b[1]
			t.covers = s.hides(at, t.r, t.step.Region)
			s.Spots.Take(at, t.r+2)
			s.Spots.TakeLine(at, t.foot)
			return
		}
	}
}

// How far from its pick point a number may stand, in radii, and how far where there is no
// room any nearer.
const (
	nearBy = 8
	farOff = 18
)

// hides reports whether a number that stands beside its region hides something
// of other regions that go, or a fifth of its own.
func (s *sheet) hides(at geometry.Point, r float64, region int) bool {
	const most = 3 // cells
	own, others := 0, 0
	s.Spots.Cells(at, r, func(i int) bool {
		n := s.Spots.Region(i)
		if n == region {
			own++
		} else if o := s.byNumber[n]; o != nil && !o.Kept() {
			others++
		}
		return true
	})
	if others > most {
		return true
	}
	q := s.byNumber[region]
	return q != nil && 5*float64(own)*figure.Cell*figure.Cell > math.Abs(q.Outer.Area())*s.Scale*s.Scale
}

// number draws the numbers where they were placed.
func (s *sheet) number(all []standing) {
	s.Zone = figure.ZoneMarks
	for _, t := range all {
		if t.r > 0 && t.apart() {
			s.Leader(t.at, t.r, t.foot, figure.Ink)
		} else if t.r == 0 {
			s.Draw(dotStyle(), geometry.Circle(t.foot, 3.2))
			s.drawn.dot = true
		}
		if t.arrow > 0 {
			s.Arrow(arrowStyle(), t.start(), t.pull, t.arrow)
			s.drawn.arrow = true
		}
	}
	for _, t := range all {
		if t.r > 0 {
			s.Badge(t.at, t.r, t.size, badgeStyle(), strconv.Itoa(t.step.Order))
		}
	}
}
