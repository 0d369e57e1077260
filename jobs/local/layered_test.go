package local_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"reflect"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// The colours of three films, and the workshop that has a stock of each.
const (
	blue  = "#1f4e79"
	white = "#ffffff"
	red   = "#c00000"
)

func layeredShop() workshop.Data {
	data := workshop.Example()
	for _, id := range [...]string{"film-blue", "film-white", "film-red"} {
		s, _ := data.Stock("film-permanent-300")
		s.ID, s.Name = id, strings.ToUpper(id[5:6])+id[6:]+" film"
		data.Stocks = append(data.Stocks, s)
	}
	return data
}

func inFilms(cut int, meet artwork.Meeting) plan.Choices {
	c := plan.Choices{Film: cut, Meet: meet}
	for _, f := range [...][2]string{{"film-blue", blue}, {"film-white", white}, {"film-red", red}} {
		colour := new(drawing.Colour)
		if err := colour.UnmarshalText([]byte(f[1])); err != nil {
			panic(err)
		}
		c.Films = append(c.Films, plan.FilmChoice{Stock: f[0], Colour: colour})
	}
	return c
}

// shape is a polygon as it is painted.
type shape struct {
	Colour string
	Ring   [][2]float64
}

// painting is a page of 240 × 140 mm, y down.
func painting(shapes []shape, style string) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="240mm" height="140mm" viewBox="0 0 240 140">`)
	for _, s := range shapes {
		fmt.Fprintf(&b, `<polygon `+style+` points="`, s.Colour)
		for _, p := range s.Ring {
			fmt.Fprintf(&b, "%g,%g ", p[0], p[1])
		}
		b.WriteString(`"/>`)
	}
	return b.String() + `</svg>`
}

const (
	filledAs = `fill="%s"`
	linedAs  = `fill="none" stroke-width="0.1" stroke="%s"`
)

func tile(colour string, x, y, w, h float64) shape {
	return shape{colour, [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}}
}

// layeredSign has all that films can do to each other: one on another, one beside it with
// a common edge, one over the edge, one beyond a gap that was drawn, a film that comes
// back on top, and a spot that leaves no hole that could be weeded.
func layeredSign() []shape {
	return []shape{
		tile(blue, 10, 10, 150, 100),
		{white, [][2]float64{{30, 20}, {90, 35}, {70, 100}, {25, 80}}},
		tile(white, 160, 10, 60, 50),   // on the edge of the blue one
		tile(red, 160.4, 70, 40, 30),   // beyond a gap of 0.4 mm
		tile(red, 140, 85, 15, 40),     // over its edge
		tile(blue, 45, 50, 20, 20),     // blue again, on the white one
		tile(white, 120, 30, 1.6, 1.6), // a spot
		{red, [][2]float64{{100, 60}, {130, 62}, {115, 90}}},
	}
}

// Shapely paints the sign by its own means and makes each film of it: what is kept by the
// weeding map of each is that, and all films lie in the same box with the same marks.
func TestFilmsByAnIndependentTool(t *testing.T) {
	python := reference.Python(t, "shapely")
	for _, meet := range [...]artwork.Meeting{artwork.Underlap, artwork.KnockOut, artwork.Whole} {
		in := struct {
			Shapes   []shape
			Order    []string
			Meet     artwork.Meeting
			Underlap float64
			Kept     map[string][][][][2]float64
		}{Shapes: layeredSign(), Meet: meet, Underlap: 1, Kept: map[string][][][][2]float64{}}
		colours := [...]string{blue, white, red}
		var first *artwork.Artwork
		for cut := 1; cut <= 3; cut++ {
			choices := inFilms(cut, meet)
			choices.Options.Novice = true
			got := desk{layeredShop(), choices}.run(t, painting(in.Shapes, filledAs))
			if got.last != "" {
				t.Fatalf("%s, film %d:%s", meet, cut, got)
			}
			a := got.results[artwork.Name].(*artwork.Artwork)
			if first == nil {
				first = a
			}
			if a.Bounds != first.Bounds || a.Origin != first.Origin || !reflect.DeepEqual(a.Stack.Layers, first.Stack.Layers) || !reflect.DeepEqual(a.Stack.Marks, first.Stack.Marks) {
				t.Errorf("%s: film %d lies otherwise than the first", meet, cut)
			}
			onto := geometry.Translate(a.Origin.X, a.Origin.Y)
			marks := 0
			for _, r := range got.weeding().Regions {
				if !r.Kept() {
					continue
				}
				if !a.Stack.Work.Grow(1e-3).ContainsBox(r.Outer.Bounds()) {
					marks++
					continue
				}
				rings := [][][2]float64{pairs(r.Outer.Transform(onto))}
				for _, h := range r.Holes {
					rings = append(rings, pairs(h.Transform(onto)))
				}
				in.Kept[colours[cut-1]] = append(in.Kept[colours[cut-1]], rings)
			}
			if marks != 3 {
				t.Errorf("%s: film %d keeps %d marks, not 3", meet, cut, marks)
			}
		}
		for _, l := range first.Stack.Layers {
			in.Order = append(in.Order, colours[l.Film-1])
		}
		text, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(python, "-c", filmsOracle)
		cmd.Stdin = bytes.NewReader(text)
		if out, err := cmd.CombinedOutput(); err != nil || len(bytes.TrimSpace(out)) > 0 {
			t.Errorf("%s: %v %s", meet, err, out)
		}
	}
}

// filmsOracle allows chords within 0.01 mm on arcs of 1 mm round the corners.
const filmsOracle = `
import json, sys
from shapely.geometry import Polygon, box
from shapely.ops import unary_union
d = json.load(sys.stdin)
flip = lambda r: [(x, 140 - y) for x, y in r]
shown, drawn = {c: Polygon() for c in d["Order"]}, {c: Polygon() for c in d["Order"]}
for s in d["Shapes"]:
    p = Polygon(flip(s["Ring"]))
    for c in shown:
        shown[c] = shown[c].difference(p)
    shown[s["Colour"]] = shown[s["Colour"]].union(p)
    drawn[s["Colour"]] = drawn[s["Colour"]].union(p)
for i, c in enumerate(d["Order"]):
    over = unary_union([shown[o] for o in d["Order"][i+1:]])
    want = shown[c]
    if d["Meet"] == "whole":
        want = want.union(drawn[c].intersection(over))
    if d["Meet"] == "underlap":
        want = want.union(over).buffer(1e-7).intersection(want.buffer(d["Underlap"], 64))
        parts = list(want.geoms) if hasattr(want, "geoms") else [want]
        want = unary_union([p for p in parts if p.intersection(shown[c]).area > 1e-3])
        want = want.union(box(119, 140 - 33, 123, 140 - 29)) if c == "#1f4e79" else want # no hole below the spot
    got = unary_union([Polygon(r[0], r[1:]) for r in d["Kept"][c]])
    off = got.symmetric_difference(want)
    if off.buffer(-0.011).area > 0 or off.area > 0.5:
        print(c, "is off by", off.area, "mm2 at", off.buffer(-0.011).bounds)
`

// Which film lies below, common practice: what is painted first, what holds the other, and
// what is larger; where nothing says so it is asked, and what is answered is done.
func TestOrderOfFilms(t *testing.T) {
	plate, inside, across := tile(blue, 10, 10, 100, 60), tile(white, 20, 20, 30, 30), tile(white, 90, 20, 40, 30)
	dot := tile(red, 150, 20, 10, 10)
	for name, c := range map[string]struct {
		shapes []shape
		style  string
		order  string
		asks   bool
	}{
		"painted":             {[]shape{plate, inside, dot}, filledAs, "123", false},
		"painted over a part": {[]shape{across, plate, dot}, filledAs, "213", false},
		"one in another":      {[]shape{inside, dot, plate}, linedAs, "123", false},
		"side by side":        {[]shape{dot, tile(white, 200, 10, 30, 30), plate}, linedAs, "123", false},
		"across":              {[]shape{plate, across, dot}, linedAs, "123", true},
	} {
		got := desk{layeredShop(), inFilms(1, "")}.run(t, painting(c.shapes, c.style))
		if (got.question("artwork/films:1-2") != nil) != c.asks || got.order() != c.order {
			t.Errorf("%s: order %s, want %s:%s", name, got.order(), c.order, got)
		}
	}
	choices := answered(inFilms(1, ""), "artwork/films:1-2", "film-1")
	if got := (desk{layeredShop(), choices}).run(t, painting([]shape{plate, across, dot}, linedAs)); got.order() != "213" || got.last != "" {
		t.Errorf("answered: order %s:%s", got.order(), got)
	}
}

func (r run) order() string {
	order := ""
	if s := r.results[artwork.Name].(*artwork.Artwork).Stack; s != nil {
		for _, l := range s.Layers {
			order += fmt.Sprint(l.Film)
		}
	}
	return order
}

// A colour that no film has is asked about, the nearest film first, and left out where
// that is answered; a line of another colour round a fill is left out and said.
func TestColoursOfNoFilm(t *testing.T) {
	sign := []shape{tile(blue, 10, 10, 100, 60), tile(white, 20, 20, 30, 30), tile(red, 60, 20, 10, 10), tile("#b81010", 60, 40, 10, 10)}
	got := desk{layeredShop(), inFilms(3, "")}.run(t, painting(sign, filledAs))
	q := got.question("artwork/film:#b81010")
	if q == nil || q.Answers[0].ID != "film-3" || len(q.Answers) != 4 {
		t.Fatalf("a near colour: %+v%s", q, got)
	}
	for answer, kept := range map[string]float64{"film-3": 200, "nothing": 100} {
		got := desk{layeredShop(), answered(inFilms(3, ""), q.ID, answer)}.run(t, painting(sign, filledAs))
		if layer := got.results[artwork.Name].(*artwork.Artwork).Stack.Layers[2]; layer.Film != 3 || layer.AreaMM2 != kept || got.last != "" {
			t.Errorf("%s: %g mm² of film %d:%s", answer, layer.AreaMM2, layer.Film, got)
		}
	}
	got = desk{layeredShop(), inFilms(1, "")}.run(t, painting(sign[:3], `stroke="#000000" stroke-width="0.3" fill="%s"`))
	if f := got.find(finding.FilmOutline); f == nil || f.Count != 3 || got.last != "" {
		t.Errorf("with lines:%s", got)
	}
}

// A convention that names films makes a layered work where no stock is named, and where it
// is one of them; on any other stock all is cut from that.
func TestConventionNamesFilms(t *testing.T) {
	data := layeredShop()
	sign := workshop.Convention{ID: "sign", Name: "Signs"}
	for _, f := range inFilms(1, "").Films {
		sign.Rules = append(sign.Rules, workshop.Rule{Colour: f.Colour, Means: workshop.MeansCut, Film: f.Stock})
	}
	data.Conventions = append(data.Conventions, sign)
	all := jobs.Layered(data, plan.Choices{Convention: "sign"})
	if len(all) != 3 {
		t.Fatalf("%d films", len(all))
	}
	for i, c := range append(all, plan.Choices{Convention: "sign", Stock: "film-white"}) {
		r, err := list.Choose(data, c)
		if err != nil || r.Layering == nil || r.Stock.ID != r.Layering.Films[r.Layering.Cut-1].Stock || i < 3 && r.Layering.Cut != i+1 {
			t.Errorf("film %d: %v", i+1, err)
		}
	}
	if r, err := list.Choose(data, plan.Choices{Convention: "sign", Stock: "film-removable-610"}); err != nil || r.Layering != nil {
		t.Errorf("another stock: %v", err)
	}
}

// What cannot be layered is refused with what to do.
func TestLayeringRefusals(t *testing.T) {
	yes := true
	for name, c := range map[string]struct {
		change func(*plan.Choices)
		field  string
	}{
		"one film":      {func(c *plan.Choices) { c.Films = c.Films[:1] }, "films"},
		"card":          {func(c *plan.Choices) { c.Films[0].Stock = "card-220-a4" }, "films"},
		"heat film":     {func(c *plan.Choices) { c.Films[0].Stock = "film-heat-500" }, "films"},
		"through glass": {func(c *plan.Choices) { c.Mirror = &yes }, "films"},
		"no such stock": {func(c *plan.Choices) { c.Films[0].Stock = "gold" }, "films"},
		"no colour":     {func(c *plan.Choices) { c.Films[0].Colour = nil }, "films"},
		"a stencil":     {func(c *plan.Choices) { c.Purpose = "stencil" }, "films"},
		"another stock": {func(c *plan.Choices) { c.Stock = "film-removable-610" }, "stock"},
		"a fourth film": {func(c *plan.Choices) { c.Film = 4 }, "film"},
		"how they meet": {func(c *plan.Choices) { c.Meet = "glue" }, "meet"},
		"an underlap":   {func(c *plan.Choices) { c.UnderlapMM = 6 }, "underlap_mm"},
		"under a hole":  {func(c *plan.Choices) { c.Meet, c.UnderlapMM = artwork.KnockOut, 1 }, "underlap_mm"},
		"without films": {func(c *plan.Choices) { c.Films, c.Stock = nil, "film-white" }, "film"},
	} {
		choices := inFilms(1, "")
		c.change(&choices)
		_, err := list.Choose(layeredShop(), choices)
		var told *plan.ChoiceError
		if !errors.As(err, &told) || told.Field != c.field {
			t.Errorf("%s: %v", name, err)
		}
	}
}
