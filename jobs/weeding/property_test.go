package weeding_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// anyArtwork draws strokes on a coarse grid, so that they touch, overlap,
// repeat and cross more often than not.
func anyArtwork(t *rapid.T) *artwork.Artwork {
	a := &artwork.Artwork{}
	at := func() geometry.Point {
		return geometry.Pt(float64(rapid.IntRange(0, 8).Draw(t, "x"))*5, float64(rapid.IntRange(0, 8).Draw(t, "y"))*5)
	}
	for i := range rapid.IntRange(1, 6).Draw(t, "strokes") {
		var pts []geometry.Point
		for range rapid.IntRange(2, 6).Draw(t, "corners") {
			pts = append(pts, at())
		}
		s := artwork.Stroke{Path: geometry.Polyline(pts...), Operation: artwork.KissCut, Shape: i}
		if rapid.Bool().Draw(t, "closed") {
			s.Path.Close()
			s.Fill = rapid.SampledFrom([]drawing.FillRule{"", drawing.EvenOdd, drawing.NonZero}).Draw(t, "fill")
		}
		if rapid.IntRange(0, 5).Draw(t, "circle") == 0 {
			s.Path = geometry.Circle(at(), 7.5)
		}
		a.Strokes = append(a.Strokes, s)
	}
	a.Bounds = bounds(a)
	return a
}

func anyRequest(t *rapid.T) weeding.Request {
	flag := func(name string) bool { return rapid.Bool().Draw(t, name) }
	stock := rapid.SampledFrom([]string{"film", "card"}).Draw(t, "stock")
	req := weeding.Request{
		Purpose: rapid.SampledFrom([]weeding.Purpose{weeding.Pieces, weeding.Lettering, weeding.Stencil}).Draw(t, "purpose"),
		Stock:   film, Border: flag("border"), Relief: flag("relief"), Bridges: flag("bridges"), Weld: flag("weld"), Novice: flag("novice"),
	}
	if stock == "card" {
		req.Stock = card
	}
	if flag("turn") {
		req.Turned = []int{1}
	}
	return req
}

// Whatever is drawn, the map keeps its promises: its regions cover what the
// cut lines enclose, once; every pick point lies in its region; every removed
// region has one step; the numbers run from 1; and the same input gives the
// same bytes.
func TestMapsOfAnyArtwork(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		a, req := anyArtwork(t), anyRequest(t)
		m, err := weeding.Chart(t.Context(), a, req)
		if err != nil {
			t.Fatal(err)
		}
		covered, removed := 0.0, 0
		for i, r := range m.Regions {
			covered += r.AreaMM2
			if !r.Kept() {
				removed++
			}
			if r.Number != i+1 || r.AreaMM2 <= 0 || r.PickRadiusMM <= 0 {
				t.Fatalf("region %d: number %d, %g mm², pick radius %g", i+1, r.Number, r.AreaMM2, r.PickRadiusMM)
			}
			if !inRegion(r.Pick, &m.Regions[i]) {
				t.Fatalf("region %d: pick %v lies outside", r.Number, r.Pick)
			}
		}
		if want := enclosed(t, m, req); math.Abs(covered-want) > 1e-3 {
			t.Fatalf("regions cover %.5f mm², the lines enclose %.5f", covered, want)
		}
		if len(m.Steps) != removed {
			t.Fatalf("%d steps for %d removed regions", len(m.Steps), removed)
		}
		again, _ := weeding.Chart(t.Context(), a, req)
		if text(t, m) != text(t, again) {
			t.Fatal("the same input gave another map")
		}
	})
}

func inRegion(p geometry.Point, r *weeding.Region) bool {
	in := within(p, corner(r.Outer))
	for _, h := range r.Holes {
		in = in && !within(p, corner(h))
	}
	return in
}

func corner(p geometry.Path) []geometry.Point {
	pts := p.Flatten(1)
	return pts[:len(pts)-1]
}

// enclosed returns the area of the bounded faces of the map's own strokes, by
// the kernel. A stencil's sheet is a region of the map, though its edge is cut
// only on film, and there only where a border is wanted.
func enclosed(t *rapid.T, m *weeding.Map, req weeding.Request) float64 {
	strokes := m.Strokes
	sheet := slices.ContainsFunc(m.Regions, func(r weeding.Region) bool { return r.Depth == 0 })
	if sheet && req.Purpose == weeding.Stencil && !(req.Stock.Liner && req.Border) {
		strokes = append(slices.Clone(strokes), artwork.Stroke{Path: m.Bounds.Path(), Operation: artwork.KissCut})
	}
	faces, err := planar.Arrange(nil, flat(strokes))
	if err != nil {
		t.Fatal(err)
	}
	if err := faces.Euler(); err != nil {
		t.Error(err)
	}
	sum := 0.0
	for _, f := range faces.Faces {
		sum += f.Area
	}
	return sum
}

func text(t *rapid.T, m *weeding.Map) string {
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Artwork that is moved gives a map that is moved, and nothing else.
func TestMovedArtworkGivesMovedMap(t *testing.T) {
	a := goBold(t, 24, "BOARD")
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	want := chart(t, a, req)
	by := geometry.Translate(512, -256) // exact in binary, and on the grid
	b := &artwork.Artwork{}
	for _, s := range a.Strokes {
		s.Path = s.Path.Transform(by)
		b.Strokes = append(b.Strokes, s)
	}
	b.Bounds = bounds(b)
	got := chart(t, b, req)
	if len(got.Regions) != len(want.Regions) || len(got.Strokes) != len(want.Strokes) {
		t.Fatalf("%d regions and %d strokes, want %d and %d", len(got.Regions), len(got.Strokes), len(want.Regions), len(want.Strokes))
	}
	for i, r := range got.Regions {
		w := want.Regions[i]
		if r.Class != w.Class || math.Abs(r.AreaMM2-w.AreaMM2) > 1e-2 || r.Outer.Bounds().Min.Dist(by.Apply(w.Outer.Bounds().Min)) > 1e-3 {
			t.Errorf("region %d: %s of %g mm² at %v, want %s of %g", r.Number, r.Class, r.AreaMM2, r.Outer.Bounds(), w.Class, w.AreaMM2)
		}
	}
}

// FuzzChart feeds path data to the job: nothing may panic or take longer than
// two seconds of processor time, however large the sheet is.
func FuzzChart(f *testing.F) {
	for _, seed := range []string{
		outer + inner + leaf + vein, pentagram, "M0 0H10", "M0 0H10V10H0Z M5 5A1 1 0 1 0 5 5.001Z",
		"M0 0L10 0L10 0.0001L0 0Z", "M0 0H1e6V1e6H0Z", "M0 0C10 10 -10 10 0 0Z", "",
	} {
		f.Add(seed, uint8(0))
		f.Add(seed, uint8(0xff))
	}
	f.Fuzz(func(t *testing.T, data string, flags uint8) {
		paths, _ := geometry.ParsePathData(data)
		if len(data) > 400 || len(paths) > 40 {
			return // larger inputs only take longer
		}
		a := &artwork.Artwork{}
		for i, p := range paths {
			a.Strokes = append(a.Strokes, artwork.Stroke{Path: p, Operation: artwork.KissCut, Shape: i / 2})
		}
		req := weeding.Request{
			Purpose: weeding.Lettering, Stock: film, Border: flags&1 > 0, Relief: flags&2 > 0,
			Bridges: flags&4 > 0, Weld: flags&8 > 0, ChordMM: 0.1,
		}
		if flags&16 > 0 {
			req.Purpose = weeding.Stencil
		}
		began := cost.Spent()
		_, _ = weeding.Chart(t.Context(), a, req)
		if took := cost.Spent() - began; took > 2*time.Second {
			t.Errorf("%.1f s of processor time", took.Seconds())
		}
	})
}
