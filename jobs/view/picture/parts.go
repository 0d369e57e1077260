package picture

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// When parts are drawn enlarged.
const (
	farFrom     = 4   // radii from its pick point from which a number stands far off
	manyUnclear = 6   // above that many numbers that are far off or hide something
	mostHidden  = 0.1 // or where numbers beside their regions hide more of the map
)

// whole draws the whole map, with the numbers of the steps where they have
// room, and else with the parts that follow.
func (s *sheet) whole() {
	s.Open(s.extent, figure.Inset{Marked: len(s.m.Steps)+len(s.findings) > 0})
	s.content()
	all := s.place(s.m.Steps)
	if s.crowded(all) {
		s.tiles = s.division().cut()
		if len(s.tiles) == 0 && (s.m.Copies > 1 || isLong(s.extent)) {
			s.tiles = s.division().cutLoad()
		}
		if len(s.tiles) > 0 {
			s.tiles = s.finer(s.tiles)
			s.Spots.Forget()
			s.Spots.Line(s.tileEdges())
		}
	}
	s.markFindings(s.findings, s.caution, 1)
	s.markParts(s.m.Questions)
	if len(s.tiles) == 0 {
		s.number(all)
	} else {
		s.outlineTiles()
	}
}

// isLong reports whether a map is so long for its height that lengths of it come out larger.
func isLong(b geometry.Box) bool { return b.Width() > 4*b.Height() || b.Height() > 4*b.Width() }

// crowded reports whether numbers have no room, many of them are unclear,
// or those beside their regions hide too much.
func (s *sheet) crowded(all []standing) bool {
	unclear, none, hidden := 0, 0, 0.0
	for i := range all {
		t := &all[i]
		switch {
		case t.r == 0:
			none++
			continue
		case t.covers || t.at.Dist(t.foot) > farFrom*t.r:
			unclear++
		}
		if t.apart() {
			hidden += math.Pi * t.r * t.r
		}
	}
	return none > 0 || unclear > manyUnclear || hidden > mostHidden*s.Area.Width()*s.Area.Height()
}

// tileEdges returns where the parts lie in the whole map, in pixels.
func (s *sheet) tileEdges() []geometry.Path {
	edges := make([]geometry.Path, len(s.tiles))
	for i, t := range s.tiles {
		edges[i] = s.OnPage(t.box).Path()
	}
	return edges
}

// outlineTiles shows in the whole map which part is where.
func (s *sheet) outlineTiles() {
	s.Zone = figure.ZoneMarks
	edges := s.tileEdges()
	s.Draw(figure.Style{Stroke: figure.Paper, Width: 4}, edges...)
	for _, edge := range edges {
		s.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, edge)
	}
	for _, t := range s.tiles {
		s.tileName(s.OnPage(t.box), t.name)
	}
}

// tileName writes the name of a part in a corner of it, or where else in it no line of
// the work is covered, or beside the work with a leader from just within its edge.
func (s *sheet) tileName(b geometry.Box, name string) {
	const least = 9.5 // pixels, half of the side of a badge
	for _, half := range []float64{17, 12, least} {
		for y := b.Min.Y + half + 5; y < b.Max.Y-half; y += 4 {
			for x := b.Min.X + half + 5; x < b.Max.X-half; x += 4 {
				if box := geometry.BoxAround(geometry.Pt(x, y)).Grow(half); s.Spots.Clear(box.Grow(3)) {
					s.tileBadge(box, name)
					return
				}
			}
		}
	}
	inner, c := b.Grow(-math.Min(8, b.Width()/4)), b.Centre()
	best, foot, found := geometry.Point{}, c, false
	for _, from := range []geometry.Point{{X: inner.Min.X, Y: c.Y}, {X: inner.Max.X, Y: c.Y}, {X: c.X, Y: inner.Min.Y}, {X: c.X, Y: inner.Max.Y}} {
		if at, ok := s.Spots.Beside(from, least+2, anywhere, nil); ok && (!found || at.Dist(from) < best.Dist(foot)) {
			best, foot, found = at, from, true
		}
	}
	if found {
		s.Leader(best, least, foot, figure.Ink)
		s.tileBadge(geometry.BoxAround(best).Grow(least), name)
	}
}

func (s *sheet) tileBadge(box geometry.Box, name string) {
	const smallest = 13 // pixels, of a letter
	size := math.Max(smallest, 1.4*box.Width()/2)
	s.Draw(figure.Style{Stroke: figure.Ink, Width: 1.8, Fill: figure.Paper}, box.Path())
	s.Label(geometry.Pt(box.Centre().X, box.Centre().Y+0.36*size), size, name)
	s.Spots.Take(box.Centre(), box.Width()/2+2)
}

// parts draws the parts enlarged, with the numbers of their steps.
func (s *sheet) parts() {
	for _, t := range s.tiles {
		s.Part("Part " + t.name)
		s.Paragraph(0, stepsText(t)+".")
		s.part(t)
	}
}

// stepsText names the steps of a part.
func stepsText(t tile) string {
	list := make([]int, len(t.steps))
	for i, st := range t.steps {
		list[i] = st.Order
	}
	if len(list) == 1 {
		return "Step " + numbers(list)
	}
	return "Steps " + numbers(list)
}

func (s *sheet) part(t tile) {
	whole := s.left
	s.Foot -= 10
	openPart(s, t)
	s.Within(s.Area, s.content)
	s.Zone = figure.ZoneMarks
	s.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, s.Area.Path())
	s.number(s.place(t.steps))
	s.ScaleBar()
	s.left = whole
}
