package layout_test

import (
	"context"
	"encoding/json"
	"math"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// charted is the piece that closed lines make on film, without border and relief lines.
func charted(t *testing.T, req *layout.Request, lines ...geometry.Path) layout.Piece {
	t.Helper()
	req.Chart = weeding.Request{Purpose: weeding.Lettering, Stock: workshop.Stock{Liner: true, Limits: workshop.DefaultLimits()}}
	a := &artwork.Artwork{}
	for _, p := range lines {
		a.Strokes = append(a.Strokes, artwork.Stroke{Path: p, Operation: artwork.KissCut})
	}
	m, err := weeding.Chart(context.Background(), a, req.Chart)
	if err != nil {
		t.Fatal(err)
	}
	p := layout.PieceOf(m, req.Stock)
	p.Map = m
	return p
}

func rect(x0, y0, x1, y1 float64) geometry.Path {
	return geometry.Box{Min: geometry.Pt(x0, y0), Max: geometry.Pt(x1, y1)}.Path()
}

// onRoll is a roll of 590 mm usable with lead and tail of 50, panels allowed.
func onRoll(t *testing.T) layout.Request {
	req := on(t, "film-removable-610", "wide-610", 1)
	req.Stock.UsableWidthMM, req.Stock.LeadMM, req.Stock.TailMM, req.Panels = 590, 50, 50, layout.PanelsAllowed
	return req
}

// By hand: 1740 × 400 is one run of 1840 mm; 1740 × 900 with an overlap of 10 is two
// panels of 1740 × 455, each a load of its own.
func TestWideWorkIsMadeOfPanels(t *testing.T) {
	req := onRoll(t)
	l := place(t, charted(t, &req, rect(0, 0, 1740, 400)), req)
	if len(l.Loads) != 1 || l.Loads[0].LengthMM != 1840 || l.Panels != nil {
		t.Errorf("1740 × 400: %+v", l.Loads)
	}
	req = onRoll(t)
	l = place(t, charted(t, &req, rect(0, 0, 1740, 900)), req)
	if l.Panels == nil || len(l.Panels.List) != 2 || len(l.Loads) != 2 {
		t.Fatalf("1740 × 900: %d loads of %+v", len(l.Loads), l.Panels)
	}
	for i, p := range l.Panels.List {
		if w, h := p.Box.Width(), p.Box.Height(); w != 1740 || h != 455 || l.Loads[i].Map != i+1 {
			t.Errorf("%s: %g × %g mm on load %+v", p.Code, w, h, l.Loads[i])
		}
	}
	if lower := l.Panels.List[0]; lower.Code != "P1 of 2" || lower.Box.Min.Y != 0 {
		t.Errorf("the lowest is hung first, not %+v", lower)
	}
}

// By hand: of 1700 × 1600 mm in two bars of 100 mm the middle one of three panels holds
// nothing. It is none.
func TestPanelsThatHoldNothingAreLeftOut(t *testing.T) {
	req := onRoll(t)
	l := place(t, charted(t, &req, rect(0, 0, 1700, 100), rect(0, 1500, 1700, 1600)), req)
	if l.Panels == nil || len(l.Panels.List) != 2 || len(l.Loads) != 2 || l.Panels.List[1].Code != "P2 of 2" {
		t.Fatalf("%d loads of %+v", len(l.Loads), l.Panels)
	}
	for i, m := range l.Maps {
		if h := m.Bounds.Height(); m.Bounds.Empty() || h < 100 || h > 150 {
			t.Errorf("panel %d has %v", i+1, m.Bounds)
		}
	}
}

// What does not fit is asked about, with the finished sizes; refused it is off the stock
// as before.
func TestPanelsAreAskedFor(t *testing.T) {
	for _, c := range []struct {
		panels layout.Allowance
		answer string
		code   finding.Code
		asks   bool
		loads  int
	}{
		{"", "", finding.NeedsPanels, true, 0},
		{"", layout.AnswerPanels, finding.MadeInPanels, false, 2},
		{"", layout.AnswerWhole, finding.OffTheStock, false, 0},
		{layout.PanelsAllowed, layout.AnswerWhole, finding.MadeInPanels, false, 2},
		{layout.PanelsRefused, layout.AnswerPanels, finding.OffTheStock, false, 0},
	} {
		req := onRoll(t)
		req.Panels, req.Replies = c.panels, ask.Replies{layout.QuestionPanels: {Answer: c.answer}}
		l := place(t, charted(t, &req, rect(0, 0, 1740, 900)), req)
		expectCode(t, l, c.code)
		if len(l.Loads) != c.loads || (len(l.Questions) == 1) != c.asks {
			t.Errorf("panels %q, answer %q: %d loads, questions %+v", c.panels, c.answer, len(l.Loads), l.Questions)
		}
		if c.asks && !strings.Contains(l.Questions[0].Text, "2 of 1740 × 455 mm") {
			t.Errorf("it asks: %s", l.Questions[0].Text)
		}
	}
}

// shapes are a comb of curves, holes and islands that seams cannot all miss.
func shapes() []geometry.Path {
	var all []geometry.Path
	for i := range 7 {
		x := 110 + 215*float64(i)
		all = append(all, geometry.Circle(geometry.Pt(x, 350), 95), geometry.Circle(geometry.Pt(x+20, 360), 40), geometry.Circle(geometry.Pt(x+25, 355), 12))
	}
	s := geometry.Path{Start: geometry.Pt(0, 20), Segments: []geometry.Segment{
		geometry.CubicTo(geometry.Pt(500, 260), geometry.Pt(1000, -160), geometry.Pt(1500, 120)), geometry.LineTo(geometry.Pt(1500, 200)),
		geometry.CubicTo(geometry.Pt(1000, -80), geometry.Pt(500, 340), geometry.Pt(0, 100)),
	}}
	s.Close()
	return append(all, s, rect(0, 480, 1500, 700), rect(40, 520, 1460, 560))
}

func joins() []workshop.Join {
	return []workshop.Join{{Joint: workshop.Butt}, {Joint: workshop.Overlap, OverlapMM: 6}, {Joint: workshop.Overlap, OverlapMM: 10}}
}

// panelled lays shapes of 1500 × 700 mm on a roll with a longest run of 1200 mm, with weed
// borders and relief lines: as three panels.
func panelled(t *testing.T, join workshop.Join) (layout.Piece, *layout.Layout) {
	t.Helper()
	req := onRoll(t)
	req.Stock.LongestRunMM, req.Stock.Join = 1200, &join
	piece := charted(t, &req, shapes()...)
	req.Chart.Border, req.Chart.Relief = true, true
	l := place(t, piece, req)
	if l.Panels == nil || len(l.Panels.List) != 3 || len(l.Loads) != 3 {
		t.Fatalf("%+v: %+v", join, l.Findings)
	}
	return piece, l
}

// Seams cross less than those of an equal division, and what is beside the work keeps
// off it: every register mark and code lies 3 mm from all that the work cuts, by points
// a tenth of a millimetre apart. Marks of two panels lie in the same places.
func TestMarksKeepOffTheWork(t *testing.T) {
	for _, join := range joins() {
		piece, l := panelled(t, join)
		if l.Panels.CrossedMM >= l.Panels.EqualMM {
			t.Errorf("%+v: seams cross %g mm, equal ones %g", join, l.Panels.CrossedMM, l.Panels.EqualMM)
		}
		places := map[geometry.Point]int{}
		for i, p := range l.Panels.List {
			marks, codes := 0, 0
			for _, s := range l.Maps[i].Strokes {
				switch s.Added {
				case artwork.Mark:
					marks++
					places[s.Path.Bounds().Centre()]++
				case artwork.Code:
					codes++
				default:
					continue
				}
				for _, w := range piece.Map.Strokes {
					if d := apart(s.Path, w.Path); d < 2.99 && w.Added == "" {
						t.Errorf("%+v, %s: %s lies %g mm off the work", join, p.Code, s.Added, d)
					}
				}
			}
			if marks != p.Marks || marks < 2 || codes < 5 || !p.Coded {
				t.Errorf("%+v: %d marks and %d lines of a code on %+v", join, marks, codes, p.Code)
			}
		}
		for at, n := range places {
			if join.Joint == workshop.Overlap && n != 2 {
				t.Errorf("%+v: %d panels have a mark at %v", join, n, at)
			}
		}
	}
}

// Bars of 20 mm that take all of the usable width leave the panel in the middle strips of
// waste 18 mm wide, along the roll and across it: its code lies in one of them, lying or
// upright, 3 mm from every bar and within its panel.
func TestCodesLieInStripsOfWaste(t *testing.T) {
	for _, upright := range []bool{false, true} {
		var bars []geometry.Path
		for at := 0.0; at+20 <= 2982 && (upright || at+20 <= 590); at += 38 {
			if upright {
				bars = append(bars, rect(at, 0, at+20, 590))
			} else {
				bars = append(bars, rect(0, at, 3000, at+20))
			}
		}
		req := onRoll(t)
		req.Stock.LongestRunMM = 1200
		l := place(t, charted(t, &req, bars...), req)
		if l.Panels == nil || len(l.Panels.List) != 3 {
			t.Fatalf("upright bars %v: %+v", upright, l.Findings)
		}
		for i, p := range l.Panels.List {
			all := geometry.EmptyBox()
			for _, s := range l.Maps[i].Strokes {
				if s.Added != artwork.Code {
					continue
				}
				all = all.Union(s.Path.Bounds())
				for _, bar := range bars {
					if d := apart(s.Path, bar); d < 2.99 {
						t.Errorf("upright bars %v, %s: a line of the code lies %g mm off a bar", upright, p.Code, d)
					}
				}
			}
			if !p.Coded || all.Empty() {
				t.Errorf("upright bars %v: %s has no code", upright, p.Code)
			}
			if i == 1 && (!p.Box.ContainsBox(all) || (all.Height() > all.Width()) != upright) {
				t.Errorf("upright bars %v: the code of %s lies in %v of %v", upright, p.Code, all, p.Box)
			}
		}
	}
}

// apart is how far two paths lie from each other, by their points.
func apart(p, q geometry.Path) float64 {
	least := math.Inf(1)
	if !p.Bounds().Grow(10).Overlaps(q.Bounds()) {
		return least
	}
	a, b := p.Flatten(0.01), q.Flatten(0.01)
	for i := 1; i < len(a); i++ {
		for k := 1; k < len(b); k++ {
			for n := range 11 {
				least = math.Min(least, toSegment(a[i-1].Lerp(a[i], float64(n)/10), b[k-1], b[k]))
			}
		}
	}
	return least
}

// toSegment is how far a point lies from a segment.
func toSegment(p, a, b geometry.Point) float64 {
	d := b.Sub(a)
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Dist(a.Add(d.Mul(t)))
}

// Whatever is divided: what the panels keep together is what the work keeps, no two keep
// anything in common but the overlap, and nothing else of what a panel keeps is lost.
// Held by shapely, which reads the rings alone.
func TestPanelsKeepAllThatIsKept(t *testing.T) {
	python := reference.Python(t, "shapely")
	for _, join := range joins() {
		piece, l := panelled(t, join)
		in := map[string]any{"work": ringsOf(piece.Map)}
		var panels, boxes []any
		for i, p := range l.Panels.List {
			panels = append(panels, ringsOf(l.Maps[i]))
			boxes = append(boxes, [4]float64{p.Box.Min.X, p.Box.Min.Y, p.Box.Max.X, p.Box.Max.Y})
		}
		in["panels"], in["boxes"] = panels, boxes
		text, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(python, "-c", sumOfPanels)
		cmd.Stdin = strings.NewReader(string(text))
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		var off struct{ Union, Common, Panel float64 }
		if err := json.Unmarshal(out, &off); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		// Curves are flattened within 0.01 mm on both sides of a cut: 10 m of them differ by
		// less than 20 mm² in 600,000.
		if math.Max(off.Union, math.Max(off.Common, off.Panel)) > 20 {
			t.Errorf("%+v: off by %+v mm²", join, off)
		}
	}
}

// placeCut lays what the paths make when they are cut, with its map.
func placeCut(t *testing.T, req layout.Request, by artwork.Operation, paths ...geometry.Path) (*layout.Layout, *weeding.Map) {
	t.Helper()
	a := &artwork.Artwork{}
	for _, p := range paths {
		a.Strokes = append(a.Strokes, artwork.Stroke{Path: p, Operation: by})
	}
	m, err := weeding.Chart(context.Background(), a, req.Chart)
	if err != nil {
		t.Fatal(err)
	}
	piece := layout.PieceOf(m, req.Stock)
	piece.Map = m
	return place(t, piece, req), m
}

// A plate that an outline frames gets no weed border, and its panels do, as marks lie
// beside them: that is said.
func TestPanelsOfAFramedPlateSayTheirBorders(t *testing.T) {
	for _, border := range []bool{true, false} {
		req := onRoll(t)
		charted(t, &req)
		req.Chart.Border = border
		l, m := placeCut(t, req, artwork.KissCut, rect(0, 0, 1740, 900), rect(300, 200, 500, 400))
		at := slices.IndexFunc(l.Findings, func(f finding.Finding) bool { return f.Code == finding.MadeInPanels })
		if m.Bordered() || at < 0 {
			t.Fatalf("bordered %v, %+v", m.Bordered(), l.Findings)
		}
		if said := strings.Contains(l.Findings[at].Hint, "weed border of its own"); said != l.Maps[0].Bordered() || said != border {
			t.Errorf("the panels have borders: %v, and it is said: %v", l.Maps[0].Bordered(), said)
		}
	}
}

// A stencil of 700 × 250 mm is larger than its sheet: the seam passes the bridges that hold
// an island of 260 × 110 in the opening round it, and cuts none of them. All other places
// cross the same length.
func TestSeamsKeepOffBridges(t *testing.T) {
	req := on(t, "stencil-a3", "wide-610", 1)
	req.Stencil, req.Panels = true, layout.PanelsAllowed
	req.Chart = weeding.Request{Purpose: weeding.Stencil, Bridges: true, Stock: workshop.Stock{Limits: workshop.DefaultLimits()}}
	l, m := placeCut(t, req, artwork.ThroughCut, rect(0, 0, 700, 250), rect(200, 50, 500, 200), rect(220, 70, 480, 180))
	if len(m.Bridges) == 0 || l.Panels == nil {
		t.Fatalf("%d bridges, %+v %+v", len(m.Bridges), l.Findings, l.Questions)
	}
	for _, p := range l.Panels.List {
		for _, side := range []float64{p.Box.Min.X, p.Box.Max.X} {
			for _, strip := range m.Bridges {
				if box := strip.Bounds(); side > box.Min.X && side < box.Max.X {
					t.Errorf("a seam at %g goes through the bridge %v", side, box)
				}
			}
		}
	}
}

// isMark reports whether a box is that of a register mark.
func isMark(m *weeding.Map, box geometry.Box) bool {
	return slices.ContainsFunc(m.Strokes, func(s artwork.Stroke) bool {
		return s.Added == artwork.Mark && s.Path.Bounds().Grow(0.01).ContainsBox(box)
	})
}

// ringsOf lists the rings of what a map keeps but its marks, region by region, the outer
// one first.
func ringsOf(m *weeding.Map) [][][][2]float64 {
	var all [][][][2]float64
	for i := range m.Regions {
		if r := &m.Regions[i]; r.Kept() && !isMark(m, r.Outer.Bounds()) {
			var rings [][][2]float64
			for _, p := range append([]geometry.Path{r.Outer}, r.Holes...) {
				var ring [][2]float64
				for _, q := range p.Flatten(0.01) {
					ring = append(ring, [2]float64{q.X, q.Y})
				}
				rings = append(rings, ring)
			}
			all = append(all, rings)
		}
	}
	return all
}

const sumOfPanels = `
import json, sys
from shapely.geometry import Polygon, box
from shapely.ops import unary_union
d = json.load(sys.stdin)
shape = lambda regions: unary_union([Polygon(r[0], r[1:]).buffer(0) for r in regions])
work, panels = shape(d["work"]), [shape(p) for p in d["panels"]]
boxes = [box(*b) for b in d["boxes"]]
common = 0
for i in range(len(panels)):
    for j in range(i):
        common += panels[i].intersection(panels[j]).symmetric_difference(work.intersection(boxes[i]).intersection(boxes[j])).area
print(json.dumps({
    "Union": unary_union(panels).symmetric_difference(work).area,
    "Common": common,
    "Panel": max(p.symmetric_difference(work.intersection(b)).area for p, b in zip(panels, boxes)),
}))
`
