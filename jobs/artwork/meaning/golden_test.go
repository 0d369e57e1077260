package meaning_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
)

// What becomes of drawings is what was looked at: the lines that are run and those that
// are not, what was found, and what is asked with its answers in their order.
func TestArtworkIsAsItWas(t *testing.T) {
	red, near := drawing.RGB(0xe0, 0x20, 0x20), drawing.RGB(0x08, 0x80, 0x95)
	for _, c := range []struct {
		name, stock, purpose string
		shapes               []drawing.Shape
	}{
		{"awkward", "card-220-a4", "pieces", awkward(t)},
		{"a-box", "card-220-a4", "pieces", []drawing.Shape{cut(t, "M10 10H90V70H10Z"), cut(t, "M20 20h10v10h-10z"), shape(t, "M50 10V70", "FOLD", violet), shape(t, "M60 30h20", "TEXT", slate),
			cut(t, "M10 10H90V70H10Z"), shape(t, "M0 0H5", "NOTES", red), shape(t, "M100 0V50", "", near), painted(t, "M70 50h9v9h-9z", 3)}},
		{"lettering", "film-removable-610", "lettering", []drawing.Shape{filled(t, "M0 0h10v30h-10z", "", teal), filled(t, "M8 10h20v10h-20z", "", teal), filled(t, "M40 0h20v30h-20z M45 5v20h10v-20z", "", drawing.RGB(0, 0, 0)),
			shape(t, "M70 0h10v30", "FOLD", violet), painted(t, "M90 0V30", 4), mirrored(cut(t, "M-130 0h20v10h-20z"))}},
		{"stencil", "card-160-a4", "stencil", []drawing.Shape{cut(t, "M0 0h100v100h-100z"), cut(t, "M20 20h30v30h-30z"), cut(t, "M30 30h5v5h-5z"), shape(t, "M0 120h50", "PEN", slate), shape(t, "M10 130h50v10", "", red)}},
		{"open-and-tiny", "film-removable-610", "pieces", []drawing.Shape{cut(t, "M0 0h20v20h-20v-19.3"), cut(t, "M40 0h20v20h-20v-19.95"), cut(t, "M80 0h20"), cut(t, "M90 -0.5v10"), cut(t, "M120 0h0.03"), cut(t, "M130 0v0"), cut(t, "M140 0h20v0.02h-20z")}},
	} {
		req := request(t, c.stock)
		req.Purpose = c.purpose
		golden.Hold(t, c.name, retold(resolve(t, req, c.shapes...)))
		req.Replies = ask.Replies{"artwork/rest": {Answer: ask.Suggested}}
		golden.Hold(t, c.name+"-as-suggested", retold(resolve(t, req, c.shapes...)))
	}
}

// The layers to draw on, by the convention, with what lines on them mean.
func TestLayersAreAsTheyWere(t *testing.T) {
	var b strings.Builder
	for _, stock := range []string{"card-220-a4", "film-removable-610"} {
		req := request(t, stock)
		fmt.Fprintf(&b, "%s\n", stock)
		for _, l := range meaning.Layers(&req.Convention, req.Stock.Family) {
			fmt.Fprintf(&b, "  %+v\n", l)
		}
	}
	golden.Hold(t, "layers", b.String())
}

// retold is artwork in lines, in mm to two decimals.
func retold(a *artwork.Artwork) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("within %s of %s, turned %t, scale %.4f, saved %.2f mm", boxText(a.Bounds), pointText(a.Origin), a.Turned, a.Scale, a.SavedMM)
	for _, s := range a.Strokes {
		line("%s of shape %d on %q in %s, filled %q, closed %t, slit %t, %.2f mm within %s", s.Operation, s.Shape, s.Layer, s.Colour, s.Fill, s.Path.Closed, s.Slit, s.Path.Length(), boxText(s.Path.Bounds()))
	}
	line("aside %+v", a.Aside)
	for _, f := range a.Findings {
		line("found %s (%s) × %d: %v", f.Code, f.Severity, f.Count, f.Values)
		for _, p := range f.Places {
			line("  at %s on %q, %s", boxText(p.Box), p.Layer, p.Source)
		}
	}
	for _, q := range ask.All(a.Questions) {
		line("asked %s in %q %s of %d places", q.ID, q.Colour, q.Line, len(q.Places))
		for _, r := range q.Answers {
			line("  %s: %.2f × %.2f mm", r.ID, r.WidthMM, r.HeightMM)
		}
	}
	return b.String()
}

func boxText(b geometry.Box) string { return pointText(b.Min) + "–" + pointText(b.Max) }

// pointText writes no zero as negative.
func pointText(p geometry.Point) string {
	return strings.ReplaceAll(fmt.Sprintf("(%.2f, %.2f)", p.X, p.Y), "-0.00", "0.00")
}
