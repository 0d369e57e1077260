package picture

import (
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// classes returns all classes in the order in which they are drawn and listed.
func classes() []weeding.Class {
	return []weeding.Class{weeding.Kept, weeding.Surround, weeding.Ground, weeding.Counter}
}

// patternOf returns the pattern of a class: what stays is dark under slanting
// lines; of what goes the surround is blank, the ground dotted, and counters
// have level lines.
func patternOf(c weeding.Class) figure.Pattern {
	switch c {
	case weeding.Kept:
		return figure.Pattern{Tint: keptTint, Deg: 45, Gap: 5.5, Line: figure.Style{Stroke: keptInk, Width: 1.1}}
	case weeding.Ground:
		return figure.Pattern{Tint: sandTint, Gap: 6, Dots: 11, Brick: true, Line: figure.Style{Stroke: sandInk, Width: 1.7, Dash: []float64{0.01, 10.99}}}
	case weeding.Counter:
		return figure.Pattern{Tint: emberTint, Gap: 6.5, Line: figure.Style{Stroke: sandInk, Width: 0.9}}
	}
	return figure.Pattern{}
}

func className(c weeding.Class, p weeding.Purpose) string {
	switch {
	case c == weeding.Kept && p == weeding.Pieces:
		return "stays: the part"
	case c == weeding.Kept && p == weeding.Stencil:
		return "stays: the stencil"
	case c == weeding.Kept:
		return "stays on the liner"
	case c == weeding.Surround:
		return "goes: the surround"
	case c == weeding.Ground && p == weeding.Stencil:
		return "goes: an opening that holds islands"
	case c == weeding.Ground && p == weeding.Pieces:
		return "goes: a hole or a surround that holds parts"
	case c == weeding.Ground:
		return "goes: the ground between kept shapes"
	case p == weeding.Stencil:
		return "goes: an opening"
	case p == weeding.Pieces:
		return "goes: a hole in a part"
	}
	return "goes: a counter inside a shape"
}

// legends lists what is in the map, and what to do at which step.
func (s *sheet) legends() {
	s.classLegend()
	if len(s.m.Bridges) > 0 {
		s.Legend("bridge: left uncut, holds an island; leave it in place", func(b geometry.Box) {
			s.Draw(bridgeStyle(), geometry.BoxAround(b.Min.Add(geometry.Pt(8, 5)), b.Max.Sub(geometry.Pt(8, 5))).Path())
		})
	}
	s.lineLegend(s.m.Strokes, nil)
	s.stepLegend()
	s.findingLegend(s.findings, s.caution, 1)
	s.hints()
	if s.m.SheetUncut() {
		s.Paragraph(0, "The sheet round the openings is the stencil. No line is cut along its edge: trim it by hand, or use the sheet whole.")
	}
}

// caution names a finding so that it is neither a step nor a part.
func (s *sheet) caution(i int) string { return "!" + tagNames(s.findings)(i) }

func (s *sheet) classLegend() {
	has := map[weeding.Class]bool{}
	for i := range s.m.Regions {
		has[s.m.Regions[i].Class] = true
	}
	for _, c := range classes() {
		if has[c] {
			s.Legend(className(c, s.m.Purpose), func(b geometry.Box) {
				s.Fill(patternOf(c), []geometry.Path{b.Path()})
				s.Draw(figure.Style{Stroke: figure.Ink, Width: 1}, b.Path())
			})
		}
	}
}

func (s *sheet) stepLegend() {
	if len(s.m.Steps) > 0 {
		text := "take out in the order of the numbers; push where the number or its dot stands"
		if pulls(s.m) {
			text = "peel in the order of the numbers; lift where the number or its dot stands"
		}
		s.Legend(text, func(b geometry.Box) {
			s.Badge(b.Centre(), 10, 12.5, badgeStyle(), "1")
		})
	}
	if s.drawn.arrow {
		s.Legend("pull this way; what has no arrow is lifted straight up", func(b geometry.Box) {
			s.Arrow(arrowStyle(), geometry.Pt(b.Min.X+4, b.Centre().Y), geometry.Pt(1, 0), 38)
		})
	}
	if s.drawn.dot {
		s.Legend("lift here too: a step whose number has no room, next after those round it", func(b geometry.Box) {
			s.Draw(dotStyle(), geometry.Circle(b.Centre(), 3.2))
		})
	}
	for i := range s.m.Regions {
		if s.m.Regions[i].Fragile {
			s.Legend("small piece: hold it down while you peel round it", func(b geometry.Box) {
				s.Draw(fragileStyle(), geometry.Circle(b.Centre(), 8.5))
			})
			return
		}
	}
}

// pulls reports whether film is pulled off; what is cut through drops out.
func pulls(m *weeding.Map) bool {
	return slices.ContainsFunc(m.Strokes, func(st artwork.Stroke) bool { return st.Operation == artwork.KissCut })
}

// hints writes the hints of the steps, each with the steps for which it holds
// and their time.
func (s *sheet) hints() {
	steps := s.m.Steps
	if len(steps) == 0 || steps[0].Hint == "" {
		return
	}
	for i := 0; i < len(steps); {
		j, seconds := i+1, steps[i].Seconds
		for ; j < len(steps) && steps[j].Hint == ""; j++ {
			seconds += steps[j].Seconds
		}
		if i == 0 {
			heading := "How to take it out"
			if pulls(s.m) {
				heading = "How to peel"
			}
			s.Heading(heading)
		}
		which := fmt.Sprintf("Step %d", steps[i].Order)
		if j > i+1 {
			which = "Steps " + number.Through(steps[i].Order, steps[j-1].Order)
		}
		s.Paragraph(0, fmt.Sprintf("%s, about %s: %s", which, duration(seconds), steps[i].Hint))
		i = j
	}
}
