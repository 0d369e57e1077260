package evidence

import (
	"math"

	"knifedesk/geometry"
)

// maxSideSegments bounds the segments of a path that can be a frame: one with
// more is drawn work. It keeps the search linear in the drawing.
const maxSideSegments = 64

// straightness is how far, against the length of the run, a vertex may stray
// from the straight line through its neighbours: 0.09 mm on the long side of
// A4, four times the noise of a coarse export.
const straightness = 3e-4

// run is a straight piece of a path, made of one or more segments of it.
type run struct {
	from, to geometry.Point
	lo, hi   int // its first and last segment; of a closed path they may wrap
}

// runsOf splits a path of straight segments into its longest straight runs. It
// reports false where the path is curved or too long to be a frame. The runs
// of a closed path go round: the start lies inside a run where it lies on a
// side. They are written over buf.
func runsOf(p *geometry.Path, buf []run) ([]run, bool) {
	if len(p.Segments) == 0 || len(p.Segments) > maxSideSegments {
		return nil, false
	}
	runs := buf[:0]
	from := p.Start
	for i, s := range p.Segments {
		if !isStraight(from, s) {
			return nil, false
		}
		if s.End != from {
			runs = appendRun(runs, run{from, s.End, i, i})
		}
		from = s.End
	}
	if p.Closed {
		runs = joinEnds(runs)
	}
	return runs, len(runs) > 0
}

// joinEnds makes one run of the last and the first of a closed path where that
// begins on a side.
func joinEnds(runs []run) []run {
	if n := len(runs); n > 1 {
		if joined, ok := joinRuns(runs[n-1], runs[0]); ok {
			runs[0] = joined
			return runs[:n-1]
		}
	}
	return runs
}

// sidesOf leaves out of the runs of a closed path those that are shorter than a
// vertex may stray, such as the one that closes a path whose steps were rounded. The
// corner is then where the runs beside it meet. It writes over runs.
func sidesOf(runs []run) []run {
	longest := 0.0
	for _, r := range runs {
		longest = math.Max(longest, length(r))
	}
	sides := runs[:0]
	for _, r := range runs {
		if length(r) > straightness*longest {
			sides = appendRun(sides, r)
		}
	}
	return joinEnds(sides)
}

func isStraight(from geometry.Point, s geometry.Segment) bool {
	if s.Kind != geometry.Cubic {
		return s.Straight()
	}
	slack := straightness * from.Dist(s.End)
	return from != s.End && s.C1.DistToSegment(from, s.End) <= slack && s.C2.DistToSegment(from, s.End) <= slack
}

func appendRun(runs []run, r run) []run {
	if n := len(runs); n > 0 {
		if joined, ok := joinRuns(runs[n-1], r); ok {
			runs[n-1] = joined
			return runs
		}
	}
	return append(runs, r)
}

// joinRuns returns a followed by b as one run where b goes straight on.
func joinRuns(a, b run) (run, bool) {
	d, e := a.to.Sub(a.from), b.to.Sub(b.from)
	whole := b.to.Sub(a.from)
	if d.Dot(e) <= 0 || math.Abs(whole.Unit().Cross(d)) > straightness*whole.Norm() {
		return run{}, false
	}
	return run{a.from, b.to, a.lo, b.hi}, true
}

// meet returns where the lines through two runs cross.
func meet(a, b run) (geometry.Point, bool) {
	d, e := a.to.Sub(a.from), b.to.Sub(b.from)
	det := d.Cross(e)
	if math.Abs(det) < 0.5*d.Norm()*e.Norm() {
		return geometry.Point{}, false
	}
	t := b.from.Sub(a.from).Cross(e) / det
	return a.from.Lerp(a.to, t), true
}

// quadOfSides returns the rectangle whose sides lie on four runs in order.
func quadOfSides(s []run) (Quad, bool) {
	var c [4]geometry.Point
	for i := range c {
		p, ok := meet(s[i], s[(i+1)%4])
		if !ok {
			return Quad{}, false
		}
		c[i] = p
	}
	return newQuad(c)
}
