package pdf_test

import (
	"bytes"
	"errors"
	"testing"

	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/geometrytest/reference"
)

// FuzzRead: no input makes the reader panic, errors have their type, and every
// coordinate is an ordinary number. Seeds are the small files of the limits
// test and, where it is there, the reference material.
func FuzzRead(f *testing.F) {
	for _, text := range circles() {
		f.Add([]byte(text))
	}
	reference.Seeds(f, "drawings", "pdf")
	fuzzed(f, func(data []byte) []byte { return data })
}

// FuzzContent fuzzes the interpreter: the input is the content of a page with
// a font, a form, colour spaces and layers at hand.
func FuzzContent(f *testing.F) {
	for _, s := range []string{
		"1 0 0 RG 2 w [3 1] 0 d 10 20 m 30 20 l 30 40 40 50 50 50 c h S",
		"q .5 0 0 .5 10 10 cm 0 0 9 9 re W* n /F Do Q 0 0 m 1 1 2 2 v 3 3 4 4 y b*",
		"BT /T 12 Tf 2 Tr 1 0 0 1 10 10 Tm (a\\141\\(\\)) Tj [(a) -20 <6161>] TJ T* (a) ' 1 2 (a) \" ET",
		"/S cs .5 scn 0 0 9 9 re f /P cs /X scn 1 1 2 2 re B .1 .2 .3 .4 k F /OC /L BDC 0 0 m 9 9 l S EMC",
		"BI /W 2 /H 2 /BPC 8 /CS /G ID EI E EI /X sh << /A [1 2] >> BDC EMC %x\n/G gs",
	} {
		f.Add([]byte(s))
	}
	fuzzed(f, func(content []byte) []byte { return []byte(equipped(string(content))) })
}

// equipped is a page with resources of every kind.
func equipped(content string) string {
	return onPage("/Font<</T 5 0 R>>/XObject<</F 6 0 R>>/ColorSpace<</S[/Separation/X/DeviceRGB 7 0 R]/P/Pattern>>/Properties<</L 8 0 R>>/ExtGState<</G<</LW 3/ca 0>>>>",
		content,
		"<</Type/Font/Subtype/Type3/FontMatrix[.1 0 0 .1 0 0]/CharProcs<</a 10 0 R>>/Encoding<</Differences[97/a]>>/FirstChar 97/Widths[9]>>",
		stream("/Subtype/Form/BBox[0 0 5 5]/Matrix[1 .5 0 -1 0 0]", "0 0 m 9 9 l S"),
		stream("/FunctionType 4/Domain[0 1]/Range[0 1 0 1 0 1]", "{dup .5 gt {pop 1} {2 mul} ifelse dup dup 3 1 roll}"),
		"<</Type/OCG/Name(Cut)>>",
		"<</OCGs[8 0 R]/D<</OFF[]>>>>",
		stream("", "9 0 0 0 9 9 d1 0 0 9 9 re f"))
}

func fuzzed(f *testing.F, whole func([]byte) []byte) {
	limits := pdf.Limits{Bytes: 1 << 16, Decoded: 1 << 18, Content: 1 << 18, Forms: 500, Segments: 20_000}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := pdf.Read(t.Context(), bytes.NewReader(whole(data)), pdf.Options{Limits: limits, KeepHidden: true})
		if err != nil {
			var parse *pdf.ParseError
			if !errors.As(err, &parse) {
				t.Fatalf("an untyped error: %v", err)
			}
			return
		}
		for _, s := range d.Shapes {
			for _, p := range s.Paths {
				if !p.Finite() {
					t.Fatalf("%v: %v", s.Source, p)
				}
			}
		}
	})
}
