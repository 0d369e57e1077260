package mend_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/finding"
)

// What is left of lines, and what is said of them, is what was looked at: duplicates,
// joins, spurs and gaps, tiny and faceted pieces, doubled outlines, and what gives way.
func TestMendingIsAsItWas(t *testing.T) {
	facets := geometry.Polyline(geometry.Circle(geometry.Pt(30, 0), 20).Flatten(0.2)...).String()
	fine := geometry.Polyline(geometry.Circle(geometry.Pt(90, 0), 20).Flatten(0.004)...).String()
	for _, c := range []struct {
		name string
		data []string
	}{
		{"twice", []string{"M0 0H10V10H0Z", "M10 10V0H0V10Z", "M20 0H30", "M25 0H45V5", "M50 0A5 5 0 0 1 60 0", "M60 0A5 5 0 0 0 55 -5", "M70 0C70 8 78 8 78 0", "M70 0C70 4 72 6 74 6", "M0 20H12L0 20"}},
		{"ends", []string{"M0 0H20V10", "M20 10.08H0V0", "M30 0H50V10", "M50 10.6H30V0", "M60 0H80V10H60V0.9", "M90 0H110V10H90V-0.7", "M120 0H140V10H120V3", "M150 0H170", "M160 -5V0.5", "M180 0H200", "M200.05 0.02V20", "M200.1 20.03L180 20", "M210 0H220M221.2 0H230"}},
		{"tiny", []string{"M0 0H10V0.03L10.02 10H0Z", "M20 0H20.04", "M30 0H30.06", "M40 0V0", "M50 0L50.02 0.01L50.03 0.04L60 5L60.01 5.03V20H50Z", "M70 0H80V0.02H70Z", "M90 0.4L90.04 0.4L90.04 0.44"}},
		{"facets", []string{facets, fine, "M0 50L10 52L20 50L30 52L40 50L50 52L60 50L70 52"}},
		{"doubled", []string{"M0 0H30V20H0Z", "M0.7 0.7H29.3V19.3H0.7Z", "M40 0H70V20H40Z", "M41.5 1.5H68.5V18.5H41.5Z", "M80 10A10 10 0 0 1 100 10A10 10 0 0 1 80 10Z", "M80.5 10A9.5 9.5 0 0 0 99.5 10A9.5 9.5 0 0 0 80.5 10Z"}},
		{"junctions", []string{"M0 0H40", "M20 0V20", "M20 20L0 0", "M20 20L40 0", "M60 0H80V20H60Z", "M80 5H100V15H80", "M110 0L130 20M110 20L130 0M120 -5V25"}},
	} {
		strokes := cuts(t, c.data...)
		golden.Hold(t, c.name, retold(strokes))
	}
	strokes := cuts(t, "M0 0H40V20H0Z", "M0 20H40", "M10 0H60", "M20 5V15")
	for i := range strokes[1:] {
		strokes[i+1].Operation = artwork.Score
	}
	score := func(o artwork.Operation) bool { return o == artwork.Score }
	left, shared := mend.Yield(nil, strokes, mend.DefaultLimits(), score, func(o artwork.Operation) bool { return !score(o) })
	golden.Hold(t, "yields", fmt.Sprintf("%s%d share %.3f mm %.2f times at%s\n", linesText(left), shared.Count, shared.MM, shared.Times, placesText(shared.Places)))
}

func retold(strokes []artwork.Stroke) string {
	lim := mend.DefaultLimits()
	r := mend.Lines(nil, strokes, mend.Options{Limits: lim})
	united := mend.Lines(nil, strokes, mend.Options{Limits: lim, Unite: true})
	text := linesText(r.Strokes) + fmt.Sprintf("saved %.3f mm; with outlines kept whole %.3f mm, %d lines\n", r.SavedMM, united.SavedMM, len(united.Strokes))
	for _, f := range r.Findings {
		text += fmt.Sprintf("found %s (%s) × %d at%s: %v\n", f.Code, f.Severity, f.Count, placesText(f.Places), f.Values)
	}
	ends := mend.CheckEnds(nil, r.Strokes, lim)
	doubles, _ := mend.Doubles(nil, r.Strokes, lim)
	shown, slow := mend.Faceted(nil, r.Strokes)
	for _, s := range []struct {
		name  string
		spots mend.Spots
	}{{"gaps", ends.Gaps}, {"spurs", ends.Spurs}, {"leaks", ends.Leaks}, {"open", ends.Open}, {"facets that show", shown}, {"that slow", slow}} {
		text += fmt.Sprintf("%s: %d up to %.3f mm at%s\n", s.name, s.spots.Count, s.spots.MostMM, placesText(s.spots.Places))
	}
	for _, d := range doubles {
		text += fmt.Sprintf("line %d doubles %d, %.3f mm beside it\n", d.Inner, d.Outer, d.WidthMM)
	}
	return text + "with gaps closed:\n" + linesText(mend.CloseGaps(nil, r.Strokes, lim))
}

func linesText(strokes []artwork.Stroke) string {
	var b strings.Builder
	for _, s := range strokes {
		if n := len(s.Path.Segments); n > 12 {
			fmt.Fprintf(&b, "%s of shape %d: %d pieces, %.3f mm\n", s.Operation, s.Shape, n, s.Path.Length())
			continue
		}
		fmt.Fprintf(&b, "%s of shape %d: closed %t, slit %t, %.3f mm: from %s", s.Operation, s.Shape, s.Path.Closed, s.Slit, s.Path.Length(), pointText(s.Path.Start))
		for _, g := range s.Path.Segments {
			fmt.Fprintf(&b, " %s", pointText(g.End))
			if g.Kind == geometry.Arc {
				fmt.Fprintf(&b, " bulging %.3f", g.Bulge)
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

func placesText(all []finding.Place) (s string) {
	for _, p := range all {
		s += " " + pointText(p.Box.Min) + "–" + pointText(p.Box.Max)
	}
	return s
}

// pointText writes no zero as negative.
func pointText(p geometry.Point) string {
	return strings.ReplaceAll(fmt.Sprintf("(%.3f, %.3f)", p.X, p.Y), "-0.000", "0.000")
}
