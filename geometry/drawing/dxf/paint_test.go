package dxf_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/lucasb-eyer/go-colorful"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

// numbered returns the colour that an entity with this colour number gets.
func numbered(t *testing.T, n int) drawing.Colour {
	t.Helper()
	d := entities(t, fmt.Sprintf("LINE 8=0 62=%d 10=0 20=0 11=1 21=0", n))
	return *d.Shapes[0].Stroke
}

// TestColourNumbers checks 1 to 7 against reference/check-values.md, row 26
// (7 is white or black by the ground; here it is the ink), and the wheel of
// the others by its rule: hues in steps of 15°, five brightnesses, full and
// half saturation. Values from memory: 30 is orange, 21 and 250 to 255.
func TestColourNumbers(t *testing.T) {
	for n, want := range map[int]string{
		1: "#ff0000", 2: "#ffff00", 3: "#00ff00", 4: "#00ffff", 5: "#0000ff", 6: "#ff00ff", 7: "#000000",
		10: "#ff0000", 21: "#ff9f7f", 30: "#ff7f00", 90: "#00ff00", 170: "#0000ff", 250: "#333333", 255: "#ffffff",
	} {
		if got := numbered(t, n).String(); got != want {
			t.Errorf("colour %d is %s, want %s", n, got, want)
		}
	}
	// One step of the strongest channel is 60° over the number of steps.
	brightness := []float64{1, 0.65, 0.5, 0.3, 0.15}
	for n := 10; n < 250; n++ {
		c := numbered(t, n)
		h, s, v := colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.Hsv()
		hue := float64(n/10-1) * 15
		away := math.Abs(math.Remainder(h-hue, 360))
		full := 1 - 0.5*float64(n%2)
		if away > 60/(s*v*255) || !near(v, brightness[n%10/2], 1.0/255) || !near(s, full, 1.5/(v*255)) {
			t.Errorf("colour %d is %v: hue %.1f, saturation %.3f, brightness %.3f", n, c, h, s, v)
		}
	}
}

// TestPaint checks where colour, width and dashes come from: the entity, its
// layer, its insert.
func TestPaint(t *testing.T) {
	tables := "TABLE 2=LTYPE LTYPE 2=GAPS 73=2 49=1 49=-1 ENDTAB" +
		" TABLE 2=LAYER LAYER 2=RED 62=1 370=50 LAYER 2=DASH 62=5 6=GAPS LAYER 2=EXACT 62=1 420=66051 ENDTAB"
	blocks := "BLOCK 2=B 10=0 20=0 LINE 8=0 62=0 6=BYBLOCK 370=-2 10=0 20=0 11=1 21=0 ENDBLK"
	for _, c := range []struct {
		entity string
		colour string
		layer  string
		width  float64
		dashed bool
	}{
		{"LINE 8=RED 10=0 20=0 11=1 21=0", "#ff0000", "RED", 0.5, false},
		{"LINE 8=red 62=3 370=25 10=0 20=0 11=1 21=0", "#00ff00", "RED", 0.25, false},
		{"LINE 8=RED 62=256 420=255 10=0 20=0 11=1 21=0", "#0000ff", "RED", 0.5, false},
		{"LINE 8=DASH 10=0 20=0 11=1 21=0", "#0000ff", "DASH", 0, true},
		{"LINE 8=DASH 6=CONTINUOUS 10=0 20=0 11=1 21=0", "#0000ff", "DASH", 0, false},
		{"LINE 8=EXACT 10=0 20=0 11=1 21=0", "#010203", "EXACT", 0, false},
		{"LINE 8=NEW 62=0 10=0 20=0 11=1 21=0", "#000000", "NEW", 0, false},
		{"LINE 10=0 20=0 11=1 21=0", "#000000", "0", 0, false},
		{"INSERT 8=RED 2=B 10=0 20=0", "#ff0000", "RED", 0.5, false},
		{"INSERT 8=DASH 62=2 370=100 2=B 10=0 20=0", "#ffff00", "DASH", 1, true},
		{"LWPOLYLINE 8=RED 43=3 90=2 10=0 20=0 10=9 20=0", "#ff0000", "RED", 3, false},
	} {
		d := read(t, file(tables, blocks, c.entity), dxf.Options{})
		s := d.Shapes[0]
		if s.Stroke.String() != c.colour || s.Layer != c.layer || s.StrokeWidth != c.width || s.Dashed != c.dashed || s.Fill != nil {
			t.Errorf("%s: %s on %q, width %v, dashed %v", c.entity, s.Stroke, s.Layer, s.StrokeWidth, s.Dashed)
		}
	}
}

// TestTablesAfterEntities: the order of the sections does not matter.
func TestTablesAfterEntities(t *testing.T) {
	text := groups("SECTION 2=ENTITIES INSERT 8=CUT 2=B 10=0 20=0 LINE 8=AWAY 10=0 20=0 11=1 21=0 ENDSEC" +
		" SECTION 2=BLOCKS BLOCK 2=B LINE 8=0 10=0 20=0 11=1 21=0 ENDBLK ENDSEC" +
		" SECTION 2=TABLES TABLE 2=LAYER LAYER 2=CUT 62=1 LAYER 2=AWAY 62=-2 ENDTAB ENDSEC EOF")
	d := read(t, text, dxf.Options{})
	if len(d.Shapes) != 1 || d.Shapes[0].Layer != "CUT" || d.Shapes[0].Stroke.String() != "#ff0000" {
		t.Errorf("%d shapes, first %+v", len(d.Shapes), d.Shapes)
	}
}

// Dashes of two lengths, of which one may be a dot, are told from those of one.
func TestDashAndDot(t *testing.T) {
	tables := "TABLE 2=LTYPE LTYPE 2=CENTRE 73=4 49=8 49=-2 49=0 49=-2 LTYPE 2=GAPS 73=2 49=1 49=-1 ENDTAB"
	for name, want := range map[string][2]bool{"CENTRE": {true, true}, "GAPS": {true, false}, "CONTINUOUS": {false, false}} {
		s := read(t, file(tables, "", "LINE 8=0 6="+name+" 10=0 20=0 11=1 21=0"), dxf.Options{}).Shapes[0]
		if [2]bool{s.Dashed, s.DashDot} != want {
			t.Errorf("%s: %v, %v", name, s.Dashed, s.DashDot)
		}
	}
}
