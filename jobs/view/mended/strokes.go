package mended

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/weeding"
)

// Strokes are the lines that the mended file holds, in the artwork's coordinates:
// welded and bridged where the plan has come so far, without what it adds for the
// bench. The artwork of r has to be known.
func Strokes(b *budget.Budget, r *view.Results, q *plan.Request) []artwork.Stroke {
	if r.Weeding == nil {
		return settled(b, r.Artwork.Strokes, q)
	}
	var drawn []artwork.Stroke
	for _, s := range r.Weeding.Strokes {
		b.Step()
		if s.Added == "" || s.Added == artwork.Bridge {
			drawn = append(drawn, s)
		}
	}
	return settled(b, drawn, q)
}

// mostRounds bounds how often lines are mended until nothing is found in them.
const mostRounds = 3

// settled mends what welding, bridging and mending itself leave in the lines, such as
// tiny segments: otherwise it would be found when the file is read.
func settled(b *budget.Budget, drawn []artwork.Stroke, q *plan.Request) []artwork.Stroke {
	o := mend.Options{Limits: mend.DefaultLimits(), Off: q.Options.MendsOff, Unite: q.Replies[weeding.QuestionWeld].Answer != weeding.AnswerApart}
	for range mostRounds {
		e := mend.NewEffort(b, mend.Segments(drawn))
		again := mend.Lines(e, drawn, o)
		if e.Crowd() != nil || len(again.Findings) == 0 {
			break
		}
		drawn = again.Strokes
	}
	return drawn
}

// The steps in a mm and in a bulge to which a file's numbers are rounded: far below
// what any machine follows, and far above the noise of computing, so that a file is
// the same when it is made again of itself.
const (
	perMM    = 1e6
	perBulge = 1e12
)

// rounded returns p on those steps. Curves that are straight and evenly run are lines:
// formats without mixed paths write lines so. What has no length on the steps is left out.
func rounded(p geometry.Path) geometry.Path {
	all := slices.Clone(p.Segments)
	p.Segments = all[:0]
	p.Start = snapped(p.Start)
	from := p.Start
	for _, s := range all {
		s.End, s.C1, s.C2 = snapped(s.End), snapped(s.C1), snapped(s.C2)
		s.Bulge = math.Round(s.Bulge*perBulge) / perBulge
		if s.Kind == geometry.Cubic && s.C1.Dist(from.Lerp(s.End, 1./3)) < 2/perMM && s.C2.Dist(from.Lerp(s.End, 2./3)) < 2/perMM {
			s = geometry.LineTo(s.End)
		}
		if s.End == from && (s.Kind != geometry.Cubic || s.C1 == from && s.C2 == from) {
			continue
		}
		p.Segments = append(p.Segments, s)
		from = s.End
	}
	return p
}

func snapped(p geometry.Point) geometry.Point {
	return geometry.Pt(math.Round(p.X*perMM)/perMM, math.Round(p.Y*perMM)/perMM)
}

// held returns strokes as DXF can hold them: settled anew where arcs became other curves,
// whose pieces can be so small that they would be found when the file is read.
func held(b *budget.Budget, strokes []artwork.Stroke, q *plan.Request) []artwork.Stroke {
	out, changed := slices.Clone(strokes), false
	for i := range out {
		b.Spend(1 + len(out[i].Path.Segments))
		path, mixed := unmixed(out[i].Path)
		out[i].Path, changed = path, changed || mixed
	}
	if !changed {
		return strokes
	}
	return settled(b, out, q)
}

// unmixed returns p as DXF can hold it, rounded where it was mixed: a path with a cubic
// has no arcs.
func unmixed(p geometry.Path) (q geometry.Path, mixed bool) {
	if !slices.ContainsFunc(p.Segments, func(s geometry.Segment) bool { return s.Kind == geometry.Cubic }) {
		return p, false
	}
	q = geometry.Path{Start: p.Start, Closed: p.Closed}
	from := p.Start
	for _, s := range p.Segments {
		if s.Kind != geometry.Arc || s.Straight() {
			q.Segments = append(q.Segments, s)
		} else {
			mixed = true
			c, r, start, sweep := geometry.ArcCircle(from, s)
			q.Segments = append(q.Segments, geometry.EllipseArc(c, geometry.Pt(r, 0), geometry.Pt(0, r), start, sweep)...)
			q.Segments[len(q.Segments)-1].End = s.End
		}
		from = s.End
	}
	if !mixed {
		return p, false
	}
	return rounded(q), true
}
