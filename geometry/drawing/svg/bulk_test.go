package svg_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/bulk"
	"knifedesk/geometry/geometrytest/reference"
)

// Source: the acceptance line on the bulk run: at least 15,000 foreign files,
// no panic, and no file without shapes that does not say why.
func TestBulk(t *testing.T) {
	files := bulk.Files(t, ".svg")
	var sum bulk.Tally
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		sum.Try(t, path, func() { bulkRead(t, path, data, &sum) })
	}
	t.Logf("%s", &sum)
	if len(files) < 15_000 {
		t.Errorf("only %d files", len(files))
	}
	for _, slow := range sum.Over(2 * time.Second) {
		t.Error(slow)
	}
}

func bulkRead(t *testing.T, path string, data []byte, sum *bulk.Tally) {
	d, err := svg.Read(t.Context(), bytes.NewReader(data), svg.Options{})
	if err != nil {
		sum.Count("refused", path)
		var parse *svg.ParseError
		if !errors.As(err, &parse) {
			t.Errorf("%s: an untyped error: %v", bulk.Short(path), err)
		}
		return
	}
	if !svg.Sniff(data[:min(len(data), 4096)]) {
		t.Errorf("%s: not recognised", bulk.Short(path))
	}
	var words []string
	for _, n := range d.Notes {
		words = append(words, string(n.Code))
	}
	sum.Each(words, path)
	if len(d.Shapes) == 0 && len(d.Notes) == 0 {
		t.Errorf("%s: nothing was read and nothing is said", bulk.Short(path))
	}
	for _, s := range d.Shapes {
		for _, p := range s.Paths {
			if !p.Finite() {
				t.Errorf("%s: %v: %v", bulk.Short(path), s.Source, p)
			}
		}
	}
}

// sampled is how many boxes are compared.
const sampled = 500

// Source: librsvg 2.54 (Debian), which draws the file into a PDF; the box is
// that of the painted outlines in it, without the width of strokes. The
// tolerance is what that picture strays by itself: coordinates lie on a grid of
// 1/256 of a pixel of the enlarged picture and are written to about as much,
// and an arc of a quarter turn as one cubic strays by 2.73e-4 of its radius
// (the known error of four cubics to the circle; where the two differ by that,
// the extents of an ellipse, worked out by hand, are the reader's).
func TestBulkBoxes(t *testing.T) {
	files := bulk.Sample(bulk.Files(t, ".svg"), sampled)
	tool := reference.Tool(t, "rsvg-convert")
	var sum bulk.Tally
	worst, compared := 0.0, 0
	for _, path := range files {
		sum.Try(t, path, func() {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			got := open(t, path, svg.Options{})
			if got.Page == nil || got.Bounds().Empty() {
				sum.Count("without a page or shapes", path)
				return
			}
			zoom := enlarged / math.Max(got.Page.Width(), got.Page.Height())
			want := painted(t, tool, path, zoom)
			off := farthestSide(got.Bounds(), want)
			radius := widestArc(got)
			if elliptical.Match(data) {
				radius = math.Max(radius, enlarged/zoom/2)
			}
			tolerance := 2.73e-4*radius + 2/zoom/256
			worst = math.Max(worst, off*zoom/enlarged)
			compared++
			if off > tolerance {
				sum.Count("box differs", path)
				t.Errorf("%s: box %v, librsvg %v: %.3g px apart", bulk.Short(path), got.Bounds(), want, off)
				return
			}
			sum.Count("box agrees", path)
		})
	}
	t.Logf("worst difference %.2g of the page\n%s", worst, &sum)
	if compared < len(files)*95/100 {
		t.Errorf("only %d of %d boxes could be compared", compared, len(files))
	}
}

// enlarged is how many pixels the longer side of a picture has.
const enlarged = 4096

// elliptical finds arcs that the reader returns as cubics. Their radius is
// taken for half the page at most.
var elliptical = regexp.MustCompile(`\sd="[^"]*[Aa]|<ellipse|\sr[xy]="`)

// painted returns the box of what librsvg paints, in the pixels of the file.
func painted(t *testing.T, tool, path string, zoom float64) geometry.Box {
	t.Helper()
	cmd := exec.Command(tool, "--format=pdf", "--unlimited", "--zoom="+strconv.FormatFloat(zoom, 'g', -1, 64), filepath.Clean(path))
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: rsvg-convert: %v", bulk.Short(path), err)
	}
	d, err := pdf.Read(t.Context(), bytes.NewReader(out), pdf.Options{})
	if err != nil {
		t.Fatalf("%s: what rsvg-convert made: %v", bulk.Short(path), err)
	}
	scale := 1 / (zoom * 0.75) // a pixel is 3/4 of a point
	b := d.Bounds()
	return geometry.BoxAround(geometry.Pt(b.Min.X*scale, b.Min.Y*scale), geometry.Pt(b.Max.X*scale, b.Max.Y*scale))
}

// farthestSide is the largest distance between a side of a and that of b.
func farthestSide(a, b geometry.Box) float64 {
	return max(math.Abs(a.Min.X-b.Min.X), math.Abs(a.Min.Y-b.Min.Y), math.Abs(a.Max.X-b.Max.X), math.Abs(a.Max.Y-b.Max.Y))
}

// widestArc is the largest radius in d, 0 where all is straight or cubic.
func widestArc(d *drawing.Drawing) float64 {
	r := 0.0
	for _, s := range d.Shapes {
		for _, p := range s.Paths {
			from := p.Start
			for _, seg := range p.Segments {
				if seg.Kind == geometry.Arc {
					_, radius, _, _ := geometry.ArcCircle(from, seg)
					r = math.Max(r, radius)
				}
				from = seg.End
			}
		}
	}
	return r
}
