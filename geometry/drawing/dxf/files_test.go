package dxf_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/reference"
)

// groups turns "LINE 8=CUT 10=0" into the groups 0 LINE, 8 CUT, 10 0, a group
// a pair of lines..
func groups(text string) string {
	var b strings.Builder
	for _, word := range strings.Fields(text) {
		code, value, ok := strings.Cut(word, "=")
		if !ok {
			code, value = "0", word
		}
		fmt.Fprintf(&b, "%s\n%s\n", code, value)
	}
	return b.String()
}

// file makes a file of release 2000 in mm with the given contents of the
// sections TABLES, BLOCKS and ENTITIES, written as for groups.
func file(tables, blocks, entities string) string {
	return groups("SECTION 2=HEADER 9=$ACADVER 1=AC1015 9=$INSUNITS 70=4 ENDSEC" +
		" SECTION 2=TABLES " + tables + " ENDSEC SECTION 2=BLOCKS " + blocks +
		" ENDSEC SECTION 2=ENTITIES " + entities + " ENDSEC EOF")
}

// read reads text, which must be readable.
func read(t testing.TB, text string, opt dxf.Options) *drawing.Drawing {
	t.Helper()
	d, err := dxf.Read(t.Context(), strings.NewReader(text), opt)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// entities reads a file with these entities and nothing else.
func entities(t testing.TB, text string) *drawing.Drawing {
	t.Helper()
	return read(t, file("", "", text), dxf.Options{})
}

func length(d *drawing.Drawing) float64 {
	sum := 0.0
	for i := range d.Shapes {
		for _, p := range d.Shapes[i].Paths {
			sum += p.Length()
		}
	}
	return sum
}

func found(d *drawing.Drawing, code drawing.Code) *drawing.Note {
	for i := range d.Notes {
		if d.Notes[i].Code == code {
			return &d.Notes[i]
		}
	}
	return nil
}

func codes(d *drawing.Drawing) []drawing.Code {
	var all []drawing.Code
	for _, f := range d.Notes {
		all = append(all, f.Code)
	}
	return all
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// refFile is an entry of drawings/dxf/refs.json; the README beside it says
// what the values mean.
type refFile struct {
	Use   string
	Truth struct {
		Length        *float64
		LengthAll     *float64  `json:"length_all"`
		LengthVisible *float64  `json:"length_visible"`
		LengthModel   *float64  `json:"length_model"`
		Length2D      *float64  `json:"length_2d"`
		LengthMin     *float64  `json:"length_min"`
		Raw           *float64  `json:"raw_length"`
		Box           []float64 `json:"bbox"`
		BoxAll        []float64 `json:"bbox_all"`
		BoxModel      []float64 `json:"bbox_model"`
		Box2D         []float64 `json:"bbox2d"`
		Area          *float64
		Closed        *int
		Layer         string
		MM            *float64 `json:"mm_per_unit"`
		Through       [][2]float64
		Unknown       int
	}
	Raw struct {
		Entities map[string]int `json:"entities_section"`
	}
	Ezdxf struct {
		Length        float64   `json:"curve_length_total"`
		Box           []float64 `json:"curve_bbox"`
		LengthVisible float64   `json:"visible_length"`
		BoxVisible    []float64 `json:"visible_bbox"`
	}
	Scipy struct {
		Splines []struct {
			Length float64
			Box    []float64 `json:"bbox"`
		}
	}
}

func refFiles(t testing.TB) map[string]refFile {
	t.Helper()
	data, err := os.ReadFile(reference.Path(t, "drawings", "dxf", "refs.json"))
	if err != nil {
		t.Fatal(err)
	}
	var refs map[string]refFile
	if err := json.Unmarshal(data, &refs); err != nil {
		t.Fatal(err)
	}
	return refs
}

func refData(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(reference.Path(t, "drawings", "dxf", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func readRef(t testing.TB, name string, opt dxf.Options) *drawing.Drawing {
	t.Helper()
	d, err := dxf.Read(t.Context(), bytes.NewReader(refData(t, name)), opt)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return d
}
