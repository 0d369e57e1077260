package dxf_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/reference"
)

// small keeps one run of the fuzzer short.
var small = dxf.Limits{Entities: 2000, Segments: 20000, Expansions: 2000, Depth: 8, Line: 1 << 16}

// FuzzRead reads anything, and writes and reads again what it got: the shapes
// must come back with the same length and box.
func FuzzRead(f *testing.F) {
	for _, text := range seeds() {
		f.Add(text)
	}
	reference.Seeds(f, "drawings", "dxf")
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, opt := range []dxf.Options{{Limits: small}, {Limits: small, KeepHidden: true}} {
			d, err := dxf.Read(t.Context(), bytes.NewReader(data), opt)
			if err != nil {
				continue
			}
			checkSound(t, d)
			rewrite(t, d)
		}
	})
}

// seeds have one of each construct that the reader treats in its own way, as
// text and as both forms of binary.
func seeds() [][]byte {
	texts := []string{
		file("TABLE 2=LAYER LAYER 2=CUT 70=0 62=-1 420=255 ENDTAB", "BLOCK 2=B 10=0 20=0 LINE 8=0 10=0 20=0 11=1 21=0 ENDBLK", "INSERT 2=B 70=2 71=2 44=1 45=1 210=0.6 230=0.8 10=0 20=0"+square),
		file("", "", "SPLINE 71=2 40=0 40=0 40=0 40=1 40=1 40=1 10=0 20=0 41=1 10=1 20=1 41=2 10=2 20=0 41=1 SPLINE 71=3 70=1 11=0 21=0 11=1 21=1 11=2 21=0 ELLIPSE 10=0 20=0 11=5 21=0 40=0.5 41=1 42=4"),
		file("", "", "POLYLINE 70=5 VERTEX 10=0 20=0 70=16 VERTEX 10=1 20=0 42=1 VERTEX 10=1 20=1 SEQEND HATCH 91=1 92=1 93=1 72=2 10=0 20=0 40=1 50=0 51=9 75=0 IMAGE 10=0 20=0 11=1 21=0"),
	}
	var all [][]byte
	for _, text := range texts {
		all = append(all, []byte(text), binaryOf(text, true), binaryOf(text, false))
	}
	return all
}

// TestRewriteReferenceFiles: every file of the reference material gives a sound
// drawing that comes back from a file of ours.
func TestRewriteReferenceFiles(t *testing.T) {
	for name := range refFiles(t) {
		d := readRef(t, name, dxf.Options{KeepHidden: true})
		checkSound(t, d)
		rewrite(t, d)
	}
}

// checkSound checks what holds for every drawing.
func checkSound(t *testing.T, d *drawing.Drawing) {
	if _, err := json.Marshal(d); err != nil {
		t.Fatal(err)
	}
	segments := 0
	for i, s := range d.Shapes {
		for _, p := range s.Paths {
			segments += len(p.Segments)
			if p.Empty() || !p.Finite() || p.Closed && p.End() != p.Start {
				t.Fatalf("shape %d, %s: unsound path %v", i, s.Source, p)
			}
		}
		if s.Stroke == nil || s.Layer == "" && len(d.Layers) == 0 {
			t.Fatalf("shape %d, %s, has no paint", i, s.Source)
		}
	}
	if segments > small.Segments || len(d.Shapes) > small.Entities+small.Expansions {
		t.Fatalf("%d shapes with %d segments pass the limits", len(d.Shapes), segments)
	}
	for _, f := range d.Notes {
		if f.Count < len(f.Places) || f.Code == drawing.EmptyDrawing && len(d.Shapes) > 0 {
			t.Fatalf("note %+v", f)
		}
	}
}

// rewrite writes every path of d and reads it again.
func rewrite(t *testing.T, d *drawing.Drawing) {
	var l dxf.Layer
	for _, s := range d.Shapes {
		l.Paths = append(l.Paths, s.Paths...)
	}
	var b bytes.Buffer
	if err := dxf.Write(&b, dxf.Millimetres, l); err != nil {
		t.Fatal(err)
	}
	again, err := dxf.Read(t.Context(), &b, dxf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(again.Shapes) != len(d.Shapes) {
		t.Fatalf("%d shapes come back of %d; %v", len(again.Shapes), len(d.Shapes), codes(again))
	}
	for i, s := range again.Shapes {
		was := d.Shapes[i].Bounds()
		size := was.Width() + was.Height()
		if is := s.Bounds(); is.Min.Dist(was.Min)+is.Max.Dist(was.Max) > 1e-6*size+1e-9*(was.Min.Norm()+was.Max.Norm()) {
			t.Fatalf("shape %d, %s: box %v comes back as %v", i, d.Shapes[i].Source, was, is)
		}
	}
}

// TestCutAnywhere cuts a sound file after every byte. Whatever is left must
// read without a panic and hold shapes of the whole file only, among them all
// before the last that was begun; the loss must be found.
func TestCutAnywhere(t *testing.T) {
	var text strings.Builder
	for i := range 4 {
		fmt.Fprintf(&text, "LINE 8=0 10=%d 20=0 11=%d 21=1 ", i, i)
	}
	shapes := square + "ARC 8=0 10=5 20=5 40=2 50=0 51=90 POLYLINE 8=0 70=1 VERTEX 10=0 20=0 VERTEX 10=3 20=0 VERTEX 10=0 20=4 SEQEND" +
		" ELLIPSE 8=0 10=0 20=0 11=5 21=0 40=0.5 41=0 42=3 SPLINE 8=0 71=1 72=4 73=2 74=0 40=0 40=0 40=1 40=1 10=0 20=0 10=7 20=7 "
	whole := file("", "", text.String()+shapes+square)
	want := read(t, whole, dxf.Options{}).Shapes
	for n := range len(whole) - 1 {
		d, err := dxf.Read(t.Context(), strings.NewReader(whole[:n]), dxf.Options{})
		if err != nil {
			continue
		}
		if len(d.Notes) == 0 {
			t.Fatalf("cut after byte %d: nothing found", n)
		}
		lines, complete := strings.Count(whole[:n], "\n"), 0
		for i := 1; i < len(want); i++ {
			if lines > want[i].Source.Line { // the next entity has begun
				complete = i
			}
		}
		if len(d.Shapes) < complete {
			t.Fatalf("cut after byte %d: %d shapes, %d were complete", n, len(d.Shapes), complete)
		}
		for i, s := range d.Shapes {
			if s.Paths[0].String() != want[i].Paths[0].String() {
				t.Fatalf("cut after byte %d: shape %d is %v, want %v", n, i, s.Paths[0], want[i].Paths[0])
			}
		}
	}
}

// streams are n entities each that are not kept.
func streams(n int) map[string]func() io.Reader {
	head := groups("SECTION 2=TABLES TABLE 2=LAYER LAYER 2=OFF 62=-1 ENDTAB ENDSEC SECTION 2=ENTITIES")
	all := map[string]func() io.Reader{}
	for name, entity := range map[string]string{
		"hidden": "LINE 8=OFF 10=0 20=0 11=1 21=1", "text": "TEXT 8=0 10=0 20=0 1=hello", "paper": "CIRCLE 67=1 10=0 20=0 40=1",
		"points": "POINT 10=0 20=0", "broken": "LINE 10=x 20=0", "nothing": "LINE 10=1 20=1 11=1 21=1",
	} {
		all[name] = func() io.Reader {
			return &repeated{head: []byte(head), body: []byte(groups(entity)), times: n, tail: []byte(groups("ENDSEC EOF"))}
		}
	}
	return all
}

// TestStreaming: entities that are not kept cost no memory, however many.
func TestStreaming(t *testing.T) {
	const n = 200000
	for name, open := range streams(n) {
		src := open()
		var d *drawing.Drawing
		bytes := allocated(func() {
			var err error
			if d, err = dxf.Read(t.Context(), src, dxf.Options{}); err != nil {
				t.Fatal(err)
			}
		})
		if len(d.Shapes) != 0 || d.Notes[0].Count != n {
			t.Errorf("%s: %d shapes, notes %v", name, len(d.Shapes), d.Notes)
		}
		if bytes > 4<<20 {
			t.Errorf("%s: %d bytes allocated for %d entities", name, bytes, n)
		}
	}
}
