package picture_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
)

// circle is a badge: a ring with a number in it.
type circle struct {
	at   geometry.Point
	r    float64
	text string
}

// badges pairs each ring of the marks with the text that follows it.
func badges(t testing.TB, all []element) []circle {
	t.Helper()
	var out []circle
	for i, e := range all {
		if e.zone != "marks" || e.name != "text" {
			continue
		}
		ring := all[i-1].paths(t)[0]
		b := ring.Bounds()
		if len(ring.Segments) == 2 { // two half arcs: no square of a finding or a part
			out = append(out, circle{b.Centre(), b.Width() / 2, e.text})
		}
	}
	return out
}

// Every step has its number once, in the whole or in a part, and no two
// numbers touch.
func TestStepsAreNumbered(t *testing.T) {
	for _, name := range []string{"ring-sign", "tide-label", "lighthouse", "banner", "ornament"} {
		m := &example(t, name).weeding
		all := badges(t, parse(t, svgOf(t, must(picture.Weeding(t.Context(), m)))))
		var got, want []string
		for _, c := range all {
			got = append(got, c.text)
		}
		for _, st := range m.Steps {
			want = append(want, strconv.Itoa(st.Order))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: numbers %v, want %v", name, got, want)
		}
		for i, a := range all {
			for _, b := range all[:i] {
				if a.at.Dist(b.at) < a.r+b.r {
					t.Errorf("%s: numbers %s and %s touch", name, a.text, b.text)
				}
			}
			if len(a.text) < 3 && a.r < 10 {
				t.Errorf("%s: number %s is too small to be read", name, a.text)
			}
		}
	}
}

// A dense ornament is drawn in parts that are enlarged, each with its list of
// steps and a scale bar of its own; a word is not.
func TestDenseMapsHaveParts(t *testing.T) {
	parts := func(name string) (n, bars int) {
		all := parse(t, svgOf(t, must(picture.Weeding(t.Context(), &example(t, name).weeding))))
		for _, text := range texts(all, "head") {
			if strings.HasPrefix(text, "Part ") {
				n++
			}
		}
		for _, text := range texts(all, "scale") {
			if strings.HasSuffix(text, " mm") {
				bars++
			}
		}
		return n, bars
	}
	if n, bars := parts("ornament"); n < 2 || n > 9 || bars != n+1 {
		t.Errorf("the ornament has %d parts and %d scale bars", n, bars)
	}
	if n, _ := parts("ring-sign"); n != 0 {
		t.Errorf("the sign of five letters has %d parts", n)
	}
}

// The map of a stencil shows the sheet as what stays, and every bridge.
func TestStencilShowsSheetAndBridges(t *testing.T) {
	m := &example(t, "lighthouse").weeding
	all := parse(t, svgOf(t, must(picture.Weeding(t.Context(), m))))
	bridges, sheet := 0, geometry.EmptyBox()
	for _, e := range all {
		if e.zone != "drawing" || e.name != "path" {
			continue
		}
		if e.attrs["fill"] == "#1d2433" {
			bridges += len(e.paths(t))
		}
		if e.attrs["fill"] == picture.Patterns()[weeding.Kept].Tint {
			for _, q := range e.paths(t) {
				sheet = sheet.Union(q.Bounds())
			}
		}
	}
	if bridges != len(m.Bridges) || bridges == 0 {
		t.Errorf("%d bridges drawn of %d", bridges, len(m.Bridges))
	}
	openings := boxOf(t, all, "drawing", "#16203f")
	if sheet.Empty() || !sheet.Grow(-5).ContainsBox(openings) {
		t.Errorf("the sheet %v does not reach round the openings %v", sheet, openings)
	}
}

// Fragile pieces are ringed, and an arrow runs from the pick point in the
// direction of the pull.
func TestRingsAndArrows(t *testing.T) {
	square := func(x, y, side float64) geometry.Path {
		return geometry.BoxAround(geometry.Pt(x, y), geometry.Pt(x+side, y+side)).Path()
	}
	plate, piece := square(0, 0, 100), square(70, 70, 2)
	m := weeding.Map{
		Purpose: weeding.Lettering, Bounds: plate.Bounds(),
		Strokes: []artwork.Stroke{{Path: plate, Operation: artwork.KissCut}, {Path: piece, Operation: artwork.KissCut}},
		Regions: []weeding.Region{
			{Number: 1, Class: weeding.Ground, Outer: plate, Holes: []geometry.Path{piece.Reversed()}, Pick: geometry.Pt(30, 30), PickRadiusMM: 30},
			{Number: 2, Class: weeding.Kept, Outer: piece, Fragile: true, Pick: geometry.Pt(71, 71), PickRadiusMM: 1},
		},
		Steps: []weeding.Step{{Order: 1, Region: 1, Pick: geometry.Pt(30, 30), PeelDeg: 90, Seconds: 130, Hint: "Slowly."}},
	}
	all := parse(t, svgOf(t, must(picture.Weeding(t.Context(), &m))))
	pixels, mm := bar(t, all)
	scale := pixels / mm
	found := map[string]bool{}
	number := badges(t, all)[0]
	for _, e := range all {
		if e.zone != "marks" || e.name != "path" {
			continue
		}
		b := e.paths(t)[0].Bounds()
		if e.attrs["stroke"] == "#8e2464" && b.Width() > 2*math.Sqrt2*scale {
			want := number.at.Add(geometry.Pt(41, -41).Mul(scale))
			found["ring"] = b.Centre().Dist(want) < 0.1
		}
		if e.attrs["fill"] == "#1d2433" && len(e.paths(t)[0].Segments) == 3 {
			found["arrow"] = b.Max.Y < number.at.Y-number.r && math.Abs(b.Centre().X-number.at.X) < 0.1
		}
	}
	for i := range m.Strokes { // what is cut through is pushed out, not pulled
		m.Strokes[i].Operation = artwork.ThroughCut
	}
	through := parse(t, svgOf(t, must(picture.Weeding(t.Context(), &m))))
	if legend := strings.Join(texts(through, "legend"), " "); strings.Contains(legend, "pull") || !strings.Contains(legend, "push") {
		t.Errorf("the legend of a through cut: %s", legend)
	}
	if !found["ring"] || !found["arrow"] {
		t.Errorf("found %v", found)
	}
	if notes := texts(all, "notes"); !slices.Contains(notes, "Step 1, about 2.2 min: Slowly.") {
		t.Errorf("the hint of the step is not written: %q", notes)
	}
}
