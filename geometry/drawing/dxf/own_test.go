package dxf_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

// TestOwnNotes checks what refs.json says of the own files in prose.
func TestOwnNotes(t *testing.T) {
	for _, c := range []struct {
		file   string
		length float64
		want   []drawing.Code
	}{
		{"bad-group-code", 50, []drawing.Code{drawing.BadGroupCode}},
		{"binary-truncated", 122.83185307179586, []drawing.Code{drawing.Truncated, drawing.EntityBroken}},
		{"decimal-comma", 50, []drawing.Code{drawing.DecimalComma}},
		{"degenerate", 47.853981633974485, []drawing.Code{drawing.ZeroLength, drawing.NegativeRadius}},
		{"insert-missing-block", 40, []drawing.Code{drawing.MissingReference}},
		{"insert-recursive", 20, []drawing.Code{drawing.CircularReference}},
		{"insert-zero-scale", 40, []drawing.Code{drawing.ZeroLength}},
		{"no-eof", 40, []drawing.Code{drawing.EndMarkMissing}},
		{"paperspace-mixed", 40, []drawing.Code{drawing.PaperSpace}},
		{"spline-bad-knots", 30, []drawing.Code{drawing.SplineBroken}},
		{"trash-after-eof", 40, []drawing.Code{drawing.TrashAfterEnd}},
		{"unknown-entity-and-subclass", 40, []drawing.Code{drawing.UnknownEntity}},
		{"blank-padding", 40, nil},
		{"eol-cr-only", 40, nil},
		{"enc-bom", 10, nil},
		{"soup-duplicates", 136, nil},
	} {
		d := readRef(t, "own__"+c.file+".dxf", dxf.Options{})
		got := codes(d)
		if !near(length(d), c.length, 1e-9*c.length) {
			t.Errorf("%s: length %v, want %v", c.file, length(d), c.length)
		}
		for _, code := range c.want {
			if !slices.Contains(got, code) {
				t.Errorf("%s: no finding %s in %v", c.file, code, got)
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: notes %v, want %v", c.file, got, c.want)
		}
	}
	if f := found(readRef(t, "own__unknown-entity-and-subclass.dxf", dxf.Options{}), drawing.UnknownEntity); f.Count != 2 {
		t.Errorf("%d unknown entities, want 2", f.Count)
	}
}

func TestOwnHugeAndTinyBulge(t *testing.T) {
	d := readRef(t, "own__bulge-huge-and-tiny.dxf", dxf.Options{})
	if found(d, drawing.WildBulge) == nil {
		t.Error("the bulge of 1e9 is not reported")
	}
	first := d.Shapes[0].Paths[0].Segments[0]
	if first.Kind != geometry.Line {
		t.Errorf("a bulge of 1e-12 gives %v, want a straight line", first)
	}
}

func TestOwnColours(t *testing.T) {
	d := readRef(t, "own__colour-byblock-bylayer.dxf", dxf.Options{KeepHidden: true})
	want := [][4]string{
		{"#00ff00", "#ff0000", "#0000ff", "#ff00ff"},
		{"#123456", "#ff8000", "#0000ff", "#ff00ff"},
		{"#ff0000", "#ff0000", "#0000ff", "#ff00ff"},
	}
	if len(d.Shapes) != 12 {
		t.Fatalf("%d shapes, want 12", len(d.Shapes))
	}
	for i, s := range d.Shapes {
		if got := s.Stroke.String(); got != want[i/4][i%4] {
			t.Errorf("insert %d, shape %d: %s, want %s", i/4, i%4, got, want[i/4][i%4])
		}
	}
	if got := d.Shapes[1].Layer; got != "CUT" {
		t.Errorf("content of layer 0 lies on %q, want that of the insert, CUT", got)
	}
}

func TestOwnInsertTurnedOver(t *testing.T) {
	d := readRef(t, "own__insert-negz.dxf", dxf.Options{})
	p := d.Shapes[0].Paths[0]
	if p.Start.Dist(geometry.Pt(50, 20)) > 1e-12 || p.End().Dist(geometry.Pt(41.33974596215561, 25)) > 1e-12 {
		t.Errorf("runs from %v to %v", p.Start, p.End())
	}
	if !d.Shapes[0].Mirrored {
		t.Error("the shape is not marked as mirrored")
	}
}

// TestOwnPeriodicSpline checks the start of a uniform periodic cubic, which is
// (P0 + 4·P1 + P2)/6.
func TestOwnPeriodicSpline(t *testing.T) {
	d := readRef(t, "own__spline-periodic-unclamped.dxf", dxf.Options{})
	p := d.Shapes[0].Paths[0]
	if len(p.Segments) != 8 || !p.Closed {
		t.Fatalf("%d segments, closed %v; want 8 and closed", len(p.Segments), p.Closed)
	}
	// C² at the seam: the second differences on both sides agree.
	last, first := p.Segments[7], p.Segments[0]
	a := last.C1.Sub(last.C2.Mul(2)).Add(last.End)
	b := p.Start.Sub(first.C1.Mul(2)).Add(first.C2)
	if a.Dist(b) > 1e-9 {
		t.Errorf("second differences at the seam %v and %v", a, b)
	}
}

// TestOwnUnitMissing checks that $MEASUREMENT is passed on as a hint only.
func TestOwnUnitMissing(t *testing.T) {
	d := readRef(t, "own__units-missing-measurement0.dxf", dxf.Options{})
	want := drawing.Unit{Name: "none", MM: 1, Source: "$MEASUREMENT 0 (imperial), no $INSUNITS"}
	if d.Unit != want {
		t.Errorf("unit %+v, want %+v", d.Unit, want)
	}
}

// Source: DXF reference, header variables: $INSUNITS names the unit, and
// $MEASUREMENT which tables a program loads. The unit does not hang on the order
// of the two, nor on a value that is none.
func TestHeaderUnit(t *testing.T) {
	const imperial, metric = "$MEASUREMENT 0 (imperial), no $INSUNITS", "$MEASUREMENT 1 (metric), no $INSUNITS"
	for header, want := range map[string]drawing.Unit{
		"9 $INSUNITS 70 4 9 $MEASUREMENT 70 0":  {Name: "mm", MM: 1, Declared: true, Source: "$INSUNITS 4"},
		"9 $MEASUREMENT 70 0 9 $INSUNITS 70 4":  {Name: "mm", MM: 1, Declared: true, Source: "$INSUNITS 4"},
		"9 $MEASUREMENT 70 1 9 $INSUNITS 70 1":  {Name: "inch", MM: 25.4, Declared: true, Source: "$INSUNITS 1"},
		"9 $MEASUREMENT 70 0":                   {Name: "none", MM: 1, Source: imperial},
		"9 $MEASUREMENT 70 1":                   {Name: "none", MM: 1, Source: metric},
		"9 $MEASUREMENT 70 1 9 $INSUNITS 70 -1": {Name: "none", MM: 1, Source: metric},
		"9 $INSUNITS 70 0 9 $MEASUREMENT 70 1":  {Name: "none", MM: 1, Source: "$INSUNITS 0"},
		"9 $INSUNITS 70 99 9 $MEASUREMENT 70 1": {Name: "none", MM: 1, Source: "$INSUNITS 99, which names no unit"},
		"9 $MEASUREMENT 70 7":                   {Name: "none", MM: 1},
	} {
		text := strings.ReplaceAll("0 SECTION 2 HEADER "+header+" 0 ENDSEC 0 SECTION 2 ENTITIES 0 LINE 10 0 20 0 11 9 21 0 0 ENDSEC 0 EOF ", " ", "\n")
		if d := read(t, text, dxf.Options{}); d.Unit != want {
			t.Errorf("%s: %+v, want %+v", header, d.Unit, want)
		}
	}
}
