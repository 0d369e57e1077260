package dxf_test

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

// TestNumbersReadExactly: however a number is written, it is the nearest
// float64, as strconv reads it.
func TestNumbersReadExactly(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		v := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1e-6, 1e-6), rapid.Float64Range(-9e12, 9e12)).Draw(t, "v")
		form := rapid.SampledFrom([]byte{'f', 'e', 'E', 'g'}).Draw(t, "form")
		text := strconv.FormatFloat(v, form, rapid.IntRange(-1, 25).Draw(t, "digits"), 64)
		want, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		if rapid.Bool().Draw(t, "plus") && want > 0 {
			text = "+" + text
		}
		d, err := dxf.Read(t.Context(), strings.NewReader(file("", "", "LINE 8=0 10="+text+" 20=1e7 11=0 21=0")), dxf.Options{})
		if err != nil || len(d.Shapes) != 1 || d.Shapes[0].Paths[0].Start.X != want {
			t.Fatalf("%s reads as %v, want %v", text, d.Shapes, want)
		}
	})
}

// TestLineEnds: every way to end a line, in any mixture, and blanks round the
// values, and small reads.
func TestLineEnds(t *testing.T) {
	text := file("", "", square+"CIRCLE 8=0 10=50 20=0 40=5")
	for _, end := range []string{"\n", "\r\n", "\r", " \t\r\n"} {
		for _, small := range []bool{false, true} {
			var src io.Reader = strings.NewReader("\ufeff" + strings.ReplaceAll(text, "\n", end))
			if small {
				src = iotest.OneByteReader(src)
			}
			d, err := dxf.Read(t.Context(), src, dxf.Options{})
			if err != nil || len(d.Shapes) != 2 || len(d.Notes) != 0 {
				t.Errorf("line end %q: %v, %v", end, err, d)
			}
		}
	}
}

// TestLongFile: groups that straddle the edges of the buffer.
func TestLongFile(t *testing.T) {
	var b strings.Builder
	const n = 60000
	for i := range n {
		fmt.Fprintf(&b, "LINE 8=0 10=%d 20=0 11=%d 21=1 ", i, i)
	}
	for _, end := range []string{"\n", "\r\n", "\r"} {
		text := strings.ReplaceAll(file("", "", b.String()), "\n", end)
		d := read(t, text, dxf.Options{})
		if len(d.Shapes) != n || len(d.Notes) != 0 {
			t.Fatalf("line end %q: %d shapes, notes %v", end, len(d.Shapes), codes(d))
		}
		for i, s := range d.Shapes {
			if p := s.Paths[0]; p.Start.X != float64(i) || p.End().X != float64(i) || p.End().Y != 1 {
				t.Fatalf("line %d is %v", i, p)
			}
		}
	}
}

func TestLongLine(t *testing.T) {
	long := strings.Repeat("x", 700<<10)
	d := entities(t, "TEXT 8=0 10=0 20=0 1="+long+square)
	if len(d.Shapes) != 1 || found(d, drawing.LimitReached) != nil {
		t.Errorf("%d shapes, %v", len(d.Shapes), codes(d))
	}
}

// TestCodePages checks names in the encodings of the format, among them the
// escapes and UTF-8 in a file that declares a page of single bytes.
func TestCodePages(t *testing.T) {
	for _, c := range []struct{ version, page, raw, want string }{
		{"AC1015", "ANSI_1252", "Stra\xdfe", "Straße"},
		{"AC1015", "ansi_1251", "\xd0\xc5\xc7", "РЕЗ"},
		{"AC1009", "dos850", "K\x94ln", "Köln"},
		{"AC1015", "ANSI_932", "\x90\xd8\x82\xe9", "切る"},
		{"AC1015", "ANSI_949", "\xc0\xda\xb8\xa3", "자르"},
		{"AC1015", "ANSI_950", "\xa4\xc1\xb3\xce", "切割"},
		{"AC1021", "ANSI_1252", "Straße", "Straße"},
		{"AC1015", "ANSI_1252", "Straße", "Straße"},
		{"AC1015", "ANSI_1252", `Stra\U+00DFe`, "Straße"},
		{"AC1015", "ANSI_1252", `\M+190D8`, "切"},
		{"AC1015", "", "Stra\xdfe", "Straße"},
		{"AC1021", "", "bad \xff", "bad \ufffd"},
		{"AC1015", "ANSI_1252", `\U+12`, `\U+12`},
	} {
		text := groups("SECTION 2=HEADER 9=$ACADVER 1=" + c.version + " 9=$DWGCODEPAGE 3=" + c.page + " ENDSEC SECTION 2=ENTITIES LINE")
		text += "8\n" + c.raw + "\n" + groups("10=0 20=0 11=1 21=0 ENDSEC EOF")
		d := read(t, text, dxf.Options{})
		if got := d.Shapes[0].Layer; got != c.want {
			t.Errorf("%s %s %q: %q, want %q", c.version, c.page, c.raw, got, c.want)
		}
		doubtful := c.version < "AC1021" && c.raw == "Straße"
		if (found(d, drawing.CodePageDoubtful) != nil) != doubtful {
			t.Errorf("%s %s %q: findings %v", c.version, c.page, c.raw, codes(d))
		}
	}
}

// TestUnits checks codes 0, 1, 4, 5 and 6 against reference/check-values.md,
// row 25; the others against the DXF reference, $INSUNITS.
func TestUnits(t *testing.T) {
	for code, want := range map[string]drawing.Unit{
		"0":  {Name: "none", MM: 1, Source: "$INSUNITS 0"},
		"1":  {Name: "inch", MM: 25.4, Declared: true, Source: "$INSUNITS 1"},
		"2":  {Name: "foot", MM: 304.8, Declared: true, Source: "$INSUNITS 2"},
		"4":  {Name: "mm", MM: 1, Declared: true, Source: "$INSUNITS 4"},
		"5":  {Name: "cm", MM: 10, Declared: true, Source: "$INSUNITS 5"},
		"6":  {Name: "m", MM: 1000, Declared: true, Source: "$INSUNITS 6"},
		"9":  {Name: "mil", MM: 0.0254, Declared: true, Source: "$INSUNITS 9"},
		"13": {Name: "µm", MM: 0.001, Declared: true, Source: "$INSUNITS 13"},
		"99": {Name: "none", MM: 1, Source: "$INSUNITS 99, which names no unit"},
	} {
		d := read(t, strings.Replace(file("", "", square), "$INSUNITS\n70\n4", "$INSUNITS\n70\n"+code, 1), dxf.Options{})
		if d.Unit != want {
			t.Errorf("%s: %+v, want %+v", code, d.Unit, want)
		}
	}
}

// TestNotDXF: what cannot be read at all, and of which kind the refusal is.
func TestNotDXF(t *testing.T) {
	for text, want := range map[string]error{
		"":                               dxf.ErrMalformed,
		"\n\n\n":                         dxf.ErrMalformed,
		"%PDF-1.4\n1 0 obj\n":            dxf.ErrMalformed,
		"<svg xmlns='x'/>":               dxf.ErrMalformed,
		"hello\nworld\n0\nHELLO\n":       dxf.ErrMalformed,
		"AC1015\x00\x00\x00\x00\x00\x06": dxf.ErrUnsupported,
	} {
		_, err := dxf.Read(t.Context(), strings.NewReader(text), dxf.Options{})
		var parse *dxf.ParseError
		if !errors.Is(err, want) || !errors.As(err, &parse) {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
		if dxf.Sniff([]byte(text)) {
			t.Errorf("%q is taken for DXF", text)
		}
	}
}

func TestSniff(t *testing.T) {
	for _, head := range []string{"0\nSECTION\n", "  0\r\nSECTION\r\n  2\r\nHEA", "\ufeff0\nSECTION\n", "999\nmade by hand\n0\nSECTION\n", "0\nLINE\n"} {
		if !dxf.Sniff([]byte(head)) {
			t.Errorf("%q is not taken for DXF", head)
		}
	}
}

// TestReaderFails: an error of the source is not a fault of the drawing.
func TestReaderFails(t *testing.T) {
	boom := errors.New("the line went dead")
	src := io.MultiReader(strings.NewReader(file("", "", square)[:200]), iotest.ErrReader(boom))
	_, err := dxf.Read(t.Context(), src, dxf.Options{})
	var parse *dxf.ParseError
	if !errors.Is(err, boom) || errors.As(err, &parse) {
		t.Errorf("%v, want %v", err, boom)
	}
}
