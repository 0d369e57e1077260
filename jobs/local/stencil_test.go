package local_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

func (r run) weeding() *weeding.Map { return r.results[weeding.Name].(*weeding.Map) }

func (r run) layout() *layout.Layout { return r.results[layout.Name].(*layout.Layout) }

// answered is a choice with an answer to a question.
func answered(c plan.Choices, question, answer string) plan.Choices {
	c.Replies = ask.Replies{question: {Answer: answer}}
	return c
}

// A stencil is never turned inside out in silence: wherever the drawing says both
// it is asked, and what was answered is what is cut.
func TestStencilsAreNotInverted(t *testing.T) {
	const (
		plate  = "M20 20h100v80h-100z"
		hole   = "M50 40h30v30h-30z"
		ring   = "M45 35h40v40h-40zM55 45h20v20h-20z"
		second = "M90 70h10v10h-10z"
	)
	atMargin := geometry.Pt(100, 80)
	for _, c := range []struct {
		name, cut, page string
		asks            bool
		edge, opening   int            // openings under each answer
		size            geometry.Point // of the sheet, as an edge or undrawn
	}{
		{name: "edge, one hole", cut: plate + hole, asks: true, edge: 1, opening: 3, size: atMargin},
		{name: "edge, one ring", cut: plate + ring, asks: true, edge: 3, opening: -1, size: atMargin},
		{name: "edge, two holes", cut: plate + hole + second, asks: true, edge: 2, opening: -1, size: atMargin},
		{name: "no edge, one hole", cut: hole, edge: 1, size: geometry.Pt(80, 80)},
		{name: "no edge, two holes", cut: hole + second, edge: 2, size: geometry.Pt(100, 90)},
	} {
		got := desk{workshop.Example(), onStencil}.run(t, cutting(c.cut))
		if (got.question(weeding.QuestionEdge) != nil) != c.asks {
			t.Errorf("%s: asked %v, want %v:%s", c.name, !c.asks, c.asks, got)
		}
		for answer, want := range map[string]int{weeding.AnswerEdge: c.edge, weeding.AnswerOpening: c.opening} {
			if answer == weeding.AnswerOpening && !c.asks {
				continue
			}
			got := desk{workshop.Example(), answered(onStencil, weeding.QuestionEdge, answer)}.run(t, cutting(c.cut))
			if got.last != "" {
				t.Errorf("%s, %s:%s", c.name, answer, got)
				continue
			}
			m := got.weeding()
			if openings := len(m.Steps); want >= 0 && openings != want {
				t.Errorf("%s, %s: %d openings, want %d", c.name, answer, openings, want)
			}
			if answer == weeding.AnswerEdge && m.Bounds.Max.Sub(m.Bounds.Min).Dist(c.size) > 1e-6 {
				t.Errorf("%s: a sheet of %v, want %v", c.name, m.Bounds, c.size)
			}
		}
	}
}

// The margin of the sheet is that of the frame, and otherwise 25 mm, less where
// the stock has no room for it: the stock's own edges then belong to it. Below
// 10 mm it is found. The layout lays the whole sheet.
func TestStencilsKeepTheirMargin(t *testing.T) {
	const a4 = `<g id="PAGE"><path d="M10 10h105v148h-105z" fill="none" stroke="#888888"/></g>`
	hole := func(x, y, w, h float64) string { return fmt.Sprintf("M%g %gh%gv%gh%gz", x, y, w, h, -w) }
	onFrame := onStencil
	onFrame.Size.Frame = "105x148"
	large := func(w, h float64) string {
		return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="600mm" viewBox="0 0 400 600"><g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1"><path d="%s"/></g></svg>`, hole(5, 5, w, h))
	}
	for _, c := range []struct {
		name, file string
		choices    plan.Choices
		w, h       float64 // of the sheet
		narrow     bool
	}{
		{"not drawn", cutting(hole(50, 40, 30, 20)), onStencil, 80, 70, false},
		{"a frame", page(a4 + `<g id="CUT"><path d="` + hole(25, 30, 30, 20) + `" fill="none" stroke="#007c91"/></g>`), onFrame, 105, 148, false},
		{"a frame near the hole", page(a4 + `<g id="CUT"><path d="` + hole(15, 30, 30, 20) + `" fill="none" stroke="#007c91"/></g>`), onFrame, 105, 148, true},
		{"little room across", large(260, 100), onStencil, 277, 150, false},
		{"no room but the stock's edge", large(277, 100), onStencil, 277, 150, false},
		{"turned to fit", large(340, 200), onStencil, 390, 250, false},
	} {
		got := desk{workshop.Example(), c.choices}.run(t, c.file)
		if got.last != "" {
			t.Errorf("%s:%s", c.name, got)
			continue
		}
		m := got.weeding()
		if math.Abs(m.Bounds.Width()-c.w) > 1e-3 || math.Abs(m.Bounds.Height()-c.h) > 1e-3 {
			t.Errorf("%s: a sheet of %.3f by %.3f mm, want %g by %g", c.name, m.Bounds.Width(), m.Bounds.Height(), c.w, c.h)
		}
		if (got.find(finding.StencilMargin) != nil) != c.narrow {
			t.Errorf("%s: margin found narrow %v, want %v", c.name, !c.narrow, c.narrow)
		}
		at := got.layout().Loads[0].Placements[0].Bounds
		if a, b := math.Max(at.Width(), at.Height()), math.Max(c.w, c.h); math.Abs(a-b) > 1e-3 {
			t.Errorf("%s: laid as %v", c.name, at)
		}
	}
}

// A web between two openings is measured whether the sheet is drawn or not.
func TestNarrowWebsOfStencilsAreFound(t *testing.T) {
	for _, edge := range []string{"", "M0 0h160v100h-160z"} {
		for web, want := range map[float64]bool{0.3: true, 3: false} {
			c := answered(onStencil, weeding.QuestionEdge, weeding.AnswerEdge)
			got := desk{workshop.Example(), c}.run(t, cutting(edge+fmt.Sprintf("M20 20h40v40h-40zM%g 20h40v40h-40z", 60+web)))
			if found := got.find(finding.StrokeTooThin) != nil; found != want {
				t.Errorf("edge %q, a web of %g mm: found %v, want %v:%s", edge, web, found, want, got)
			}
		}
	}
}

// Bridges are laid only where the sheet is cut through, and can be refused.
func TestBridgesOnlyWhereTheSheetIsCutThrough(t *testing.T) {
	const island = "M20 20h40v40h-40zM30 30h20v20h-20z"
	film := onFilm
	film.Purpose = weeding.Stencil
	off := onStencil
	off.Options.MendsOff = []string{weeding.MendBridges}
	for _, c := range []struct {
		name    string
		choices plan.Choices
		bridges int
		last    string
	}{{"sheet", onStencil, 3, ""}, {"film", film, 0, ""}, {"refused", off, 0, weeding.Name}} {
		got := desk{workshop.Example(), answered(c.choices, weeding.QuestionEdge, weeding.AnswerOpening)}.run(t, cutting(island))
		if n := len(got.weeding().Bridges); n != c.bridges || got.last != c.last {
			t.Errorf("%s: %d bridges, want %d:%s", c.name, n, c.bridges, got)
		}
	}
}

// Shapely takes the finished cut lines, and nothing else of the map: the sheet
// less what they enclose is one piece that holds every island, and lacks as much
// as the openings less the bridges.
func TestStencilSheetsByAnIndependentTool(t *testing.T) {
	python := reference.Python(t, "shapely")
	for name, c := range map[string]struct {
		cut      string
		openings float64 // mm² as drawn, islands out
		islands  [][2]float64
	}{
		"a square ring": {"M20 20h60v60h-60zM35 35h30v30h-30z", 60*60 - 30*30, [][2]float64{{30, 30}}},
		"two islands":   {"M20 20h90v60h-90zM30 30h25v40h-25zM70 30h30v40h-30z", 90*60 - 25*40 - 30*40, [][2]float64{{22, 30}, {65, 30}}},
		"one in another": {"M10 10h130v130h-130zM25 25h100v100h-100zM45 45h60v60h-60zM60 60h30v30h-30z",
			130*130 - 100*100 + 60*60 - 30*30, [][2]float64{{20, 20}, {65, 65}}},
	} {
		got := desk{workshop.Example(), answered(onStencil, weeding.QuestionEdge, weeding.AnswerOpening)}.run(t, cutting(c.cut))
		if got.last != "" {
			t.Fatalf("%s:%s", name, got)
		}
		m := got.weeding()
		in := struct {
			Box      [4]float64
			Lines    [][][2]float64
			Bridges  [][][2]float64
			Islands  [][2]float64
			Openings float64
		}{Box: [4]float64{m.Bounds.Min.X, m.Bounds.Min.Y, m.Bounds.Max.X, m.Bounds.Max.Y}, Islands: c.islands, Openings: c.openings}
		for _, s := range m.Strokes {
			in.Lines = append(in.Lines, pairs(s.Path))
		}
		for _, b := range m.Bridges {
			in.Bridges = append(in.Bridges, pairs(b))
		}
		text, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(python, "-c", stencilOracle)
		cmd.Stdin = bytes.NewReader(text)
		if out, err := cmd.CombinedOutput(); err != nil || len(bytes.TrimSpace(out)) > 0 {
			t.Errorf("%s: %v %s", name, err, out)
		}
	}
}

func pairs(p geometry.Path) (out [][2]float64) {
	for _, q := range p.Flatten(geometry.DefaultChord) {
		out = append(out, [2]float64{q.X, q.Y})
	}
	return out
}

const stencilOracle = `
import json, sys
from shapely.geometry import box, LineString, Polygon, Point
from shapely.ops import unary_union, polygonize
d = json.load(sys.stdin)
openings = unary_union(list(polygonize(unary_union([LineString(l) for l in d["Lines"]]))))
sheet = box(*d["Box"]).difference(openings)
if sheet.geom_type != "Polygon":
    print("the sheet is", sheet.geom_type)
for p in d["Islands"]:
    if not sheet.contains(Point(p)):
        print("no sheet at", p)
want = d["Openings"] - unary_union([Polygon(b) for b in d["Bridges"]]).area
if abs(openings.area - want) > 0.05:
    print("openings of", openings.area, "mm², want", want)
`

// A part inside a hole of another comes out loose where the sheet is cut through:
// asked, named, and no part where it is waste. On film it stays on the liner.
func TestPartsInHolesAreAskedAbout(t *testing.T) {
	const disc = "M10 10h80v80h-80zM20 20h60v60h-60zM40 40h20v20h-20z"
	row := func(c plan.Choices, d string) run { return desk{workshop.Example(), c}.run(t, cutting(d)) }
	got := row(onCard, disc)
	if f := got.find(finding.PieceInHole); f == nil || f.Count != 1 || !placed(f.Places, "30 30 50 50") || got.question(weeding.QuestionInner) == nil {
		t.Errorf("on card:%s", got)
	}
	for answer, parts := range map[string]int{weeding.AnswerPieces: 2, weeding.AnswerWaste: 1} {
		got := row(answered(onCard, weeding.QuestionInner, answer), disc)
		n := 0
		for _, r := range got.weeding().Regions {
			if r.Kept() {
				n++
			}
		}
		if f := got.find(finding.PieceInHole); n != parts || got.last != "" || f == nil || f.Severity != finding.Warn {
			t.Errorf("%s: %d parts, want %d:%s", answer, n, parts, got)
		}
	}
	if got := row(onFilm, disc); got.find(finding.PieceInHole) != nil {
		t.Errorf("on film:%s", got)
	}
	if got := row(onCard, disc[:len(disc)-len("M40 40h20v20h-20z")]); got.find(finding.PieceInHole) != nil || got.last != "" {
		t.Errorf("without the disc:%s", got)
	}
}

// The map of a mirrored job is the map reflected: every number of it, held
// against a reflection worked out here, and against where the layout lays the
// copy.
func TestMirroredMapsAreReflections(t *testing.T) {
	const word = "M0 0h60v40h-60zM5 5h10v30h-10zM30 8h25v4h-25z"
	yes, no := true, false
	mirrored, straight := onFilm, onFilm
	mirrored.Mirror, straight.Mirror = &yes, &no
	got := desk{workshop.Example(), mirrored}.run(t, cutting(word))
	m, plain := got.weeding(), desk{workshop.Example(), straight}.run(t, cutting(word)).weeding()
	lies := m.AsItLies(nil)
	if !m.Mirrored || plain.Mirrored || !got.layout().Mirrored {
		t.Fatalf("mirrored: map %v, straight map %v, layout %v", m.Mirrored, plain.Mirrored, got.layout().Mirrored)
	}
	flip := func(p geometry.Point) geometry.Point {
		return geometry.Pt(plain.Bounds.Min.X+plain.Bounds.Max.X-p.X, p.Y)
	}
	same := func(what string, got, want geometry.Point) {
		if got.Dist(want) > 1e-9 {
			t.Errorf("%s at %v, want %v", what, got, want)
		}
	}
	for i, s := range plain.Steps {
		l := lies.Steps[i]
		same(fmt.Sprint("step ", s.Order), l.Pick, flip(s.Pick))
		sin, cos := math.Sincos(s.PeelDeg * math.Pi / 180)
		gotSin, gotCos := math.Sincos(l.PeelDeg * math.Pi / 180)
		same(fmt.Sprint("arrow ", s.Order), geometry.Pt(gotCos, gotSin), geometry.Pt(-cos, sin))
	}
	on := got.layout().Loads[0].Placements[0].Transform
	for i, r := range plain.Regions {
		l := lies.Regions[i]
		same(fmt.Sprint("region ", r.Number), l.Pick, flip(r.Pick))
		if math.Abs(l.Outer.Area()-r.Outer.Area()) > 1e-9 {
			t.Errorf("region %d: area %g, want %g", r.Number, l.Outer.Area(), r.Outer.Area())
		}
		if i > 0 {
			a, b := lies.Regions[0].Pick, plain.Regions[0].Pick
			same("from the first, as laid", l.Pick.Sub(a), on.Apply(r.Pick).Sub(on.Apply(b)))
		}
	}
	if plain.AsItLies(nil) != plain {
		t.Error("a map that is not mirrored is turned over")
	}
}

// Bridges that the plan lays are no parts that whoever drew should make wider: they are
// told as bridges, by number and width. A bar that was drawn as thin is told.
func TestBridgesAreNoThinParts(t *testing.T) {
	const ring = "M60 100a40 40 0 1 0 80 0a40 40 0 1 0 -80 0zM80 100a20 20 0 1 0 40 0a20 20 0 1 0 -40 0z"
	thin := func(r run) bool {
		return r.find(finding.StrokeCare) != nil || r.find(finding.StrokeExpert) != nil || r.find(finding.StrokeTooThin) != nil
	}
	for _, stock := range []string{"card-160-a3", "card-220-a3", "stencil-a3"} {
		c := answered(onStencil, weeding.QuestionEdge, weeding.AnswerOpening)
		c.Stock, c.Purpose = stock, weeding.Stencil
		got := desk{workshop.Example(), c}.run(t, cutting(ring))
		if f := got.find(finding.IslandBridged); got.last != "" || f == nil || !strings.Contains(f.Hint, "so 3 bridges were added to hold it") || thin(got) {
			t.Errorf("%s:%s", stock, got)
		}
		if got := (desk{workshop.Example(), c}).run(t, cutting(ring+"M150 60h20v80h-20zM171.8 60h20v80h-20z")); !thin(got) {
			t.Errorf("%s, with a thin bar:%s", stock, got)
		}
	}
}
