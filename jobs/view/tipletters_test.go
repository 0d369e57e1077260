package view_test

import (
	"bytes"
	"flag"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/reference"
)

var (
	iconsDir = flag.String("icons", "", "folder of SVG files, of which 200 are cut instead of a sample of the reference drawings")
	facesDir = flag.String("faces", "", "folder of TrueType files, of which all ASCII letters are cut instead of a sample")
)

// glyphs are the outlines of letters of five faces, 12 mm to the em.
func glyphs(t *testing.T) []geometry.Path {
	t.Helper()
	var all []geometry.Path
	if *facesDir != "" {
		return allGlyphs(t, *facesDir)
	}
	for i, data := range [][]byte{goregular.TTF, gobold.TTF, goitalic.TTF, gomono.TTF, gosmallcaps.TTF} {
		face, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range "ABGJQRSWagkqsxyz&58@"[i:] {
			all = append(all, glyph(t, face, r)...)
		}
	}
	return all
}

// allGlyphs are those of every face in a folder.
func allGlyphs(t *testing.T, dir string) []geometry.Path {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.ttf"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no faces in %s: %v", dir, err)
	}
	var all []geometry.Path
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		face, err := sfnt.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		for r := '!'; r <= '~'; r++ {
			all = append(all, glyph(t, face, r)...)
		}
	}
	return all
}

func glyph(t *testing.T, face *sfnt.Font, r rune) []geometry.Path {
	t.Helper()
	var buf sfnt.Buffer
	i, err := face.GlyphIndex(&buf, r)
	if err != nil {
		t.Fatal(err)
	}
	const em = 12
	segs, err := face.LoadGlyph(&buf, i, fixed.I(int(face.UnitsPerEm())), nil)
	if err != nil {
		t.Fatal(err)
	}
	at := func(p fixed.Point26_6) geometry.Point {
		k := em / 64. / float64(face.UnitsPerEm())
		return geometry.Pt(float64(p.X)*k, -float64(p.Y)*k)
	}
	var all []geometry.Path
	for _, s := range segs {
		if s.Op == sfnt.SegmentOpMoveTo {
			all = append(all, geometry.Path{Start: at(s.Args[0])})
			continue
		}
		p := &all[len(all)-1]
		from := p.End()
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			p.Segments = append(p.Segments, geometry.LineTo(at(s.Args[0])))
		case sfnt.SegmentOpQuadTo:
			c, end := at(s.Args[0]), at(s.Args[1])
			p.Segments = append(p.Segments, geometry.CubicTo(from.Lerp(c, 2./3), end.Lerp(c, 2./3), end))
		case sfnt.SegmentOpCubeTo:
			p.Segments = append(p.Segments, geometry.CubicTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2])))
		}
	}
	for i := range all {
		all[i].Close()
	}
	return all
}

// icons are the lines of 200 drawings of a folder, or of all that are small enough of the
// reference folder, 24 mm large.
func icons(t *testing.T) []geometry.Path {
	t.Helper()
	root, least, most := *iconsDir, 200, 200
	if root == "" {
		root, least, most = reference.Path(t, "drawings", "svg"), 100, math.MaxInt
	}
	var all []geometry.Path
	files := 0
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".svg") || files == most {
			return err
		}
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		read, err := svg.Read(t.Context(), bytes.NewReader(data), svg.Options{})
		if err != nil {
			return nil
		}
		var own []geometry.Path
		box := geometry.EmptyBox()
		segments := 0
		for _, s := range read.Shapes {
			for _, p := range s.Paths {
				if !p.Empty() && p.Finite() {
					own, box = append(own, p), box.Union(p.Bounds())
					segments += len(p.Segments)
				}
			}
		}
		if k := 24 / math.Max(box.Width(), box.Height()); k > 0 && !math.IsInf(k, 0) && segments < 3000 {
			files++
			for _, p := range own {
				all = append(all, p.Transform(geometry.Scale(k, k)))
			}
		}
		return nil
	})
	if err != nil || files < least {
		t.Fatalf("%d drawings: %v", files, err)
	}
	return all
}
