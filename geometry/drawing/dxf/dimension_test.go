package dxf_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"

	"github.com/google/go-cmp/cmp"
)

// What dimensions say is kept where they measure between two points and say a number: what
// was typed, or by the factor of the style, or what is drawn.
// Source: the DXF reference, sections "DIMENSION" and "DIMSTYLE"; the texts are from memory.
func TestDimensionsThatTell(t *testing.T) {
	const tables = "TABLE 2=DIMSTYLE DIMSTYLE 2=HALF 144=2.0 DIMSTYLE 2=Standard 144=1.0 DIMSTYLE 2=LAYOUT 144=-2.0 ENDTAB"
	const slanted = "DIMENSION 8=0 13=10 23=10 14=70 24=90 " // 60 along x, 80 along y, 100 in all
	said := func(said, step float64, unit string) []drawing.Measure {
		return []drawing.Measure{{Drawn: 60, Said: said, Step: step, Unit: unit}}
	}
	for _, c := range []struct {
		name, groups string
		want         []drawing.Measure
	}{
		{"the measure", "70=0", said(60, 0, "")},
		{"the measure, said so", "70=0 1=<>", said(60, 0, "")},
		{"typed", "70=0 1=120", said(120, 1, "")},
		{"typed in tenths", "70=32 1=120.5", said(120.5, 0.1, "")},
		{"a comma", "70=0 1=12,05", said(12.05, 0.01, "")},
		{"thousands, perhaps", "70=0 1=1,200", nil},
		{"with a unit", "70=0 1=120mm", said(120, 1, "mm")},
		{"inches", `70=0 1=4.5"`, said(4.5, 0.1, "inch")},
		{"in another typeface", `70=0 1={\\fSans|b0;120}`, said(120, 1, "")},
		{"words", "70=0 1=width", nil},
		{"a radius", "70=0 1=R12", nil},
		{"nothing", "70=0 1=0", nil},
		{"along y", "70=0 50=90 1=9", []drawing.Measure{{Drawn: 80, Said: 9, Step: 1}}},
		{"aligned", "70=33 1=9", []drawing.Measure{{Drawn: 100, Said: 9, Step: 1}}},
		{"of an angle", "70=2 1=9", nil},
		{"by the factor of its style", "70=0 3=Half", said(120, 0, "")},
		{"by its own factor", "70=0 3=half 1001=ACAD 1000=DSTYLE 1002={ 1070=140 1040=9 1070=144 1040=5 1002=}", said(300, 0, "")},
		{"a style of the print layout", "70=0 3=layout", said(60, 0, "")},
		{"of several that say what is drawn one", "70=0 " + slanted + "70=0 " + slanted + "70=0 1=60", said(60, 0, "")},
		{"typed, whatever the factor", "70=0 3=half 1=60", said(60, 1, "")},
	} {
		d := read(t, file(tables, "", square+slanted+c.groups), dxf.Options{})
		if diff := cmp.Diff(c.want, d.Measures, cmp.Comparer(func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 })); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// A block that was drawn in a unit of its own, and placed at just the scale that turns
// that into the unit about it, is placed as it was drawn.
// Source: the DXF reference, section "BLOCK_RECORD", group 70.
func TestBlocksInUnitsOfTheirOwn(t *testing.T) {
	const insert = " INSERT 8=0 2=part 10=0 20=0 "
	units := func(part, group int) string {
		return fmt.Sprintf("TABLE 2=BLOCK_RECORD BLOCK_RECORD 2=PART 70=%d BLOCK_RECORD 2=GROUP 70=%d ENDTAB", part, group)
	}
	const blocks = "BLOCK 2=PART 70=0 10=0 20=0 LINE 8=0 10=0 20=0 11=2 21=0 ENDBLK" +
		" BLOCK 2=GROUP 70=0 10=0 20=0" + insert + "41=2.54 42=2.54 43=2.54 ENDBLK"
	for _, c := range []struct {
		name, tables, entities string
		nested, length         float64
	}{
		{"inches in mm", units(1, 0), insert + "41=25.4 42=25.4 43=25.4", 1, 50.8},
		{"inches in mm, turned over", units(1, 0), insert + "41=-25.4 42=25.4 43=25.4", 1, 50.8},
		{"inches in mm, twice as large", units(1, 0), insert + "41=50.8 42=50.8", 50.8, 101.6},
		{"inches in mm, as they are", units(1, 0), insert, 1, 2},
		{"inches in mm, along one axis", units(1, 0), insert + "41=25.4 42=1", 5.039841267341661, 50.8},
		{"no unit", units(0, 0), insert + "41=25.4 42=25.4", 25.4, 50.8},
		{"mm in mm", units(4, 0), insert + "41=25.4 42=25.4", 25.4, 50.8},
		{"inches in centimetres in mm", units(1, 5), " INSERT 8=0 2=GROUP 10=0 20=0 41=10 42=10 43=10", 1, 50.8},
		{"inches in a group without a unit in mm", units(1, 0), " INSERT 8=0 2=GROUP 10=0 20=0 41=10 42=10 43=10", 25.4, 50.8},
	} {
		d := read(t, file(c.tables, blocks, c.entities), dxf.Options{})
		s := &d.Shapes[0]
		if length := s.Bounds().Width(); math.Abs(s.Nested-c.nested) > 1e-9 || math.Abs(length-c.length) > 1e-9 {
			t.Errorf("%s: nested %v, %v long", c.name, s.Nested, length)
		}
	}
}
