package dxf_test

import (
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

const square = " LWPOLYLINE 8=0 90=4 70=1 10=0 20=0 10=10 20=0 10=10 20=10 10=0 20=10 "

// TestNotes pairs a drawing that has a fault with a near miss that has not.
// Each holds a sound square, which must survive.
func TestNotes(t *testing.T) {
	layers := "TABLE 2=LAYER LAYER 2=OFF 70=0 62=-3 LAYER 2=ICE 70=1 62=4 LAYER 2=PLAIN 70=64 62=5 ENDTAB" +
		" TABLE 2=LTYPE LTYPE 2=GAPS 70=0 73=2 49=1.0 49=-1.0 LTYPE 2=SOLID 70=0 73=0 ENDTAB"
	blocks := "BLOCK 2=B 70=0 10=0 20=0 LINE 8=0 10=0 20=0 11=5 21=0 ENDBLK" +
		" BLOCK 2=OUT 70=4 10=0 20=0 1=other.dxf ENDBLK" +
		" BLOCK 2=HUGE 10=0 20=0 INSERT 8=0 2=B 10=0 20=0 41=1e13 42=1e13 43=1 ENDBLK" +
		" BLOCK 2=SELF 70=0 10=0 20=0 INSERT 8=0 2=SELF 10=1 20=1 ENDBLK"
	for _, c := range []struct {
		code     drawing.Code
		bad      string
		nearMiss string
	}{
		{drawing.HiddenGeometry, "LINE 8=OFF 10=0 20=0 11=5 21=5", "LINE 8=plain 10=0 20=0 11=5 21=5"},
		{drawing.HiddenGeometry, "LINE 8=ICE 10=0 20=0 11=5 21=5", "LINE 8=UNLISTED 10=0 20=0 11=5 21=5"},
		{drawing.HiddenGeometry, "LINE 8=0 60=1 10=0 20=0 11=5 21=5", "LINE 8=0 60=0 10=0 20=0 11=5 21=5"},
		{drawing.HiddenGeometry, "INSERT 8=OFF 2=B 10=0 20=0", "INSERT 8=PLAIN 2=B 10=0 20=0"},
		{drawing.PaperSpace, "LINE 8=0 67=1 10=0 20=0 11=5 21=5", "LINE 8=0 67=0 10=0 20=0 11=5 21=5"},
		{drawing.LiveText, "TEXT 8=0 10=1 20=1 40=2 1=Hi", square},
		{drawing.LiveText, "MTEXT 8=0 10=1 20=1 40=2 1=Hi", square},
		{drawing.RasterImage, "IMAGE 8=0 10=1 20=1 11=.1 21=0 12=0 22=.1 13=30 23=40", square},
		{drawing.HatchListed, "HATCH 8=0 10=0 20=0 2=SOLID 91=1 92=3 72=0 73=1 93=3 10=0 20=0 10=5 20=0 10=0 20=5 97=0 75=0", square},
		{drawing.HatchListed, "SOLID 8=0 10=0 20=0 11=5 21=0 12=0 22=5 13=5 23=5", square},
		{drawing.DimensionListed, "DIMENSION 8=0 2=*D1 10=0 20=0 13=1 23=1 14=5 24=1", square},
		{drawing.PointListed, "POINT 8=0 10=1 20=1", square},
		{drawing.EndlessLine, "XLINE 8=0 10=1 20=1 11=1 21=0", square},
		{drawing.SolidListed, "3DFACE 8=0 10=0 20=0 11=5 21=0 12=0 22=5 13=5 23=5", square},
		{drawing.SolidListed, "POLYLINE 8=0 70=16 71=2 72=2 VERTEX 10=0 20=0 VERTEX 10=1 20=0 VERTEX 10=0 20=1 VERTEX 10=1 20=1 SEQEND",
			"POLYLINE 8=0 70=8 VERTEX 10=0 20=0 VERTEX 10=1 20=0 SEQEND"},
		{drawing.NotFlat, "LINE 8=0 10=0 20=0 30=0 11=3 21=0 31=4", "LINE 8=0 10=0 20=0 30=4 11=3 21=0 31=4"},
		{drawing.NotFlat, "CIRCLE 8=0 10=0 20=0 40=5 210=0.6 220=0 230=0.8", "CIRCLE 8=0 10=0 20=0 40=5 210=0 220=0 230=-1"},
		{drawing.NestedScale, "INSERT 8=0 2=B 10=0 20=0 41=25.4 42=25.4 43=25.4", "INSERT 8=0 2=B 10=0 20=0 41=-1 42=1 50=30"},
		{drawing.ZeroLength, "LINE 8=0 10=3 20=3 11=3 21=3", "LINE 8=0 10=3 20=3 11=3 21=3.000001"},
		{drawing.ZeroLength, "ARC 8=0 10=0 20=0 40=5 50=45 51=45", "ARC 8=0 10=0 20=0 40=5 50=0 51=360"},
		{drawing.ZeroLength, "INSERT 8=0 2=B 10=0 20=0 41=0", "INSERT 8=0 2=B 10=0 20=0 43=0"},
		{drawing.NegativeRadius, "CIRCLE 8=0 10=0 20=0 40=-5", "CIRCLE 8=0 10=0 20=0 40=5"},
		{drawing.WildBulge, "LWPOLYLINE 8=0 90=2 10=0 20=0 42=1e5 10=1e-3 20=0", "LWPOLYLINE 8=0 90=2 10=0 20=0 42=20 10=1 20=0"},
		{drawing.SplineBroken, "SPLINE 8=0 71=2 40=0 40=0 40=0 40=1 40=1 10=0 20=0 10=1 20=1 10=2 20=0",
			"SPLINE 8=0 71=2 40=0 40=0 40=0 40=1 40=1 40=1 10=0 20=0 10=1 20=1 10=2 20=0"},
		{drawing.SplineBroken, "SPLINE 8=0 71=1 40=0 40=0 40=1 40=1 41=1 41=0 10=0 20=0 10=1 20=1",
			"SPLINE 8=0 71=1 40=0 40=0 40=1 40=1 41=1 41=2 10=0 20=0 10=1 20=1"},
		{drawing.SplineBroken, "SPLINE 8=0 71=1 40=0 40=0 40=2 40=1 40=2 10=0 20=0 10=1 20=1 10=2 20=1",
			"SPLINE 8=0 71=1 40=0 40=0 40=1 40=2 40=2 10=0 20=0 10=1 20=1 10=2 20=1"},
		{drawing.BadNumber, "LINE 8=0 10=nan 20=0 11=5 21=5", "LINE 8=0 10=1e3 20=0 11=5 21=5"},
		{drawing.BadNumber, "LINE 8=0 10=1e300 20=0 11=5 21=5", "LINE 8=0 10=1e-300 20=0 11=5 21=5"},
		{drawing.BadNumber, "POLYLINE 8=0 VERTEX 10=0 20=0 VERTEX 10=1.#IND 20=0 SEQEND", "POLYLINE 8=0 VERTEX 10=0 20=0 VERTEX 10=1.0 20=0 SEQEND"},
		{drawing.BadNumber, "INSERT 8=0 2=B 10=0 20=0 41=1e12 42=1e12 INSERT 8=0 2=HUGE 10=0 20=0", "INSERT 8=0 2=B 10=0 20=0 41=1e12 42=1e12"},
		{drawing.EntityBroken, "LINE 8=0 10=0 20=0 11=5", "LINE 8=0 11=5 10=0 20=0 21=0"},
		{drawing.EntityBroken, "LWPOLYLINE 8=0 90=3 10=0 20=0 10=5 10=9 20=9", "LWPOLYLINE 8=0 90=3 10=0 20=0 10=5 20=5 10=9 20=9"},
		{drawing.EntityBroken, "CIRCLE 8=0 10=0 20=0", "CIRCLE 8=0 40=1 20=0 10=0"},
		{drawing.LiveText, "ATTRIB 8=0 10=0 20=0 70=0 1=Hi", "ATTRIB 8=0 10=0 20=0 70=1 1=Hi"},
		{drawing.DecimalComma, "LINE 8=0 10=0,5 20=0 11=5 21=5", "LINE 8=A,B 10=0.5 20=0 11=5 21=5"},
		{drawing.DashedLine, "LINE 8=0 6=GAPS 10=0 20=0 11=5 21=5", "LINE 8=0 6=SOLID 10=0 20=0 11=5 21=5"},
		{drawing.UnknownEntity, "WIDGET 8=0 10=0 20=0", "VIEWPORT 8=0 10=0 20=0"},
		{drawing.MissingReference, "INSERT 8=0 2=NOWHERE 10=0 20=0", "INSERT 8=0 2=b 10=0 20=0"},
		{drawing.ExternalReference, "INSERT 8=0 2=OUT 10=0 20=0", "INSERT 8=0 2=B 10=0 20=0"},
		{drawing.CircularReference, "INSERT 8=0 2=SELF 10=0 20=0", "INSERT 8=0 2=B 10=0 20=0"},
	} {
		d := read(t, file(layers, blocks, c.bad+square), dxf.Options{})
		f := found(d, c.code)
		switch {
		case f == nil:
			t.Errorf("%s: not found in %v for %s", c.code, codes(d), c.bad)
		case f.Count != 1 || len(f.Places) != 1 || f.Places[0].Source == "" && f.Places[0].Layer == "":
			t.Errorf("%s: count %d, places %v for %s", c.code, f.Count, f.Places, c.bad)
		case f.Names == nil:
			t.Errorf("%s: there is no list of names, which its hint may show", c.code)
		}
		if n := len(d.Shapes); n == 0 || !near(d.Shapes[n-1].Paths[0].Length(), 40, 1e-12) {
			t.Errorf("%s: the square is lost beside %s", c.code, c.bad)
		}
		d = read(t, file(layers, blocks, c.nearMiss+square), dxf.Options{})
		if slices.Contains(codes(d), c.code) {
			t.Errorf("%s: found for %s", c.code, c.nearMiss)
		}
	}
}

func TestNotesOfTheFile(t *testing.T) {
	whole := file("", "", square)
	head := strings.TrimSuffix(whole, groups("ENDSEC EOF"))
	for _, c := range []struct {
		name string
		text string
		want []drawing.Code
		n    int // shapes
	}{
		{"whole", whole, nil, 1},
		{"blank lines at the end", whole + "\n\n  \n\x1a", nil, 1},
		{"trash at the end", whole + "0\nLINE\n", []drawing.Code{drawing.TrashAfterEnd}, 1},
		{"no end mark", strings.TrimSuffix(whole, groups("EOF")), []drawing.Code{drawing.EndMarkMissing}, 1},
		{"section left open", head, []drawing.Code{drawing.Truncated}, 1},
		{"cut within a number", strings.TrimSuffix(head, "\n"), []drawing.Code{drawing.Truncated, drawing.EntityBroken}, 0},
		{"a line lost", strings.Replace(whole, "10\n10\n20\n0\n", "10\n20\n0\n", 1), []drawing.Code{drawing.BadGroupCode, drawing.EntityBroken}, 0},
		{"nothing to cut", file("", "", ""), []drawing.Code{drawing.EmptyDrawing}, 0},
	} {
		d := read(t, c.text, dxf.Options{})
		got := slices.DeleteFunc(codes(d), func(f drawing.Code) bool { return c.name != "nothing to cut" && f == drawing.EmptyDrawing })
		if !slices.Equal(got, c.want) || len(d.Shapes) != c.n {
			t.Errorf("%s: %v and %d shapes, want %v and %d", c.name, got, len(d.Shapes), c.want, c.n)
		}
	}
}
