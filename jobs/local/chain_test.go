package local_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

var teal = drawing.Colour{R: 0x00, G: 0x7c, B: 0x91}

// paths reads SVG path data, y up.
func paths(t *testing.T, d string) []geometry.Path {
	t.Helper()
	ps, err := geometry.ParsePathData(d)
	if err != nil {
		t.Fatal(err)
	}
	return ps
}

func scaled(ps []geometry.Path, sx, sy float64) []geometry.Path {
	out := make([]geometry.Path, len(ps))
	for i, p := range ps {
		out[i] = p.Transform(geometry.Scale(sx, sy))
	}
	return out
}

// asDXF writes cuts and a frame, all numbers multiplied by sx and sy, as a DXF
// file that says mm.
func asDXF(t *testing.T, cuts, frame string, sx, sy float64) []byte {
	t.Helper()
	var b bytes.Buffer
	err := dxf.Write(&b, dxf.Millimetres,
		dxf.Layer{Name: "CUT", Colour: &teal, Paths: scaled(paths(t, cuts), sx, sy)},
		dxf.Layer{Name: "PAGE", Paths: scaled(paths(t, frame), sx, sy)})
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// asSVG is asDXF as an SVG file with a page in mm.
func asSVG(t *testing.T, cuts, frame string, sx, sy float64) []byte {
	t.Helper()
	var b bytes.Buffer
	err := svg.Write(&b, svg.Document{Width: 500 * sx, Height: 500 * sy, Layers: []svg.Layer{
		{Name: "CUT", Colour: teal, Paths: scaled(paths(t, cuts), sx, sy)},
		{Name: "PAGE", Paths: scaled(paths(t, frame), sx, sy)},
	}})
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// chain runs the jobs up to the named one, or to the first that asks or blocks,
// and returns the results.
func chain(t *testing.T, file []byte, last string, c plan.Choices) (results jobs.Results, fs []finding.Finding, qs []ask.Question) {
	t.Helper()
	req, err := list.Choose(workshop.Example(), c)
	if err != nil {
		t.Fatal(err)
	}
	results = jobs.Results{}
	err = stepsOf(file, req).each(func(name string, r jobs.Result) bool {
		results[name] = r
		f, q := r.Outcome()
		fs, qs = append(fs, f...), append(qs, q...)
		return name != last && len(qs) == 0 && finding.Worst(f) != finding.Block
	})
	if err != nil {
		t.Fatal(err)
	}
	return results, fs, qs
}

const (
	box137 = "M30 40H167V102H30Z"    // 137 × 62 mm
	a4     = "M0 0H210V297H0Z"       // ISO 216, check-values row 10
	a3     = "M0 0H297V420H0Z"       // ISO 216
	a3x096 = "M0 0H285.12V403.20H0Z" // A3 × 0.96
)

// The box of 137 × 62 mm in an A4 frame comes back from every named mistake
// (check-values rows 1 to 3, 10, 18 to 20: exact definitions of the units).
func TestNamedMistakesAreRepaired(t *testing.T) {
	for _, tt := range []struct {
		cause  string
		factor float64
	}{
		{"points_read_as_mm", 72 / 25.4}, {"pixels_read_as_mm", 96 / 25.4},
	} {
		for format, write := range map[string]func(*testing.T, string, string, float64, float64) []byte{"dxf": asDXF, "svg": asSVG} {
			t.Run(tt.cause+" "+format, func(t *testing.T) {
				results, _, qs := chain(t, write(t, box137, a4, tt.factor, tt.factor), size.Name, plan.Choices{Stock: "card-220-a4"})
				s := result(t, list.Size, results)
				if len(qs) > 0 || s.Cause != tt.cause {
					t.Errorf("cause %s, questions %v", s.Cause, qs)
				}
				if math.Abs(s.WidthMM-137) > 0.01 || math.Abs(s.HeightMM-62) > 0.01 {
					t.Errorf("%.4f × %.4f mm", s.WidthMM, s.HeightMM)
				}
			})
		}
	}
}

// A frame that fits a named size only as inches or centimetres, in a file that
// says mm, may be a small piece: it asks, and the first answer is exact.
func TestOtherUnitsThanTheHeadersAreAsked(t *testing.T) {
	for cause, factor := range map[string]float64{"inches_read_as_mm": 1 / 25.4, "centimetres_read_as_mm": 0.1} {
		firstIsExact(t, cause, asDXF(t, box137, a4, factor, factor))
	}
}

// A factor without a name is repaired where the caller declares the frame; the
// convention that the frame is the sheet only says which answer stands first.
func TestDeclaredFrameTakesAnyFactor(t *testing.T) {
	file := asDXF(t, box137, a4, 0.3777, 0.3777)
	results, _, qs := chain(t, file, size.Name, plan.Choices{Stock: "film-removable-610", Size: plan.Size{Frame: "A4"}})
	s := result(t, list.Size, results)
	if len(qs) > 0 || math.Abs(s.WidthMM-137) > 0.01 || math.Abs(s.HeightMM-62) > 0.01 {
		t.Errorf("%.4f × %.4f mm, %s, questions %v", s.WidthMM, s.HeightMM, s.Cause, qs)
	}
	firstIsExact(t, "by the convention", file)
}

// firstIsExact sends box137 in a frame to the sheet of A4: the size is asked, and
// the first answer gives the box its size.
func firstIsExact(t *testing.T, name string, file []byte) {
	t.Helper()
	c := plan.Choices{Stock: "card-220-a4"}
	_, _, qs := chain(t, file, size.Name, c)
	if len(qs) != 1 || qs[0].ID != "size/true_size" {
		t.Fatalf("%s: questions %+v", name, qs)
	}
	c.Replies = ask.Replies{qs[0].ID: {Answer: qs[0].Answers[0].ID}}
	results, _, qs := chain(t, file, size.Name, c)
	s := result(t, list.Size, results)
	if len(qs) > 0 || math.Abs(s.WidthMM-137) > 0.01 || math.Abs(s.HeightMM-62) > 0.01 {
		t.Errorf("%s: after the first answer %.4f × %.4f mm, questions %v", name, s.WidthMM, s.HeightMM, qs)
	}
}

// A frame of A3 × 0.96 with nothing declared could be several sizes: it asks,
// and the answer is exact.
func TestUnnamedFactorAsks(t *testing.T) {
	file := asDXF(t, "M30 40H161.52V99.52H30Z", a3x096, 1, 1) // 137 × 62 mm at 96 %
	c := plan.Choices{Stock: "film-removable-610"}
	_, _, qs := chain(t, file, size.Name, c)
	if len(qs) != 1 || qs[0].ID != "size/true_size" || len(qs[0].Answers) < 2 {
		t.Fatalf("questions %+v", qs)
	}
	var a3 string
	for _, a := range qs[0].Answers {
		if strings.HasPrefix(a.ID, "A3") {
			a3 = a.ID
		}
	}
	c.Replies = ask.Replies{"size/true_size": {Answer: a3}}
	results, _, qs := chain(t, file, size.Name, c)
	s := result(t, list.Size, results)
	if len(qs) > 0 || math.Abs(s.WidthMM-137) > 0.001 || math.Abs(s.HeightMM-62) > 0.001 {
		t.Errorf("after the answer %.5f × %.5f mm, questions %v", s.WidthMM, s.HeightMM, qs)
	}
}

func TestStretchIsNeverAcceptedInSilence(t *testing.T) {
	for _, stretch := range []float64{1.001, 1.02} {
		for _, c := range []plan.Choices{
			{Stock: "card-220-a4"}, {Stock: "film-removable-610"}, {Stock: "card-220-a4", Size: plan.Size{Frame: "A4"}},
		} {
			_, fs, qs := chain(t, asDXF(t, box137, a4, stretch, 1), size.Name, c)
			if len(qs) == 0 && finding.Worst(fs) != finding.Block {
				t.Errorf("a stretch of %g on %s passed with %v", stretch, c.Stock, fs)
			}
		}
	}
}

// Four nested outlines keep, remove, keep and remove; drawing one of them twice
// changes nothing (check-values rows 46, 47).
func TestNestCheck(t *testing.T) {
	const nest = "M0 0H100V80H0ZM10 10H90V70H10ZM20 20H80V60H20ZM30 30H70V50H30Z"
	c := plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}}
	var first []weeding.Region
	for _, d := range []string{nest, nest + "M10 10H90V70H10Z"} {
		results, _, qs := chain(t, asDXF(t, d, "M0 0", 1, 1), weeding.Name, c)
		if len(qs) > 0 {
			t.Fatalf("asked %+v", qs)
		}
		m := result(t, list.Weeding, results)
		byDepth := map[int]weeding.Class{}
		var inside []weeding.Region
		for _, r := range m.Regions {
			if r.Depth > 0 {
				byDepth[r.Depth] = r.Class
				inside = append(inside, r)
			}
		}
		for depth, kept := range map[int]bool{1: true, 2: false, 3: true, 4: false} {
			if (byDepth[depth] == weeding.Kept) != kept {
				t.Errorf("depth %d is %s", depth, byDepth[depth])
			}
		}
		if first != nil && len(first) != len(inside) {
			t.Errorf("a second drawing of one outline changed the regions from %d to %d", len(first), len(inside))
		}
		first = inside
	}
}

// A piece whose own outline has the size of a sheet is cut when the caller says
// that there is no frame; without that word the plan says what it took.
func TestPieceOfTheSizeOfASheet(t *testing.T) {
	file := asDXF(t, a4+"M80 120H130V170H80Z", "M0 0", 1, 1)
	c := plan.Choices{Stock: "film-removable-610"}
	_, fs, _ := chain(t, file, size.Name, c)
	for _, f := range fs {
		if f.Code == finding.FrameTakenOut && f.Severity != finding.Warn {
			t.Errorf("the outline is taken for the frame with no more than %s", f.Severity)
		}
	}
	c.Size.Frame = "none"
	results, _, qs := chain(t, file, size.Name, c)
	s := result(t, list.Size, results)
	if len(qs) > 0 || math.Abs(s.WidthMM-210) > 1e-6 || math.Abs(s.HeightMM-297) > 1e-6 {
		t.Errorf("%.3f × %.3f mm, questions %v", s.WidthMM, s.HeightMM, qs)
	}
}

// The unit that a caller gives is that of the numbers in the file, also where
// a view box sets them apart from the page's pixels.
func TestUnitIsThatOfTheNumbers(t *testing.T) {
	file := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
		<g id="CUT" fill="none" stroke="#007c91"><path d="M10 10H90V50H10Z"/></g></svg>`)
	for unit, width := range map[string]float64{"mm": 80, "cm": 800} {
		results, _, _ := chain(t, file, size.Name, plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: unit}})
		if s := result(t, list.Size, results); math.Abs(s.WidthMM-width) > 1e-6 {
			t.Errorf("in %s it is %.4f mm wide, want %g", unit, s.WidthMM, width)
		}
	}
}
