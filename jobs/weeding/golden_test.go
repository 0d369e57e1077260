package weeding_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/golden"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// What people get of a map is what was looked at: each region with its class, size and
// place to grip, each added line, each step with its direction and seconds, and what is
// found and asked with its numbers. The drawings are few enough to be checked by hand.
func TestMapsAreAsTheyWere(t *testing.T) {
	film := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	pieces := weeding.Request{Purpose: weeding.Pieces, Stock: film.Stock}
	with := func(req weeding.Request, change func(*weeding.Request)) weeding.Request {
		change(&req)
		return req
	}
	for _, c := range []struct {
		name string
		art  *artwork.Artwork
		req  weeding.Request
	}{
		{"nested", drawn(t, outer, inner, leaf, vein), film},
		{"letters", goBold(t, 30, "BOARD"), film},
		{"low-letters", goBold(t, 9, "iij", "Äß:"), with(film, func(r *weeding.Request) { r.Novice = true })},
		{"figures-on-a-plate", drawn(t, "M-10 -10H70V30H-10Z", "M0 0H8V20H0Z", "M20 0H28V20H20Z", "M40 0H48V12H40Z"), film},
		{"a-hand-long", drawn(t, "M0 0H620V330H0Z", "M10 10H610V110H10Z", "M10 120H400V320H10Z", "M60 40H90V70H60Z", "M300 200L330 215L300 230Z"), film},
		{"drawn-relief", drawn(t, "M0 0H20V30H0Z", "M30 0H50V30H30Z", "M20 15H30", "M50 5L60 5"), film},
		{"turned-and-mirrored", goBold(t, 25, "JR"), with(film, func(r *weeding.Request) { r.Turned, r.Mirrored = []int{2, 9}, true })},
		{"faults", drawn(t, outer, "M20 20H50", "M100 50H101.1", "M0 70H-0.6", "M40 40H41.9V45H40Z", "M120 0H160V0.6H120Z", "M120 5H160V5.9H120Z",
			"M120 10H160V11.4H120Z", "M120 20H170L120 40Z", "M120 50H122.5V53H120Z", "M60 60H90V90H60Z", "M61.5 62H88V88H61.5Z"), pieces},
		{"nothing-enclosed", drawn(t, "M0 0H20V20"), pieces},
		{"necks", drawn(t, "M0 0H20V9.7H22V0H40V20H22V10.3H20V20H0Z", "M50 0H70V9.7H75V0H90V20H75V10.3H70V20H50Z"), pieces},
		{"a-short-neck", drawn(t, "M0 0H20V9.7H22V0H40V20H22V10.3H20V20H0Z"), pieces},
		{"large-letters", goBold(t, 260, "S8"), film},
		{"rows-of-counters", goBold(t, 40, "BOB", "8A%8", "o&o"), film},
		{"many-crossing", drawn(t, "M90 0H110V20H90Z", "M0 0H20V20H0Z", "M100 10H120V30H100Z", "M10 10H30V30H10Z", "M15 5H25V45H15Z", "M200 0H220V20H200Z", "M40 0L60 20V0L40 20Z"), pieces},
		{"crossing", drawn(t, "M0 0H20V20H0Z", "M10 10H30V30H10Z", "M40 0H60V20H40Z", "M60 0H80V20H60Z"), pieces},
		{"welded", drawn(t, "M0 0H20V20H0Z", "M10 10H30V30H10Z", "M40 0H60V20H40Z", "M60 0H80V20H60Z"), with(pieces, func(r *weeding.Request) { r.Weld = true })},
		{"filled-and-not", withFill(drawn(t, letter, "M20 0H30V10H20Z", "M22 2H28V8H22Z"), drawing.NonZero, 0), pieces},
		{"stencil-edge", drawn(t, outer, "M10 10H20V20H10Z", "M60 10H70V20H60Z"), weeding.Request{Purpose: weeding.Stencil, Stock: sheet}},
		{"stencil-islands", goBold(t, 60, "AB"), weeding.Request{Purpose: weeding.Stencil, Stock: sheet}},
		{"stencil-bridged", goBold(t, 60, "AB"), weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true}},
		{"stencil-in-a-room", drawn(t, "M0 0H180V100H0Z"), weeding.Request{Purpose: weeding.Stencil, Stock: film.Stock, Border: true, Room: &weeding.Room{WidthMM: 190, LengthMM: 104, EdgeMM: 3}}},
	} {
		m := chart(t, c.art, c.req)
		golden.Hold(t, c.name, retold(m.AsItLies(nil)))
	}
}

// So it is of loads, on which copies are peeled with a border of their own or with one
// round all of them, and of a part of a piece.
func TestLoadsAreAsTheyWere(t *testing.T) {
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	ring := chart(t, drawn(t, "M0 0H30V20H0Z", "M5 5H25V15H5Z", "M12 8H18V12H12Z"), req)
	narrow := chart(t, drawn(t, "M0 0H20V0.9H0Z", "M0 5H8V14H0Z"), req)
	copies := []weeding.Laid{{Map: ring, Move: geometry.Translate(100, 0)}, {Map: narrow, Move: geometry.Rotate(math.Pi / 2).Then(geometry.Translate(70, 30))},
		{Map: ring, Move: geometry.Rotate(math.Pi).Then(geometry.Translate(30, 20))}, {Map: ring, Move: geometry.Translate(0, 60)}}
	golden.Hold(t, "load-beside", retoldLoad(weeding.Beside(nil, copies)))
	round, err := weeding.Round(nil, copies, req)
	if err != nil {
		t.Fatal(err)
	}
	golden.Hold(t, "load-round", retoldLoad(round))
	half := drawn(t, "M0 0H15V20H0Z", "M15 5H5V15H15", "M15 8H12V12H15").Strokes
	part, err := ring.Part(nil, ring.Keeps(nil), half, req)
	if err != nil {
		t.Fatal(err)
	}
	golden.Hold(t, "part", retold(part))
}

func retoldLoad(l *weeding.Load) string {
	return fmt.Sprintf("%slines of the copies %v, regions %v, %d copies\n", retold(l.Map), l.Strokes, l.Regions, l.Map.Copies)
}

// retold is a map in lines, in mm to two decimals and degrees.
func retold(m *weeding.Map) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("%s within %s, risk %q", m.Purpose, boxText(m.Bounds), m.Risk)
	for _, r := range m.Regions {
		line("region %d of %d: %s, depth %d, %.2f mm² round %.2f mm within %s with %d holes", r.Number, r.Of, r.Class, r.Depth, r.AreaMM2, r.PerimeterMM, boxText(r.Outer.Bounds()), len(r.Holes))
		line("  grip at %s, %.2f mm off; touches %v; fragile %t", pointText(r.Pick), r.PickRadiusMM, r.Touches, r.Fragile)
		if at := r.LeastWidthAt; at != nil {
			line("  least width %.2f at %s", r.LeastWidthMM, pointText(*at))
		}
	}
	for _, s := range m.Strokes {
		if s.Added != "" {
			line("%s: %s, %.2f mm from %s to %s", s.Added, s.Operation, s.Path.Length(), pointText(s.Path.Start), pointText(s.Path.End()))
		}
	}
	for _, p := range m.Bridges {
		line("bridge: %.2f mm² within %s", p.Area(), boxText(p.Bounds()))
	}
	for _, s := range m.Steps {
		line("step %d: region %d at %s, pull to %.0f°, %.2f s. %s", s.Order, s.Region, pointText(s.Pick), s.PeelDeg, s.Seconds, s.Hint)
	}
	e := m.Effort
	line("effort: %.3f m kept, %d grounds, %d counters, %d fragile, letters %.2f mm, D %.3f, a copy %.2f s, a load %.0f s",
		e.KeptContourM, e.Grounds, e.Counters, e.Fragile, e.LeastHeightMM, e.Difficulty, e.CopyS, e.StartS)
	for _, f := range m.Findings {
		line("found %s (%s) × %d at%s: %v", f.Code, f.Severity, f.Count, placesText(f.Places), f.Values)
	}
	for _, q := range m.Questions {
		line("asked %s at%s", q.ID, placesText(q.Places))
		for _, a := range q.Answers {
			line("  %s: %.2f × %.2f mm", a.ID, a.WidthMM, a.HeightMM)
		}
	}
	return b.String()
}

func placesText(all []finding.Place) (s string) {
	for _, p := range all {
		s += " " + boxText(p.Box)
	}
	return s
}

func boxText(b geometry.Box) string { return pointText(b.Min) + "–" + pointText(b.Max) }

// pointText writes no zero as negative.
func pointText(p geometry.Point) string {
	return strings.ReplaceAll(fmt.Sprintf("(%.2f, %.2f)", p.X, p.Y), "-0.00", "0.00")
}
