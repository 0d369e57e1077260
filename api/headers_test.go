package api

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"knifedesk/db"
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// How long a request may wait, as RFC 7240 writes it, at most a minute.
func TestPreferToWait(t *testing.T) {
	for header, want := range map[string]time.Duration{
		"": 0, "wait=5": 5 * time.Second, "respond-async, WAIT = \"7\"": 7 * time.Second, "wait=1; x": time.Second, "wait=61": time.Minute, "wait=60": time.Minute,
		"wait=0": 0, "wait=-3": 0, "wait=soon": 0, "wait": 0, "hurry=5": 0, "wait=soon, wait=4": 4 * time.Second,
	} {
		if got := preferWait(header); got != want {
			t.Errorf("%q waits %v, want %v", header, got, want)
		}
	}
}

// Which tags a client has, by the weak comparison of RFC 9110, 8.8.3.2.
func TestTagsThatAClientHas(t *testing.T) {
	for header, want := range map[string]bool{`"a"`: true, `W/"a"`: true, `"b", "a"`: true, `"b",W/"a"`: true, "*": true, "": false, `"b"`: false, `a`: false, `"aa"`: false} {
		if got := hasTag(header, `"a"`); got != want {
			t.Errorf("%s: %t", header, got)
		}
	}
}

// The fields of a form are read as what they are, and the first that is wrong is
// told.
func TestFieldsOfAForm(t *testing.T) {
	for _, c := range []struct {
		name string
		read func(f *form) any
		text string
		want any
		ok   bool
	}{
		{"number", func(f *form) any { return f.number("x", 10) }, "2.5", 2.5, true},
		{"the largest number", func(f *form) any { return f.number("x", 10) }, "10", 10.0, true},
		{"too large a number", func(f *form) any { return f.number("x", 10) }, "10.5", 10.5, false},
		{"nothing as a number", func(f *form) any { return f.number("x", 10) }, "0", 0.0, false},
		{"a number below 1", func(f *form) any { return f.number("x", 10) }, "0.5", 0.5, true},
		{"no number", func(f *form) any { return f.number("x", 10) }, "", 0.0, true},
		{"a hexadecimal number", func(f *form) any { return f.number("x", 10) }, "0x1p1", 2.0, false},
		{"a number with a low line", func(f *form) any { return f.number("x", 10) }, "1_0", 10.0, false},
		{"whole", func(f *form) any { return f.whole("x") }, "3", 3, true},
		{"the least whole", func(f *form) any { return f.whole("x") }, "1", 1, true},
		{"none", func(f *form) any { return f.whole("x") }, "0", 0, false},
		{"not given", func(f *form) any { return f.whole("x") }, "", 0, true},
		{"half", func(f *form) any { return f.whole("x") }, "0.5", 0, false},
		{"true", func(f *form) any { return f.choice("x") }, "true", ptr(true), true},
		{"false", func(f *form) any { return f.choice("x") }, "false", ptr(false), true},
		{"left open", func(f *form) any { return f.choice("x") }, "", (*bool)(nil), true},
		{"perhaps", func(f *form) any { return f.choice("x") }, "perhaps", (*bool)(nil), false},
		{"as long as may be", func(f *form) any { return f.short("x", 3) }, "äöü", "äöü", true},
		{"too long", func(f *form) any { return f.short("x", 3) }, "abcd", "abcd", false},
	} {
		f := &form{values: map[string][]string{"x": {c.text}}}
		if got := c.read(f); !cmp.Equal(got, c.want) || (f.err == nil) != c.ok {
			t.Errorf("%s: %q is read as %v, error %v", c.name, c.text, got, f.err)
		}
	}
}

// A width or a height may be known, and not both; answers come each once.
func TestLengthsAndAnswersOfAForm(t *testing.T) {
	for _, c := range []struct {
		width, height string
		want          *size.KnownLength
		ok            bool
	}{
		{"60", "", &size.KnownLength{Of: size.Width, MM: 60}, true}, {"", "70", &size.KnownLength{Of: size.Height, MM: 70}, true},
		{"60", "70", nil, false}, {"", "", nil, true}, {"100000", "", &size.KnownLength{Of: size.Width, MM: 100000}, true}, {"100001", "", &size.KnownLength{Of: size.Width, MM: 100001}, false},
	} {
		f := &form{values: map[string][]string{"width_mm": {c.width}, "height_mm": {c.height}}}
		if diff := cmp.Diff(c.want, f.knownLength()); diff != "" || (f.err == nil) != c.ok {
			t.Errorf("%q by %q: error %v\n%s", c.width, c.height, f.err, diff)
		}
	}
	f := &form{values: map[string][]string{repeatable: {"a/b=yes", "c=length:12.5"}}}
	want := ask.Replies{"a/b": {Answer: "yes"}, "c": {Answer: "length", MM: 12.5}}
	if diff := cmp.Diff(want, f.replies()); diff != "" || f.err != nil {
		t.Errorf("%v\n%s", f.err, diff)
	}
	f.values[repeatable] = []string{"a/b=yes", "a/b=no"}
	if f.replies(); f.err == nil {
		t.Error("a question is answered twice")
	}
}

// A drawing is summed up: its shapes by layer and by the colour that is seen, its
// size in mm only where the file states its unit.
func TestDrawingIsSummedUp(t *testing.T) {
	red, blue := drawing.Colour{R: 255}, drawing.Colour{B: 255}
	line := func(x float64) []geometry.Path {
		return []geometry.Path{geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(x, 3))}
	}
	d := &read.Result{Drawing: drawing.Drawing{
		Format: "svg", Unit: drawing.Unit{Name: "in", MM: 25.4, Declared: true},
		Layers: []drawing.Layer{{Name: "cut", Colour: &red}, {Name: "off", Off: true}, {Name: "frozen", Frozen: true, Locked: true}},
		Shapes: []drawing.Shape{{Layer: "cut", Stroke: &red, Fill: &blue, Paths: line(2)}, {Layer: "cut", Fill: &blue, Paths: line(1)}, {Layer: "off", Stroke: &red}, {Layer: "cut"}},
	}}
	stored := db.Drawing{ID: uuid.UUID{9}, Name: "a.svg", Bytes: 77, Hash: []byte{0xab, 0x01}}
	got := showDrawing(stored, d)
	if got.ID != stored.ID || got.Name != "a.svg" || got.Bytes != 77 || got.Sha256 != "ab01" || got.Shapes != 4 || got.Format != "svg" {
		t.Errorf("%+v", got)
	}
	if diff := cmp.Diff([]LayerUse{{Name: "cut", Shapes: 3, Colour: "#ff0000"}, {Name: "off", Shapes: 1, Hidden: true}, {Name: "frozen", Hidden: true, Locked: true}}, got.Layers); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]ColourUse{{Colour: "#0000ff", Shapes: 1}, {Colour: "#ff0000", Shapes: 2}}, got.Colours); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]float64{50.8, 76.2}, got.StatedMM, cmp.Comparer(func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 })); diff != "" || got.Extents == nil || got.Extents.Max != (Point{X: 2, Y: 3}) {
		t.Errorf("%+v\n%s", got.Extents, diff)
	}
	d.Unit.Declared = false
	if got := showDrawing(stored, d); got.StatedMM != nil || got.Extents == nil {
		t.Errorf("without a unit: %v mm, %v", got.StatedMM, got.Extents)
	}
	d.Shapes = nil
	if got := showDrawing(stored, d); got.Extents != nil || got.Shapes != 0 {
		t.Errorf("of nothing: %v", got.Extents)
	}
}
