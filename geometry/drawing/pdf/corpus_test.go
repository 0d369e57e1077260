package pdf_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/geometrytest/reference"
)

// refs are the values of one file in reference/drawings/pdf/refs.json.
type refs struct {
	Use         string                      `json:"use"`
	Truth       map[string]json.RawMessage  `json:"truth"`
	MuPDF       struct{ Page []muPage }     `json:"mupdf"`
	Ghostscript struct{ Hires [][]float64 } `json:"ghostscript"`
}

// muPage is one page as MuPDF sees it: points, y down from the top of the page
// as shown, before rotation.
type muPage struct {
	Size     []float64 `json:"size_pt"`
	Rotation int       `json:"rotation"`
	Paths    int       `json:"paths"`
	Length   float64   `json:"length_pt"`
	Box      []float64 `json:"bbox_pt_y_down"`
}

// noPages are the files whose page tree is missing: poppler, MuPDF and
// Ghostscript find no page in them either.
var noPages = []string{"pdfium__circular_viewer_ref.pdf"}

func TestCorpus(t *testing.T) {
	dir := reference.Path(t, "drawings", "pdf")
	data, err := os.ReadFile(filepath.Join(dir, "refs.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]refs
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
	if err != nil || len(files) != len(all) {
		t.Fatalf("%d files, %d with reference values, %v", len(files), len(all), err)
	}
	var table strings.Builder
	for _, path := range files {
		name := filepath.Base(path)
		ref := all[name]
		if slices.Contains(noPages, name) {
			if _, err := read(t, path, pdf.Options{}); !errors.Is(err, pdf.ErrNoPages) {
				t.Errorf("%s: %v", name, err)
			}
			fmt.Fprintf(&table, "%-45s refused: no pages\n", name)
			continue
		}
		for i := range max(1, len(ref.MuPDF.Page)) {
			d, err := read(t, path, pdf.Options{Page: i + 1})
			if err != nil {
				t.Errorf("%s page %d: %v", name, i+1, err)
				continue
			}
			basis := "truth"
			if ref.Use == "truth" {
				truth(t, name, d, ref)
			} else {
				basis = "mupdf"
				againstMuPDF(t, fmt.Sprintf("%s page %d", name, i+1), d, ref.MuPDF.Page[i])
			}
			b := d.Bounds()
			fmt.Fprintf(&table, "%-45s page %2d %9.3f × %9.3f pt, length %10.3f  %s %v\n", name, i+1, b.Width(), b.Height(), length(d), basis, codes(d))
		}
	}
	t.Logf("%d files\n%s", len(files), table.String())
}

func read(t *testing.T, path string, opt pdf.Options) (*drawing.Drawing, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return pdf.Read(t.Context(), f, opt)
}

func length(d *drawing.Drawing) float64 {
	sum := 0.0
	for _, s := range d.Shapes {
		for _, p := range s.Paths {
			sum += p.Length()
		}
	}
	return sum
}

func codes(d *drawing.Drawing) map[string]int {
	m := map[string]int{}
	for _, f := range d.Notes {
		m[string(f.Code)] = f.Count
	}
	return m
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g ± %.2g", what, got, want, tol)
	}
}

// againstMuPDF compares page size, number of paths, box and length. MuPDF
// works in float32.
func againstMuPDF(t *testing.T, name string, d *drawing.Drawing, ref muPage) {
	within(t, name+" width", d.Page.Width(), ref.Size[0], 1e-4)
	within(t, name+" height", d.Page.Height(), ref.Size[1], 1e-4)
	within(t, name+" paths", float64(len(d.Shapes)), float64(ref.Paths), 0)
	if len(d.Shapes) == 0 || len(ref.Box) != 4 {
		return
	}
	b := d.Bounds()
	w, h := d.Page.Width(), d.Page.Height()
	box := map[int]geometry.Box{ // as shown, turned back anticlockwise, y down
		0:   geometry.BoxAround(geometry.Pt(b.Min.X, h-b.Min.Y), geometry.Pt(b.Max.X, h-b.Max.Y)),
		90:  geometry.BoxAround(geometry.Pt(h-b.Min.Y, w-b.Min.X), geometry.Pt(h-b.Max.Y, w-b.Max.X)),
		180: geometry.BoxAround(geometry.Pt(w-b.Min.X, b.Min.Y), geometry.Pt(w-b.Max.X, b.Max.Y)),
		270: geometry.BoxAround(geometry.Pt(b.Min.Y, b.Min.X), geometry.Pt(b.Max.Y, b.Max.X)),
	}[ref.Rotation]
	tol := 1e-6 * math.Max(w, h)
	for i, v := range []float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y} {
		within(t, fmt.Sprintf("%s box[%d]", name, i), v, ref.Box[i], tol)
	}
	within(t, name+" length", length(d), ref.Length, 1e-4*ref.Length)
}

func decode[T any](t *testing.T, raw json.RawMessage) T {
	t.Helper()
	var v T
	if err := json.Unmarshal(raw, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// truth checks what a file made by our own scripts is known to hold, in
// points with y up unless the key says otherwise.
func truth(t *testing.T, name string, d *drawing.Drawing, ref refs) {
	b := d.Bounds()
	// Where the page does not begin at the origin, the truth is in user space.
	origin := map[string]geometry.Point{"own__mediabox-offset.pdf": geometry.Pt(-100, -100)}[name]
	box := func(want []float64) {
		for i, v := range []float64{b.Min.X + origin.X, b.Min.Y + origin.Y, b.Max.X + origin.X, b.Max.Y + origin.Y} {
			within(t, fmt.Sprintf("%s box[%d]", name, i), v, want[i], 1e-6*math.Max(b.Width(), b.Height()))
		}
	}
	checked := 0
	for key, raw := range ref.Truth {
		checked++
		switch key {
		case "bbox_pt", "bbox_user":
			box(decode[[]float64](t, raw))
		case "bbox_pt_media": // the note of the file gives the box as shown
			box([]float64{10, 170, 70, 230})
		case "length_pt":
			within(t, name+" length", length(d), decode[float64](t, raw), 1e-9)
		case "length_pt_approx": // of the circle that the curves stand for
			within(t, name+" length", length(d), decode[float64](t, raw), 3e-4*length(d))
		case "length_mm_approx":
			within(t, name+" length", length(d)*d.Unit.MM, decode[float64](t, raw), 3e-4*length(d))
		case "page_pt", "page_pt_as_shown":
			size := decode[[]float64](t, raw)
			within(t, name+" width", d.Page.Width(), size[0], 1e-9)
			within(t, name+" height", d.Page.Height(), size[1], 1e-9)
		case "page_mm": // the program that made it wrote six decimals of a point
			size := decode[[]float64](t, raw)
			within(t, name+" width", d.Page.Width()*d.Unit.MM, size[0], 1e-5)
			within(t, name+" height", d.Page.Height()*d.Unit.MM, size[1], 1e-5)
		case "parts_pt":
			parts(t, name, d, decode[[][]float64](t, raw), 1, 1e-6)
		case "parts_mm_y_down": // ditto
			parts(t, name, flipped(d), decode[[][]float64](t, raw), d.Unit.MM, 6e-3)
		case "closed", "subpaths_painted", "fill_subpaths":
			within(t, name+" "+key, float64(subpaths(d)), decode[float64](t, raw), 0)
		case "segments":
			within(t, name+" segments", float64(len(d.Shapes[0].Paths[0].Segments)), decode[float64](t, raw), 0)
		default:
			checked--
		}
	}
	if name == "own__truncated.pdf" { // the truth is prose: the square of the other files
		box([]float64{20, 30, 80, 90})
		checked++
	}
	if checked == 0 {
		t.Errorf("%s: nothing is checked", name)
	}
}

func subpaths(d *drawing.Drawing) int {
	n := 0
	for _, s := range d.Shapes {
		n += len(s.Paths)
	}
	return n
}

func flipped(d *drawing.Drawing) *drawing.Drawing {
	out := *d
	out.Shapes = nil
	for _, s := range d.Shapes {
		var paths []geometry.Path
		for _, p := range s.Paths {
			paths = append(paths, p.Transform(geometry.Affine{A: 1, D: -1, F: d.Page.Height()}))
		}
		s.Paths = paths
		out.Shapes = append(out.Shapes, s)
	}
	return &out
}

func parts(t *testing.T, name string, d *drawing.Drawing, want [][]float64, scale, tol float64) {
	if len(d.Shapes) != len(want) {
		t.Errorf("%s: %d shapes, want %d", name, len(d.Shapes), len(want))
		return
	}
	for i, w := range want {
		b := d.Shapes[i].Bounds()
		for j, v := range []float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
			within(t, fmt.Sprintf("%s part %d[%d]", name, i, j), v*scale, w[j], tol)
		}
	}
}
