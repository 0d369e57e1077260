package pdf_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/pdf"
)

func parse(t testing.TB, text string, opt pdf.Options) *drawing.Drawing {
	t.Helper()
	d, err := pdf.Read(t.Context(), strings.NewReader(text), opt)
	if err != nil {
		t.Fatalf("%.300s\n%v", text, err)
	}
	return d
}

// Source: ISO 32000-1, 8.3 to 8.5, 8.10; each outline is worked out by hand.
// The page is 200 by 100 points.
func TestContent(t *testing.T) {
	for _, tt := range []struct{ name, content, want string }{
		{"lines", "10 20 m 30 20 l 30 40 l S", "M10 20L30 20L30 40"},
		{"closed", "10 20 m 30 20 l 30 40 l h S", "M10 20L30 20L30 40L10 20Z"},
		{"closed by the painting operator", "10 20 m 30 20 l 30 40 l s", "M10 20L30 20L30 40L10 20Z"},
		{"closed already", "10 20 m 30 20 l 10 20 l s", "M10 20L30 20L10 20Z"},
		{"rectangle", "1 2 3 -4 re f", "M1 2L4 2L4 -2L1 -2L1 2Z"},
		{"a line after a rectangle starts at its corner", "1 2 3 4 re 9 9 l S", "M1 2L4 2L4 6L1 6L1 2Z M1 2L9 9"},
		{"a line after closing starts where the subpath did", "1 1 m 2 1 l 2 2 l h 5 5 l S", "M1 1L2 1L2 2L1 1Z M1 1L5 5"},
		{"curves", "0 0 m 1 2 3 4 5 6 c 7 8 9 10 v 11 12 13 14 y S", "M0 0C1 2 3 4 5 6C5 6 7 8 9 10C11 12 13 14 13 14"},
		{"matrices nest", "q 2 0 0 2 10 0 cm 0 1 -1 0 0 0 cm 1 0 m 3 0 l S Q 1 0 m 3 0 l S", "M10 2L10 6 M1 0L3 0"},
		{"too many Q", "Q Q 1 0 m 3 0 l S", "M1 0L3 0"},
		{"two moves", "1 1 m 2 2 m 3 3 l S", "M2 2L3 3"},
		{"comments, odd numbers", "1 .5 m % 9 9 l\n+3 --2 l S", "M1 0.5L3 -2"},
		{"too few operands are passed over", "1 1 m 2 l 3 3 l S", "M1 1L3 3"},
		{"strings and dictionaries are no operators", "/A <</B (x \\) S) /C [1 2] >> BDC 1 1 m 2 2 l S EMC", "M1 1L2 2"},
		{"an inline image is passed over", "BI /W 6 /H 1 /CS /RGB /BPC 8 ID 1 EI 0 0 m 9 9 l S EI 1 1 m 2 2 l S", "M1 1L2 2"},
		{"an inline image with a filter", "BI /W 3 /H 1 /F /Fl ID \x01\x02 EI \xff 0 0 m 9 9 l S EI\n1 1 m 2 2 l S", "M1 1L2 2"},
		{"a form with a matrix", "1 0 0 1 5 5 cm /F Do", "M7 5L7 9"},
		{"glyphs that are drawings", "BT /T 10 Tf 3 Tc 20 30 Td (aa) Tj ET", "M20 30L29 30L29 39L20 39L20 30Z M32 30L41 30L41 39L32 39L32 30Z"},
		{"glyphs moved apart", "BT /T 10 Tf 50 Tz 1 0 0 1 20 30 Tm [(a) -1000 (a)] TJ ET", "M20 30L24.5 30L24.5 39L20 39L20 30Z M29.5 30L34 30L34 39L29.5 39L29.5 30Z"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			file := onPage("/XObject<</F 5 0 R>>/Font<</T 6 0 R>>", tt.content,
				stream("/Subtype/Form/BBox[0 0 50 50]/Matrix[0 2 -2 0 2 0]", "0 0 m 2 0 l S"),
				"<</Type/Font/Subtype/Type3/FontMatrix[.1 0 0 .1 0 0]/CharProcs<</a 7 0 R>>/Encoding<</Differences[97/a]>>/FirstChar 97/Widths[9]>>",
				stream("", "9 0 0 0 9 9 d1 0 0 9 9 re f"))
			var got []string
			for _, s := range parse(t, file, pdf.Options{}).Shapes {
				for _, p := range s.Paths {
					got = append(got, p.String())
				}
			}
			if all := strings.Join(got, " "); all != tt.want {
				t.Errorf("%s, want %s", all, tt.want)
			}
		})
	}
}

// Source: ISO 32000-1, 8.6 and 10.3.
func TestColours(t *testing.T) {
	for content, want := range map[string]string{
		"":                            "#000000",
		"1 0 0 rg":                    "#ff0000",
		".5 g":                        "#808080",
		"0 1 1 0 k":                   "#ff0000",
		"0 0 0 .5 k":                  "#808080",
		"0 .9 0 .2 k":                 "#cc00cc",
		"/DeviceRGB cs 0 1 0 sc":      "#00ff00",
		"/DeviceCMYK cs":              "#000000",
		"/CalRGB cs 0 1 0 sc":         "#00ff00",
		"/I cs 0 0 1 scn":             "#0000ff",
		"/X cs 1 sc":                  "#00ff00",
		"/X cs 7 sc":                  "#0000ff",
		"/S cs 1 scn":                 "#ff0000",
		"/S cs 0 scn":                 "#ffffff",
		"/N cs 1 scn":                 "none",
		"/D cs .25 .75 scn":           "#40bf00",
		"/T cs .5 scn":                "#808080",
		"/J cs .75 scn":               "#400040",
		"/L cs 46.28 -47.55 48.59 sc": "#008000",
		"/L cs 50.1961 20 -20 sc":     "#8d6c9a", // by the formulas of CIE 15 and sRGB
		"/Y cs 1 sc":                  "#8d6c9a", // the same by a table of bytes: 50.1961 = 128/255 × 100
		"/P cs /Q scn":                "#808080",
		"/G gs":                       "none",
		"/unknown cs 1 sc":            "#ffffff",
		"1 0 0 RG":                    "#000000",
	} {
		d := parse(t, onPage(`/ExtGState<</G<</ca 0>>>>/ColorSpace<</I[/ICCBased 5 0 R]/X[/Indexed/DeviceRGB 2<ff000000ff000000ff>]
			/S[/Separation/Cut/DeviceCMYK 6 0 R]/N[/Separation/None/DeviceGray 6 0 R]/D[/DeviceN[/A/B]/DeviceRGB 7 0 R]
			/T[/Separation/Cut/DeviceGray 8 0 R]/J[/Separation/Cut/DeviceRGB 10 0 R]/L[/Lab<</WhitePoint[.9642 1 .8249]/Range[-128 127 -128 127]>>]
			/Y[/Indexed[/Lab<</WhitePoint[.9642 1 .8249]/Range[-128 127 -128 127]>>]1<00000080946c>]/P/Pattern>>`,
			content+" 0 0 9 9 re f", stream("/N 3", ""),
			"<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[0 1 1 0]/N 1>>",
			stream("/FunctionType 4/Domain[0 1 0 1]/Range[0 1 0 1 0 1]", "{ 0 }"),
			stream("/FunctionType 0/Domain[0 1]/Range[0 1]/Size[3]/BitsPerSample 8", "\x00\x80\xff"), "null",
			"<</FunctionType 3/Domain[0 1]/Bounds[.5]/Encode[0 1 0 1]/Functions[11 0 R 12 0 R]>>",
			"<</FunctionType 2/Domain[0 1]/C0[0 0 0]/C1[1 1 1]/N 1>>",
			"<</FunctionType 2/Domain[0 1]/C0[0 0 0]/C1[1 0 1]/N 2>>"), pdf.Options{KeepHidden: true})
		got := "none"
		if c := d.Shapes[0].Fill; c != nil {
			got = c.String()
		}
		if got != want {
			t.Errorf("%q: %s, want %s", content, got, want)
		}
	}
}

func TestLayers(t *testing.T) {
	const groups = "<</OCGs[10 0 R 11 0 R 12 0 R]/D<</OFF[11 0 R]/Locked[12 0 R]>>>>"
	properties := "/Properties<</A 10 0 R/B 11 0 R/M<</Type/OCMD/OCGs[10 0 R 11 0 R]/P/AllOn>>/O<</Type/OCMD/OCGs[11 0 R 10 0 R]>>>>/XObject<</F 5 0 R>>"
	const line = " 0 0 m 9 9 l S "
	d := parse(t, onPage(properties, line+"/OC /A BDC"+line+"/Span BMC"+line+"EMC EMC /OC /B BDC"+line+"EMC /OC /M BDC"+line+"EMC /OC /O BDC"+line+"EMC /F Do",
		stream("/Subtype/Form/BBox[0 0 50 50]/OC 11 0 R", line), "null", "null", "null", groups,
		"<</Type/OCG/Name(Cut)>>", "<</Type/OCG/Name<FEFF0050006C0061006E00E9>>>", "<</Type/OCG/Name(Score)>>"), pdf.Options{})
	var got []string
	for _, s := range d.Shapes {
		got = append(got, s.Layer)
	}
	if all := strings.Join(got, ","); all != ",Cut,Cut,Plané" {
		t.Errorf("layers of the shapes: %s", all)
	}
	if codes(d)["hidden_geometry"] != 3 {
		t.Errorf("findings %v", codes(d))
	}
	want := []drawing.Layer{{Name: "Cut"}, {Name: "Plané", Off: true}, {Name: "Score"}}
	for i, l := range d.Layers {
		if l != want[i] {
			t.Errorf("layer %d: %+v", i, l)
		}
	}
}

func TestShapesTellTheirPlace(t *testing.T) {
	d := parse(t, onPage("/XObject<</F 5 0 R>>", "1 0 0 -1 0 100 cm 2 w 0 0 m 9 9 l S q 3 0 0 3 0 0 cm 0 0 m 9 9 l [1] 0 d B* Q /F Do",
		stream("/Subtype/Form/BBox[0 0 50 50]/Matrix[-1 0 0 1 9 0]", "0 0 m 9 9 l S")), pdf.Options{})
	if len(d.Shapes) != 3 {
		t.Fatalf("%d shapes", len(d.Shapes))
	}
	first, scaled, turned := d.Shapes[0], d.Shapes[1], d.Shapes[2]
	if first.Mirrored || first.Nested != 1 || first.StrokeWidth != 2 || first.Fill != nil {
		t.Errorf("first: %+v", first)
	}
	if scaled.Mirrored || scaled.Nested != 3 || scaled.StrokeWidth != 6 || !scaled.Dashed || scaled.FillRule != drawing.EvenOdd {
		t.Errorf("scaled: %+v", scaled)
	}
	if !turned.Mirrored || turned.Source.Kind != "form" {
		t.Errorf("turned over: %+v", turned)
	}
}

// Each row has content that triggers the note and a near miss that does not.
func TestNotes(t *testing.T) {
	const cut = " 0 0 m 9 9 l S "
	resources := "/Font<</H<</Subtype/Type1/BaseFont/Plain>>>>/XObject<</I<</Subtype/Image>>/F 5 0 R>>/ExtGState<</M<</SMask<</S/Alpha>>>>/N<</SMask/None>>>>"
	form := stream("/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F 5 0 R>>>>", "/F Do")
	for _, tt := range []struct {
		code       drawing.Code
		weight     drawing.Weight
		with, near string
	}{
		{drawing.EmptyDrawing, "", "", cut},
		{drawing.LiveText, "", cut + "BT /H 9 Tf (a) Tj ET", cut + "BT /H 9 Tf 3 Tr (a) Tj ET"},
		{drawing.RasterImage, "", cut + "/I Do", cut + "/I"},
		{drawing.RasterImage, drawing.Blocks, "/I Do", cut},
		{drawing.RasterImage, "", cut + "BI /W 1 /H 1 ID a EI", cut},
		{drawing.PaintServerUsed, "", "/Pattern cs /P scn 0 0 9 9 re f", "/Pattern cs /P scn 0 0 9 9 re S"},
		{drawing.PaintServerUsed, "", cut + "/X sh", cut},
		{drawing.DashedLine, "", "[1 2] 0 d" + cut, "[] 0 d" + cut},
		{drawing.UnpaintedGeometry, "", cut + "0 0 m 9 9 l n", cut + "0 0 9 9 re W n"},
		{drawing.ClipPathUsed, "", "0 0 5 9 re W n" + cut, "0 0 9 9 re W n" + cut},
		{drawing.ClipPathUsed, "", "0 0 m 9 0 l 0 9 l W* n" + cut, "q 0 0 m 9 0 l 0 9 l W* n Q" + cut},
		{drawing.MaskUsed, "", "/M gs" + cut, "/M gs /N gs" + cut},
		{drawing.OutOfRange, "", "0 0 m 9000000 0 9000000 9000000 0 9000000 c W n 0 0 m 9 9 l S", "-9000000 -9000000 18000000 18000000 re W n 0 0 m 9 9 l S"},
		{drawing.OutOfRange, "", "0 0 m 3e9 0 l 9999999999 0 l S", "0 0 m 2800000 0 l S"},
		{drawing.CircularReference, "", cut + "/F Do", cut},
		{drawing.MissingReference, "", cut + "/Z Do", cut},
		{drawing.UnknownElement, "", cut + "zz", cut + "BX EX"},
	} {
		d := parse(t, onPage(resources, tt.with, form), pdf.Options{})
		found := false
		for _, f := range d.Notes {
			found = found || f.Code == tt.code && f.Weight == tt.weight
		}
		if !found {
			t.Errorf("%s: no %s (%q) in %v", tt.with, tt.code, tt.weight, d.Notes)
		}
		if near := codes(parse(t, onPage(resources, tt.near, form), pdf.Options{})); near[string(tt.code)] != 0 {
			t.Errorf("%s: %s in the near miss", tt.near, tt.code)
		}
	}
}

// Source: ISO 32000-1, 12.5.5: the appearance's box, turned by its matrix,
// fills the rectangle.
func TestAnnotations(t *testing.T) {
	const form = "/Subtype/Form/BBox[0 0 10 20]/Matrix[0 1 -1 0 0 0]"
	page := func(annotation string) string {
		return file("<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>",
			"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Annots[4 0 R]>>", annotation, stream(form, "0 0 m 10 20 l S"))
	}
	d := parse(t, page("<</Subtype/Stamp/Rect[50 50 90 60]/AP<</N 5 0 R>>>>"), pdf.Options{})
	if len(d.Shapes) != 1 || d.Shapes[0].Paths[0].String() != "M90 50L50 60" || codes(d)["annotation_drawn"] != 1 {
		t.Errorf("%+v, %v", d.Shapes, codes(d))
	}
	for _, unseen := range []string{"<</Subtype/Popup/Rect[5 5 9 9]/AP<</N 5 0 R>>>>", "<</Subtype/Stamp/F 2/Rect[5 5 9 9]/AP<</N 5 0 R>>>>",
		"<</Subtype/Link/Rect[5 5 9 9]>>", "<</Subtype/Widget/AS/Off/Rect[5 5 9 9]/AP<</N<</On 5 0 R>>>>>>"} {
		if d := parse(t, page(unseen), pdf.Options{}); len(d.Shapes) != 0 || codes(d)["annotation_drawn"] != 0 {
			t.Errorf("%s: %v", unseen, codes(d))
		}
	}
}

func TestPages(t *testing.T) {
	text := file("<</Type/Catalog/Pages 2 0 R>>",
		"<</Type/Pages/Kids[3 0 R 4 0 R]/Count 2/MediaBox[10 10 210 110]/Rotate -90>>",
		"<</Type/Page/Parent 2 0 R/Contents 5 0 R>>",
		"<</Type/Page/Parent 2 0 R/CropBox[0 0 60 60]/UserUnit 2/Contents[5 0 R 6 0 R]>>",
		stream("", "20 20 m 30"), stream("", "20 l S"))
	first := parse(t, text, pdf.Options{})
	if len(first.Shapes) != 0 || codes(first)["several_pages"] != 1 || first.Page.Max != geometry.Pt(100, 200) {
		t.Errorf("first page: %v, %v", first.Page, codes(first))
	}
	second := parse(t, text, pdf.Options{Page: 2})
	if second.Page.Max != geometry.Pt(100, 100) || second.Unit.Source != "page box, UserUnit 2" || codes(second)["several_pages"] != 0 {
		t.Errorf("second page: %v, %+v", second.Page, second.Unit)
	}
	// Turned anticlockwise: (x, y) → (h − y, x), from the corner (10, 10), twice as large.
	if got := second.Shapes[0].Paths[0].String(); got != "M80 20L80 40" {
		t.Errorf("second page: %s", got)
	}
	if _, err := pdf.Read(t.Context(), strings.NewReader(text), pdf.Options{Page: 3}); !errors.Is(err, pdf.ErrNoSuchPage) {
		t.Errorf("third page: %v", err)
	}
}

func TestBrokenFiles(t *testing.T) {
	for name, tt := range map[string]struct {
		text string
		is   error
	}{
		"empty":          {"", pdf.ErrNotPDF},
		"another format": {"<svg/>", pdf.ErrNotPDF},
		"only a header":  {"%PDF-1.4\n", pdf.ErrBroken},
		"no pages":       {file("<</Type/Catalog>>"), pdf.ErrNoPages},
	} {
		_, err := pdf.Read(t.Context(), strings.NewReader(tt.text), pdf.Options{})
		var parse *pdf.ParseError
		if !errors.As(err, &parse) || !errors.Is(err, tt.is) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if !pdf.Sniff([]byte("\n%PDF-1.4")) || pdf.Sniff([]byte("%!PS")) {
		t.Error("Sniff")
	}
}

// A stream that ends too early is read as far as it goes, and said to be broken.
func TestDamagedStream(t *testing.T) {
	var content strings.Builder
	for i := range 500 {
		fmt.Fprintf(&content, "%d %d m %d 9 l S\n", i*i, i*7919%500, i)
	}
	whole := strings.TrimSuffix(packed("", content.String(), 1), "\nendstream")
	text := file("<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>", "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>",
		whole[:len(whole)/2]+"\nendstream")
	d := parse(t, text, pdf.Options{})
	if codes(d)["content_broken"] != 1 || len(d.Shapes) < 100 {
		t.Errorf("%d shapes, %v", len(d.Shapes), codes(d))
	}
}

// Dashes of two lengths are told from those of one.
func TestDashAndDot(t *testing.T) {
	d := parse(t, onPage("", "[8 2 1 2] 0 d 0 0 m 9 9 l S [8 2] 0 d 0 0 m 9 9 l S [] 0 d 0 0 m 9 9 l S"), pdf.Options{})
	for i, want := range [][2]bool{{true, true}, {true, false}, {false, false}} {
		if s := d.Shapes[i]; [2]bool{s.Dashed, s.DashDot} != want {
			t.Errorf("line %d: %v, %v", i, s.Dashed, s.DashDot)
		}
	}
}
