package weeding_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Every fault of the job has a drawing that has it and a near miss that has
// not. The limits are those of job.md (common practice, no source).
func TestFaultsAndNearMisses(t *testing.T) {
	strip := func(width string) string { return "M0 0H40V" + width + "H0Z" }
	lettering := weeding.Request{Purpose: weeding.Lettering, Stock: film}
	pieces := weeding.Request{Purpose: weeding.Pieces, Stock: film}
	stencil := weeding.Request{Purpose: weeding.Stencil, Stock: sheet}
	fallsOut := opening
	turn := func(n int) weeding.Request { r := pieces; r.Turned = []int{n}; return r }
	for _, c := range []struct {
		code     finding.Code
		req      weeding.Request
		has, not []string
	}{
		{code: finding.StrokeTooThin, req: pieces, has: []string{strip("0.69")}, not: []string{strip("0.71")}},
		{code: finding.StrokeExpert, req: pieces, has: []string{strip("0.99")}, not: []string{strip("1.01")}},
		{code: finding.StrokeCare, req: pieces, has: []string{strip("1.49")}, not: []string{strip("1.51")}},
		{code: finding.NeckTears, req: pieces, has: []string{outer, inner, "M11.9 20H80V80H11.9Z"}, not: []string{outer, inner, "M12.1 20H80V80H12.1Z"}},
		{code: finding.CounterSmall, req: pieces, has: []string{outer, "M40 40H41.9V45H40Z"}, not: []string{outer, "M40 40H42.1V45H40Z"}},
		{code: finding.CounterSmall, req: pieces, has: []string{outer, "M40 40H41.9V45H40Z"}, not: []string{outer, "M40 40H41.9V50H40Z"}}, // a slot, or the stroke of a letter
		{code: finding.LetterTooLow, req: lettering, has: []string{"M0 0H5V5.9H0Z"}, not: []string{"M0 0H5V6.1H0Z"}},
		{code: finding.LetterExpert, req: lettering, has: []string{"M0 0H5V7.9H0Z"}, not: []string{"M0 0H5V8.1H0Z"}},
		{code: finding.LetterCare, req: lettering, has: []string{"M0 0H5V11.9H0Z"}, not: []string{"M0 0H5V12.1H0Z"}},
		{code: finding.KeptAngleSharp, req: pieces, has: []string{"M0 0H50L0 22Z"}, not: []string{"M0 0H50L0 24Z"}},
		{code: finding.PieceFragile, req: pieces, has: []string{"M0 0H3V3.3H0Z"}, not: []string{"M0 0H3V3.4H0Z"}},
		{code: finding.StencilIsland, req: fallsOut, has: []string{outer, inner}, not: []string{outer}},
		{code: finding.StencilEdge, req: stencil, has: []string{outer, "M10 10H20V20H10Z", "M60 10H70V20H60Z"}, not: []string{"M10 10H20V20H10Z", "M60 10H70V20H60Z"}},
		{code: finding.OutlinesCross, req: pieces, has: []string{"M0 0H20V20H0Z", "M10 10H30V30H10Z"}, not: []string{"M0 0H20V20H0Z", "M20 10H30V30H20Z"}},
		{code: finding.BoundaryOpen, req: pieces, has: []string{outer, "M20 20H50"}, not: []string{outer, "M20 20H50V50Z"}},
		{code: finding.BoundaryOpen, req: pieces, has: []string{outer, "M100 50H101.1"}, not: []string{outer, "M100 50H100.9"}},
		{code: finding.Nick, req: pieces, has: []string{outer, "M100 50H100.9"}, not: []string{outer, "M100 50H100.04"}},
		{code: finding.Nick, req: pieces, has: []string{"M0 0H50V50H50.5H0Z"}, not: []string{"M0 0H50V50H0Z"}},
		{code: finding.KeptSlit, req: pieces, has: []string{outer, inner, "M0 50H10"}, not: []string{outer, inner, leaf, "M10 50H20"}},
		{code: finding.NothingEnclosed, req: pieces, has: []string{"M0 0H20V20"}, not: []string{"M0 0H20V20Z"}},
		{code: finding.RegionUnknown, req: turn(2), has: []string{outer}, not: []string{outer, inner}},
	} {
		m := chart(t, drawn(t, c.has...), c.req)
		f := the(m, c.code)
		if f == nil {
			t.Errorf("%s: %q has it, not found", c.code, c.has)
			continue
		}
		if strings.Contains(f.Hint+f.TechnicianHint, "{") {
			t.Errorf("%s: a hint has an empty place: %s / %s", c.code, f.Hint, f.TechnicianHint)
		}
		if len(f.Places) == 0 && c.code != finding.RegionUnknown && c.code != finding.NothingEnclosed {
			t.Errorf("%s: no place", c.code)
		}
		if m := chart(t, drawn(t, c.not...), c.req); has(m, c.code) {
			t.Errorf("%s: %q has it not, but %s", c.code, c.not, the(m, c.code).TechnicianHint)
		}
	}
}

// On card an open line is a slit: no fault of the weeding.
func TestSlitsInCardAreNoFault(t *testing.T) {
	m := chart(t, drawn(t, outer, "M20 20H50"), weeding.Request{Purpose: weeding.Pieces, Stock: card})
	if len(m.Findings) > 0 || len(m.Regions) != 1 {
		t.Errorf("%d regions, findings %v", len(m.Regions), m.Findings)
	}
}

// Score, perforated and pen lines bound nothing, wherever they lie.
func TestOnlyCutsBoundRegions(t *testing.T) {
	for _, op := range []artwork.Operation{artwork.Pen, artwork.Score, artwork.Perforate} {
		a := drawn(t, outer, inner, "M-10 50H110")
		a.Strokes[1].Operation, a.Strokes[2].Operation = op, op
		m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: card})
		if len(m.Regions) != 1 || m.Regions[0].AreaMM2 != 10000 || len(m.Strokes) != 3 {
			t.Errorf("%s: %d regions", op, len(m.Regions))
		}
	}
}

// Lines that a plan added before, borders and relief lines, flip nothing.
func TestAddedLinesFlipNothing(t *testing.T) {
	a := drawn(t, outer, inner, "M-5 -5H105V105H-5Z", "M50 -5V0", "M0 50H10")
	a.Strokes[2].Added, a.Strokes[3].Added, a.Strokes[4].Added = artwork.Border, artwork.Relief, artwork.Relief
	m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: film})
	for _, r := range m.Regions {
		if r.Kept() != (r.Depth == 1) || r.Depth > 2 {
			t.Errorf("region %d: %s at depth %d", r.Number, r.Class, r.Depth)
		}
	}
	if n := classes(m); n[weeding.Kept] != 1 || n[weeding.Surround] != 1 || n[weeding.Counter] != 1 {
		t.Errorf("classes %v", n)
	}
}

// Check values, row 43: k lines from border to border that nothing crosses
// split the inside into k+1.
func TestLinesAcrossSplit(t *testing.T) {
	for k := range 5 {
		data := []string{outer}
		for i := range k {
			data = append(data, geometry.Polyline(geometry.Pt(0, float64(10*i+20)), geometry.Pt(100, float64(10*i+25))).String())
		}
		m := chart(t, drawn(t, data...), weeding.Request{Purpose: weeding.Pieces, Stock: card})
		if len(m.Regions) != k+1 {
			t.Errorf("%d lines: %d regions, want %d", k, len(m.Regions), k+1)
		}
	}
}

// Check values, row 42: n disjoint loops have n+1 faces, so n regions.
func TestDisjointLoops(t *testing.T) {
	for n := 1; n < 6; n++ {
		a := &artwork.Artwork{}
		for i := range n {
			a.Strokes = append(a.Strokes, artwork.Stroke{Path: geometry.Circle(geometry.Pt(float64(30*i), 0), 10), Operation: artwork.KissCut, Shape: i})
		}
		if m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: card}); len(m.Regions) != n {
			t.Errorf("%d circles: %d regions", n, len(m.Regions))
		}
	}
}

// Nothing to weed is no error, and a coordinate beyond all bounds is one.
func TestEmptyAndImpossible(t *testing.T) {
	m := chart(t, &artwork.Artwork{}, weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true})
	if len(m.Regions) != 0 || len(m.Steps) != 0 || m.Effort.CopyS != 0 {
		t.Errorf("empty artwork: %+v", m)
	}
	a := &artwork.Artwork{Strokes: []artwork.Stroke{{Path: geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(math.NaN(), 1), geometry.Pt(1, 1)), Operation: artwork.KissCut}}}
	if _, err := weeding.Chart(t.Context(), a, weeding.Request{Stock: film}); err == nil {
		t.Error("a NaN went through")
	}
}

// The border goes round unframed artwork on film, the stated distance off, and
// neither round a plate nor on card.
func TestBorder(t *testing.T) {
	added := func(m *weeding.Map) bool {
		return slices.ContainsFunc(m.Strokes, func(s artwork.Stroke) bool { return s.Added == artwork.Border })
	}
	word := goBold(t, 30, "BOARD")
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true}
	m := chart(t, word, req)
	if want := word.Bounds.Grow(film.Limits.BorderMM); !added(m) || m.Bounds.Min.Dist(want.Min) > 1e-9 || m.Bounds.Max.Dist(want.Max) > 1e-9 {
		t.Errorf("border %v, want %v", m.Bounds, want)
	}
	if last := m.Regions[len(m.Regions)-1]; last.Class != weeding.Surround || last.Depth != 0 {
		t.Errorf("the last region is %s at depth %d", last.Class, last.Depth)
	}
	if added(chart(t, drawn(t, outer, inner), req)) {
		t.Error("a border round a plate")
	}
	req.Stock = card
	if added(chart(t, word, req)) {
		t.Error("a border on card")
	}
}

// Heat film goes under the press with all that is left on its carrier: there a plate has a
// border too, its surround is a step and a ground of the minutes like that of letters, and
// nothing is said to stay (common practice, no source).
func TestSurroundOfHeatFilmIsPeeled(t *testing.T) {
	plate, word := drawn(t, outer, inner), goBold(t, 30, "BOARD")
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	heat := req
	heat.Stock.Family = workshop.HeatFilm
	surrounds := func(m *weeding.Map) (n int) {
		for _, s := range m.Steps {
			if m.Regions[s.Region-1].Class == weeding.Surround {
				n++
			}
		}
		return n
	}
	stays := func(m *weeding.Map) bool {
		return slices.ContainsFunc(m.Findings, func(f finding.Finding) bool { return f.Code == finding.SurroundStays })
	}
	left, peeled := chart(t, plate, req), chart(t, plate, heat)
	if surrounds(left) != 0 || !stays(left) || left.Bordered() {
		t.Errorf("on film: %d steps for the surround, said to stay %v", surrounds(left), stays(left))
	}
	if surrounds(peeled) == 0 || stays(peeled) || !peeled.Bordered() {
		t.Errorf("on heat film: %d steps for the surround, said to stay %v", surrounds(peeled), stays(peeled))
	}
	if want := left.Effort.CopyS + weeding.DefaultTimes().GroundS; peeled.Effort.Grounds != left.Effort.Grounds+1 || math.Abs(peeled.Effort.CopyS-want) > 1e-9 {
		t.Errorf("on heat film: %d grounds, %g s; want %d, %g s", peeled.Effort.Grounds, peeled.Effort.CopyS, left.Effort.Grounds+1, want)
	}
	if a, b := chart(t, word, req), chart(t, word, heat); surrounds(a) != surrounds(b) || a.Effort.CopyS != b.Effort.CopyS {
		t.Error("letters are weeded otherwise on heat film")
	}
	heat.Border = false
	if m := chart(t, plate, heat); surrounds(m) != 0 || stays(m) {
		t.Error("without a border its surround is a step, or said to stay")
	}
}
