package tour_test

import (
	"flag"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/geometry/motion"
	"knifedesk/geometry/tour"
)

var loadsOf = flag.Int("loads", 0, "real loads that are ordered with 100 times the moves too; 0: two, with 8 times")

// Loads of real drawings are ordered within 1 % of what far more moves find, in the mean (the
// bound is the workshop's wish): the outlines of drawings of the reference folder, in rows of copies, what is held
// before what holds it, entered at their vertices.
func TestLoadsNearLongSearches(t *testing.T) {
	cost := motion.Axes{TravelMMS: 200, AccelMMS2: 1000}.Travel()
	sum, worst, count := 0.0, 0.0, 0
	loads, times := 2, 8
	if *loadsOf > 0 {
		loads, times = *loadsOf, 100
	}
	for name, stops := range realLoads(t, loads) {
		path := tour.Through(nil, stops, geometry.Point{}, cost)
		inOrder(t, stops, path)
		taken := tour.Length(stops, path, geometry.Point{}, cost)
		long := tour.Length(stops, tour.ThroughLonger(stops, geometry.Point{}, cost, times), geometry.Point{}, cost)
		over := 100 * (taken/long - 1)
		t.Logf("%-50s %4d strokes, %.3f s, %+.2f %%", name, len(stops), taken, over)
		sum, worst, count = sum+over, max(worst, over), count+1
	}
	t.Logf("%d loads: mean %.2f %%, worst %.2f %%", count, sum/float64(count), worst)
	if count == 0 || sum/float64(count) > 1 {
		t.Errorf("the mean of %d loads is %.2f %% above", count, sum/float64(count))
	}
}

// realLoads returns the strokes of so many drawings, by name.
func realLoads(t *testing.T, most int) map[string][]tour.Stop {
	t.Helper()
	all := map[string][]tour.Stop{}
	load := func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || len(all) == most {
			return err
		}
		f, err := os.Open(file)
		if err != nil {
			return err
		}
		defer f.Close()
		var read *drawing.Drawing
		switch filepath.Ext(file) {
		case ".svg":
			read, err = svg.Read(t.Context(), f, svg.Options{})
		case ".dxf":
			read, err = dxf.Read(t.Context(), f, dxf.Options{})
		}
		if err != nil || read == nil {
			return nil
		}
		var paths []geometry.Path
		box := geometry.EmptyBox()
		for _, s := range read.Shapes {
			for _, p := range s.Paths {
				if !p.Empty() && p.Finite() {
					paths, box = append(paths, p), box.Union(p.Bounds())
				}
			}
		}
		k := 60 / math.Max(box.Width(), box.Height())
		copies := 60 / max(1, len(paths))
		if !(k > 0 && k < 1e6) || len(paths) < 4 || copies == 0 {
			return nil
		}
		all[filepath.Base(file)] = loadOf(paths, geometry.Translate(-box.Min.X, -box.Min.Y).Then(geometry.Scale(k, k)), copies)
		return nil
	}
	for _, folder := range []string{"svg", "dxf"} {
		if err := filepath.WalkDir(reference.Path(t, "drawings", folder), load); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// loadOf returns the strokes of copies in rows.
func loadOf(paths []geometry.Path, onto geometry.Affine, copies int) []tour.Stop {
	var stops []tour.Stop
	for c := range copies {
		at := onto.Then(geometry.Translate(float64(c%5)*65, float64(c/5)*65))
		contours := make([]tour.Contour, len(paths))
		first := len(stops)
		for i, p := range paths {
			p = p.Transform(at)
			contours[i] = tour.NewContour(nil, p)
			s := tour.Stop{Closed: p.Closed, Entries: []geometry.Point{p.Start, p.End()}}
			if p.Closed {
				s.Entries = s.Entries[:1]
				for _, one := range p.Segments[:min(len(p.Segments), 30)] {
					s.Entries = append(s.Entries, one.End)
				}
			}
			stops = append(stops, s)
		}
		for i, holder := range tour.Holders(nil, contours) {
			if holder >= 0 {
				stops[first+i].After = append(stops[first+i].After, first+holder)
			}
		}
	}
	return stops
}
