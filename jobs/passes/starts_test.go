package passes_test

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/glyph"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
)

// Where contours begin, counted on letters of five faces, on icons and on shapes: on
// film no start lies on a corner, on card none on a corner that juts into what is kept
// (common practice, no source). What is a corner is seen by chords of the run as it is
// traced, a hundredth of a millimetre each way, and not by what chose it.
func TestStarts(t *testing.T) {
	sets := map[string][]geometry.Path{"icons": icons(t), "shapes": {
		path(t, "M0 0H40V20H0Z"), path(t, "M50 0L59 0L54 3L53 9Z"), path(t, "M70 0H90V20H80V10H70Z"), path(t, "M100 5A5 5 0 0 1 110 5A5 5 0 0 1 100 5Z"), path(t, "M120 0H129V9A9 9 0 0 1 120 0Z"),
		path(t, "M0 50H40V90H0Z"), path(t, "M10 60V80H30V60Z"), path(t, "M20 62L25 70L20 68L15 70Z"),
	}}
	for name, data := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF, "mono": gomono.TTF, "small caps": gosmallcaps.TTF} {
		face, err := glyph.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		paths, _, err := face.Word("ABGJRSVag&58", 20)
		if err != nil {
			t.Fatal(err)
		}
		sets[name] = paths
	}
	for name, paths := range sets {
		for _, op := range []artwork.Operation{artwork.KissCut, artwork.ThroughCut} {
			corners, reflex, all := 0, 0, 0
			for _, s := range startsIn(t, paths, op) {
				all++
				if math.Abs(s.turn) > 25 {
					corners++
					if s.turn < 0 == (s.depth%2 == 0) {
						reflex++
					}
				}
			}
			t.Logf("%-10s %-11s %4d contours, %4d begun on corners, %d of them reflex", name, op, all, corners, reflex)
			if all == 0 || op == artwork.KissCut && corners > 0 || reflex > 0 {
				t.Errorf("%s: %s begins %d of %d contours on corners, %d of them reflex", name, op, corners, all, reflex)
			}
			if op == artwork.ThroughCut && name == "bold" && corners < all/4 {
				t.Errorf("%d of %d contours in card begin on corners that jut out", corners, all)
			}
		}
	}
}

// begun is the start of a contour: its turn there, in degrees, to the side of what it
// encloses, and how many others hold it.
type begun struct {
	turn  float64
	depth int
}

// startsIn returns where the contours of drawings that lie apart are begun.
func startsIn(t *testing.T, paths []geometry.Path, op artwork.Operation) []begun {
	t.Helper()
	var strokes []artwork.Stroke
	for _, p := range paths {
		if p.Closed && math.Abs(p.Area()) > 0.5 {
			strokes = append(strokes, artwork.Stroke{Path: p, Operation: op})
		}
	}
	j := oneLoad(t, strokes...)
	if op == artwork.ThroughCut {
		j.req = jobOn(t, "card-160-a4", 1, square(op, 0, 0, 9)).req
	}
	j.layout = &layout.Layout{Loads: []layout.Load{{Number: 1, Placements: []layout.Placement{{Copy: 1, Transform: geometry.Identity}}}}}
	outlines := make([][]geometry.Point, len(strokes))
	for i := range strokes {
		outlines[i] = strokes[i].Path.Flatten(0.02)
	}
	var all []begun
	for _, run := range j.order(t).Loads[0].Passes[0].Runs {
		own := &strokes[run.Stroke].Path
		depth, crosses := 0, false
		for k := range strokes {
			if k == run.Stroke || math.Abs(strokes[k].Path.Area()) <= math.Abs(own.Area()) || !strokes[k].Path.Bounds().Overlaps(own.Bounds()) {
				continue
			}
			in, off := 0, math.Inf(1)
			for _, p := range outlines[run.Stroke] {
				if holds(outlines[k], p) {
					in++
				}
				for i, q := range outlines[k][1:] {
					off = math.Min(off, offChord(p, outlines[k][i], q))
				}
			}
			crosses = crosses || off < 0.2
			if in == len(outlines[run.Stroke]) && strokes[k].Path.Bounds().ContainsBox(own.Bounds()) {
				depth++
			} else {
				crosses = crosses || in > 0
			}
		}
		if !crosses { // one that crosses or touches another has no side that is kept
			all = append(all, begun{turnAt(passes.Trace(run, strokes, j.layout)), depth})
		}
	}
	return all
}

// offChord is how far p lies from the line from a to b.
func offChord(p, a, b geometry.Point) float64 {
	t := p.Sub(a).Dot(b.Sub(a)) / math.Max(b.Sub(a).Dot(b.Sub(a)), 1e-12)
	return p.Dist(a.Lerp(b, math.Max(0, math.Min(1, t))))
}

// holds says by the even-odd rule whether a point lies in a contour of such corners.
func holds(pts []geometry.Point, p geometry.Point) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// turnAt is the turn of a contour at its start, to the side of what it encloses.
func turnAt(path geometry.Path) float64 {
	pts := path.Flatten(1e-4)
	const beside = 0.01
	after, before := pts[1], pts[len(pts)-2]
	for i := 1; i < len(pts)-1 && after.Dist(path.Start) < beside; i++ {
		after = pts[i]
	}
	for i := len(pts) - 2; i > 0 && before.Dist(path.Start) < beside; i-- {
		before = pts[i]
	}
	in, out := path.Start.Sub(before), after.Sub(path.Start)
	return math.Atan2(in.Cross(out), in.Dot(out)) * 180 / math.Pi * math.Copysign(1, path.Area())
}

// icons are the filled outlines of 40 drawings of the reference folder, 24 mm large and
// apart.
func icons(t *testing.T) []geometry.Path {
	t.Helper()
	var all []geometry.Path
	files := 0
	err := filepath.WalkDir(reference.Path(t, "drawings", "svg"), func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".svg") || files == 40 {
			return err
		}
		f, err := os.Open(file)
		if err != nil {
			return err
		}
		defer f.Close()
		read, err := svg.Read(t.Context(), f, svg.Options{})
		if err != nil {
			return nil
		}
		box, segments := geometry.EmptyBox(), 0
		for _, s := range read.Shapes {
			for _, p := range s.Paths {
				box, segments = box.Union(p.Bounds()), segments+len(p.Segments)
			}
		}
		k := 24 / math.Max(box.Width(), box.Height())
		if !(k > 0 && k < 1e6) || segments > 500 {
			return nil
		}
		onto := geometry.Translate(-box.Min.X, -box.Min.Y).Then(geometry.Scale(k, k)).Then(geometry.Translate(float64(files%10)*30, float64(files/10)*30))
		files++
		for _, s := range read.Shapes {
			for _, p := range s.Paths {
				if p.Closed && !p.Empty() && p.Finite() {
					all = append(all, p.Transform(onto))
				}
			}
		}
		return nil
	})
	if err != nil || files == 0 {
		t.Fatal(fmt.Errorf("%d files: %w", files, err))
	}
	return all
}
