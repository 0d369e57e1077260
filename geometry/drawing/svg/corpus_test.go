package svg_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
)

// refs are the values of one file in reference/drawings/svg/refs.json.
type refs struct {
	Use         string                     `json:"use"`
	Truth       map[string]json.RawMessage `json:"truth"`
	Svgelements values                     `json:"svgelements"`
	Librsvg     values                     `json:"librsvg"`
}

// values are what an independent tool measured, in CSS px with y down.
type values struct {
	Error  string    `json:"error"`
	Length float64   `json:"length_px"`
	Box    []float64 `json:"bbox_px"`
	Paints int       `json:"paint_ops"`
}

// argued are the files in which the tools depart from the specification: the
// clause, and the length in px that follows from it by hand. Lengths hold for
// what is painted; the boxes are still librsvg's where it follows the clause.
var argued = map[string]struct {
	clause string
	length float64
	box    []float64 // nil: librsvg's
}{
	"resvg__shapes-ellipse__negative-rx-attribute.svg":                              {"SVG 2, 7.4: a negative rx is invalid, so auto, so equal to ry: a circle of r 80", 792 + 160*math.Pi, nil},
	"resvg__shapes-rect__percentage-values-1.svg":                                   {"SVG 2, 7.4: an auto ry takes the used value of rx, 40, not the percentage", 592 + 160 + 80*math.Pi, nil},
	"resvg__shapes-rect__percentage-values-2.svg":                                   {"SVG 2, 7.4: an auto rx takes the used value of ry, 20, not the percentage", 592 + 320 + 40*math.Pi, nil},
	"resvg__shapes-rect__q-values.svg":                                              {"CSS Values 3, 6.2: a Q is a quarter of a millimetre", 792 + 4*150*96/101.6, nil},
	"resvg__shapes-rect__vw-and-vh-values.svg":                                      {"CSS Values 3, 6.1.2: 30vw and 30vh of a 200 px viewport", 792 + 240, nil},
	"resvg__structure-transform__zeroed-matrix.svg":                                 {"CSS Transforms 1, 10: an element with a matrix that has no inverse is not displayed", 792, nil},
	"resvg__structure-svg__nested-svg-with-rect-and-viewBox-and-percent-values.svg": {"SVG 2, Units: r is a part of √((w²+h²)/2) of the view box 200 × 100", 792 + 0.25*0.7*math.Sqrt(25000)*2*math.Pi, nil},
	"resvg__structure-svg__rect-inside-a-non-SVG-element.svg":                       {"librsvg paints two of the three: what stands in an unknown element is listed, not drawn", 1432, nil},
	"resvg__structure-switch__display-none-on-child.svg":                            {"SVG 2, Conditional processing: only the first child that applies, and display does not matter for that", 792, nil},
	"resvg__structure-switch__systemLanguage-en.svg":                                {"SVG 2, Conditional processing: only the first child that applies", 1432, nil},
	"resvg__structure-symbol__unused-symbol.svg":                                    {"SVG 2, The symbol element: it is only drawn through use", 792, nil},
	"resvg__structure-symbol__with-custom-use-size.svg":                             {"SVG 2, The symbol element: it is only drawn through use", 1432, nil},
	"resvg__structure-symbol__with-transform.svg":                                   {"SVG 2, The symbol element: it takes a transform; skewX(30) lengthens two sides by 1/cos 30°", 792 + 320 + 320/math.Cos(math.Pi/6), []float64{1, 1, 283.923048, 199}},
	"resvg__structure-symbol__with-viewBox-and-custom-use-rect.svg":                 {"SVG 2, The viewBox attribute: a view box of 150 in a use of 100 scales by 2/3", 792 + 640*2/3.0, nil},
	"resvg__structure-symbol__with-viewBox.svg":                                     {"SVG 2, The viewBox attribute: a view box of 400 in a viewport of 200 scales by 1/2", 792 + 320, nil},
	"resvg__structure-transform-origin__center.svg":                                 {"CSS Transforms 1, 7.1: transform-origin is a presentation attribute", 1072, []float64{1, 1, 199, 199}},
	"resvg__structure-transform-origin__keyword-length.svg":                         {"CSS Transforms 1, 7.1: transform-origin is a presentation attribute", 1072, []float64{50 - 45*math.Sqrt2, 1, 199, 199}},
	"resvg__structure-transform-origin__on-group.svg":                               {"CSS Transforms 1, 7.1: transform-origin is a presentation attribute", 792 + 320, []float64{1, 1, 199, 199}},
	"resvg__structure-transform-origin__right-bottom.svg":                           {"CSS Transforms 1, 7.1: transform-origin is a presentation attribute", 1072, []float64{1, 1, 200 + 20*math.Sqrt2, 199}},
	"resvg__structure-svg__deeply-nested-svg.svg":                                   {"SVG 2, Establishing a new SVG viewport: they shift by 40 and 20 and scale by nothing", 792 + 240*math.Pi, nil},
	"resvg__structure-use__nested-recursive-1.svg":                                  {"SVG 2, The use element: references in a circle are not drawn", 792, nil},
	"resvg__structure-use__nested-xlink-to-svg-element-with-rect-and-size.svg":      {"SVG 2, Establishing a new SVG viewport: they shift by 40 and scale by nothing", 792 + 240*math.Pi, nil},
	"resvg__painting-marker__with-viewBox-1.svg":                                    {"markers are left out and listed: the frame and the line", 1447.6549, nil},
	"resvg__painting-marker__orient-auto-on-M-L-L-Z-Z-Z.svg":                        {"markers are left out and listed: the frame and the triangle", 1133.6609, nil},
	"resvg__painting-marker__recursive-1.svg":                                       {"markers are left out and listed: the frame and the line", 1447.6549, nil},
	"icon__bootstrap-icons__gear-wide-connected.svg":                                {flatFill + ": two of 0.087 by 0.065 px, there and back", 119.167751 - 4*math.Hypot(0.087, 0.065), nil},
	"own__arc-elliptic-rotated.svg":                                                 {flatFill + ": a line of 40 mm. The ellipse of 40 by 20 mm turned by 30° is 2√700 mm high", 883.529192 - 40*96/25.4, []float64{113.385888, 343.444142 - 2*math.Sqrt(700)*96/25.4, 385.931643, 343.444142}},
	"own__path-subpaths-after-z.svg":                                                {flatFill + ": a line of 5√2 mm, there and back", (174.14213562373095 - 10*math.Sqrt2) * 96 / 25.4, nil},
	"resvg__painting-visibility__bbox-impact-1.svg":                                 {"CSS 2.2, 11.2: what is hidden is not painted: 160², 120² twice and the frame", 640 + 960 + 792, nil},
}

// flatFill is why what a fill has no inside for is left out; chromium 156 prints
// nothing for it.
const flatFill = "SVG 2, 13.4: a fill paints the interior, and a path on one line has none"

// The unpainted box of 24 by 24 that starts each of these files is left out.
const unpaintedBox = 96

func TestCorpus(t *testing.T) {
	dir := reference.Path(t, "drawings", "svg")
	data, err := os.ReadFile(filepath.Join(dir, "refs.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]refs
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var table strings.Builder
	files := 0
	for _, entry := range entries {
		name := entry.Name()
		if filepath.Ext(name) == ".json" {
			continue
		}
		ref, ok := all[name]
		if !ok {
			t.Errorf("%s has no reference values", name)
			continue
		}
		files++
		row := check(t, filepath.Join(dir, name), ref)
		fmt.Fprintf(&table, "%-80s %s\n", name, row)
	}
	t.Logf("%d files\n%s", files, table.String())
	if files != len(all) {
		t.Errorf("%d files, %d with reference values", files, len(all))
	}
}

// check compares one file with the value that its reference says to use and
// returns its row of the table.
func check(t *testing.T, path string, ref refs) string {
	name := filepath.Base(path)
	d := open(t, path, svg.Options{})
	box, length := extent(d)
	basis := "truth"
	switch arg, has := argued[name]; {
	case has:
		basis = arg.clause
		want := arg.box
		if want == nil {
			want = ref.Librsvg.Box
			compare(t, name, box, want, 3e-3) // its boxes are printed in 1/750 px
		} else {
			compare(t, name, box, want, 1e-6*longest(box))
		}
		within(t, name+" length", length, arg.length, 1e-4*arg.length)
	case strings.HasPrefix(name, "icon__tabler-icons__") && ref.Use != "svgelements (librsvg agrees)":
		basis = "librsvg's painted box; svgelements' length without the unpainted box"
		compare(t, name, box, ref.Librsvg.Box, 3e-3)
		within(t, name+" length", length, ref.Svgelements.Length-unpaintedBox, 1e-4*length)
	case ref.Use == "truth":
		truth(t, name, d, ref)
	case ref.Use == "svgelements (librsvg agrees)":
		basis = "svgelements"
		compare(t, name, box, ref.Svgelements.Box, 1e-6*longest(box))
		within(t, name+" length", length, ref.Svgelements.Length, 1e-4*length)
	default:
		t.Errorf("%s: no basis for %q", name, ref.Use)
	}
	return fmt.Sprintf("%10.4f × %10.4f px, length %12.4f  %s", box.Width(), box.Height(), length, basis)
}

func open(t testing.TB, path string, opt svg.Options) *drawing.Drawing {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := svg.Read(t.Context(), f, opt)
	if err != nil {
		t.Fatalf("%s: %v", filepath.Base(path), err)
	}
	return d
}

// extent returns the box with y down, as the references have it, and the
// length of all paths, both in px.
func extent(d *drawing.Drawing) (geometry.Box, float64) {
	length := 0.0
	for _, s := range d.Shapes {
		for _, p := range s.Paths {
			length += p.Length()
		}
	}
	return yDown(d, d.Bounds()), length
}

func yDown(d *drawing.Drawing, b geometry.Box) geometry.Box {
	h := 0.0
	if d.Page != nil {
		h = d.Page.Height()
	}
	return geometry.BoxAround(geometry.Pt(b.Min.X, h-b.Max.Y), geometry.Pt(b.Max.X, h-b.Min.Y))
}

func longest(b geometry.Box) float64 { return math.Max(b.Width(), b.Height()) }

func compare(t *testing.T, name string, got geometry.Box, want []float64, tol float64) {
	t.Helper()
	if len(want) != 4 {
		t.Errorf("%s: no reference box", name)
		return
	}
	for i, v := range []float64{got.Min.X, got.Min.Y, got.Max.X, got.Max.Y} {
		within(t, fmt.Sprintf("%s box[%d]", name, i), v, want[i], tol)
	}
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g ± %.2g", what, got, want, tol)
	}
}

// truth checks what a file made by our own scripts is known to hold.
func truth(t *testing.T, name string, d *drawing.Drawing, ref refs) {
	const mm = 96 / 25.4
	box, length := extent(d)
	inMM := func(v []float64) []float64 {
		out := make([]float64, len(v))
		for i := range v {
			out[i] = v[i] * mm
		}
		return out
	}
	tol := 1e-6 * longest(box)
	checked := 0
	for key, raw := range ref.Truth {
		checked++
		switch key {
		case "bbox_mm", "bbox_unclipped_mm", "bbox_visible_mm":
			compare(t, name, box, inMM(decode[[]float64](t, raw)), math.Max(tol, 1e-8)) // printed to 1e-9 mm
		case "length_mm", "raw_length_mm":
			within(t, name+" length", length, decode[float64](t, raw)*mm, 1e-6*length)
		case "length_user":
			unit := decode[float64](t, ref.Truth["mm_per_user_unit"])
			within(t, name+" length", length, decode[float64](t, raw)*unit*mm, 1e-6*length)
		case "parts":
			parts(t, name, d, decode[[][]float64](t, raw))
		case "visible":
			within(t, name+" shapes", float64(len(d.Shapes)), decode[float64](t, raw), 0)
		case "colours":
			colours(t, name, d, decode[[]string](t, raw))
		case "layers":
			layers(t, name, d, decode[[]string](t, raw), decode[[]string](t, ref.Truth["hidden"]))
		case "vertices":
			vertices(t, name, d, decode[[][]float64](t, raw))
		case "subpaths":
			within(t, name+" subpaths", float64(len(d.Shapes[0].Paths)), decode[float64](t, raw), 0)
		case "area_mm2":
			within(t, name+" area", math.Abs(d.Shapes[0].Paths[0].Area()), decode[float64](t, raw)*mm*mm, 1e-6)
		case "mm_at_96":
			within(t, name+" width", box.Width(), decode[float64](t, raw)*mm, 1e-5)
		default:
			checked-- // prose, or the key of another check
		}
	}
	if checked == 0 {
		prose(t, name, d, ref)
	}
}

func decode[T any](t *testing.T, raw json.RawMessage) T {
	t.Helper()
	var v T
	if err := json.Unmarshal(raw, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func parts(t *testing.T, name string, d *drawing.Drawing, want [][]float64) {
	for _, w := range want {
		found := slices.ContainsFunc(d.Shapes, func(s drawing.Shape) bool {
			b := yDown(d, s.Bounds())
			got := []float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y}
			for i := range got {
				if math.Abs(got[i]-w[i]*96/25.4) > 1e-6*longest(b) {
					return false
				}
			}
			return true
		})
		if !found {
			t.Errorf("%s: no part at %v mm", name, w)
		}
	}
}

func colours(t *testing.T, name string, d *drawing.Drawing, want []string) {
	var got []string
	for _, s := range d.Shapes {
		got = append(got, s.Stroke.String())
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s: colours %v, want %v", name, got, want)
	}
}

func layers(t *testing.T, name string, d *drawing.Drawing, want, hidden []string) {
	var got, off []string
	for _, l := range d.Layers {
		got = append(got, l.Name)
		if l.Off {
			off = append(off, l.Name)
		}
	}
	if !slices.Equal(got, want) || !slices.Equal(off, hidden) {
		t.Errorf("%s: layers %v, off %v; want %v, %v", name, got, off, want, hidden)
	}
}

func vertices(t *testing.T, name string, d *drawing.Drawing, want [][]float64) {
	p := d.Shapes[0].Paths[0]
	got := append([]geometry.Point{p.Start}, geometry.Path{Start: p.Start, Segments: p.Segments}.Flatten(1)[1:]...)
	for i, w := range want {
		q := geometry.Pt(got[i].X*25.4/96, (d.Page.Height()-got[i].Y)*25.4/96)
		if q.Dist(geometry.Pt(w[0], w[1])) > 1e-9 {
			t.Errorf("%s: vertex %d at %v, want %v", name, i, q, w)
		}
	}
}

// prose checks the files of which the truth is a sentence.
func prose(t *testing.T, name string, d *drawing.Drawing, ref refs) {
	box, length := extent(d)
	switch name {
	case "own__arc-elliptic-rotated.svg", "own__path-cubic-quad-smooth.svg", "own__text-outline-needed.svg":
		compare(t, name, box, ref.Svgelements.Box, 1e-6*longest(box))
		within(t, name+" length", length, ref.Svgelements.Length, 1e-4*length)
	case "own__colour-forms.svg":
		want := []string{"#ff8800", "#ff8800", "#ff8800", "#ff8800", "#ff8800", "#ff8800", "#ff8c00", "#000000"}
		var got []string
		for _, s := range d.Shapes {
			got = append(got, s.Fill.String())
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	case "own__entity-bomb.svg":
		if len(d.Shapes) != 0 || codes(d)["limit_reached"] != 1 {
			t.Errorf("%s: %d shapes, notes %v", name, len(d.Shapes), codes(d))
		}
	case "own__use-cycle.svg":
		compare(t, name, box, []float64{0, 0, 960 / 25.4, 960 / 25.4}, 1e-9)
		if codes(d)["circular_reference"] == 0 {
			t.Errorf("%s: findings %v", name, codes(d))
		}
	default:
		t.Errorf("%s: nothing is checked", name)
	}
}

func codes(d *drawing.Drawing) map[string]int {
	m := map[string]int{}
	for _, f := range d.Notes {
		m[string(f.Code)] = f.Count
	}
	return m
}
