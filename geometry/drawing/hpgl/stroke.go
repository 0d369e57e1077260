package hpgl

import (
	"math"
	"strconv"

	"knifedesk/geometry"
)

// stroke is one path being written.
type stroke struct {
	e    *encoder
	arcs bool
	at   geometry.Point // where the pen is, once all that waits is written
	wait []unitPoint    // points to draw to; the first of all is where the pen comes down
	up   bool           // the pen has not been lowered yet
	err  error          // a *RangeError
}

// path moves to its start with the pen up and draws it with the pen down.
func (e *encoder) path(p geometry.Path, arcs bool) error {
	if p.Empty() {
		return nil
	}
	s := stroke{e: e, arcs: arcs, up: true}
	s.to(p.Start)
	from := p.Start
	for _, seg := range p.Segments {
		s.segment(from, seg)
		from = seg.End
	}
	if len(s.wait) > 1 || !s.up {
		s.flush()
	}
	return s.err
}

// segment draws an arc as one where it can, and else chords.
func (s *stroke) segment(from geometry.Point, seg geometry.Segment) {
	if s.arcs && seg.Kind == geometry.Arc && !seg.Straight() {
		if a, ok := arcOf(from, seg); ok && s.at.Dist(from) < nearMM {
			s.arc(a, seg.End)
			return
		}
	}
	for _, q := range seg.AppendFlat(nil, from, ChordMM) {
		s.to(q)
	}
}

// to draws to the point of the grid that is nearest; the first point is moved to.
func (s *stroke) to(q geometry.Point) {
	u, err := toUnits(q)
	if err != nil {
		s.err = err
		return
	}
	if at := geometry.Pt(float64(u.x)/UnitsPerMM, float64(u.y)/UnitsPerMM); at != s.at || s.up && len(s.wait) == 0 {
		s.wait, s.at = append(s.wait, u), at
	}
}

// arc draws an arc from where the pen is.
func (s *stroke) arc(a arc, end geometry.Point) {
	if _, err := toUnits(end); err != nil || s.err != nil {
		s.err = err
		return
	}
	s.flush()
	if s.up {
		s.e.put("PD;\n")
		s.up = false
	}
	s.e.put("AA", strconv.Itoa(a.centre.x), ",", strconv.Itoa(a.centre.y), ",",
		strconv.FormatFloat(a.sweepDeg, 'f', 4, 64), ",", strconv.FormatFloat(a.chordDeg, 'f', 2, 64), ";\n")
	s.at = end
}

// flush writes the points that wait.
func (s *stroke) flush() {
	if s.err != nil {
		return
	}
	rest := s.wait
	if s.up && len(rest) > 0 {
		s.e.points("PU", rest[:1])
		rest = rest[1:]
	}
	const perLine = 100
	for len(rest) > 0 {
		n := min(perLine, len(rest))
		s.e.points("PD", rest[:n])
		rest, s.up = rest[n:], false
	}
	s.wait = s.wait[:0]
}

// arc is one as AA says it: about a point of the grid from where the pen is, its sweep
// anticlockwise, in chords over so many degrees.
type arc struct {
	centre   unitPoint
	sweepDeg float64
	chordDeg float64
}

// nearMM is how far from a point of the grid what lies on it may be by rounding.
const nearMM = 1e-5

// arcOf returns an arc as AA says it, and whether it can: its centre is on the grid, and
// chords over half a degree, the least that the instruction has, stray by ChordMM at most.
func arcOf(from geometry.Point, seg geometry.Segment) (arc, bool) {
	c, r, _, sweep := geometry.ArcCircle(from, seg)
	u, err := toUnits(c)
	if err != nil || c.Dist(geometry.Pt(float64(u.x)/UnitsPerMM, float64(u.y)/UnitsPerMM)) > nearMM {
		return arc{}, false
	}
	const least, usual = 0.5, 5 // degrees; the second is what holds where none is said
	chord := 2 * math.Acos(math.Max(0, 1-ChordMM/r)) * 180 / math.Pi
	return arc{u, sweep * 180 / math.Pi, math.Min(usual, math.Floor(100*chord)/100)}, chord >= least
}
