package pdf_test

import (
	"context"
	"errors"
	"maps"
	"strings"
	"testing"

	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/geometrytest/stop"
)

// large are files whose reading takes long in one place each: in a token, a
// table or a function.
func large() map[string]string {
	long := func(s string, n int) string { return strings.Repeat(s, n/len(s)) }
	const catalog, pages = "<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>"
	page := func(content string) string {
		return file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>", content)
	}
	const separation = "/ColorSpace<</S[/Separation/X/DeviceRGB 5 0 R]>>"
	return map[string]string{
		"long literal":   page(packed("", "("+long("a", 1<<20), 28)),
		"long hex":       page(packed("", "<"+long("a0", 1<<20), 28)),
		"long word":      page(packed("", long("a", 1<<20), 20)),
		"long comment":   page(packed("", "%"+long("a", 1<<20), 28)),
		"long function":  onPage(separation, "/S cs 1 scn 0 0 1 1 re f", packed("/FunctionType 4/Domain[0 1]/Range[0 1 0 1 0 1]", "{"+long("{pop} ", 1<<20), 3)),
		"many outputs":   onPage(separation, "/S cs "+strings.Repeat("1 scn 0 0 1 1 re f ", 40), stream("/FunctionType 0/Domain[0 1]/Range["+long("0 1 ", 1<<17)+"]/Size[9]/BitsPerSample 8", "abc")),
		"long path":      page(packed("", "0 0 m "+long("1 2 l ", 1<<20)+"S ", 2)),
		"long curves":    page(packed("", "0 0 m "+long("1 2 3 4 5 6 c ", 1<<20)+"S ", 3)),
		"many groups":    file("<</Type/Catalog/Pages 2 0 R/OCProperties<</OCGs 4 0 R/D<</OFF 5 0 R>>>>>>", pages, "<</Type/Page/MediaBox[0 0 9 9]>>", "["+long("3 0 R ", 900_000)+"]", "["+long("3 0 R ", 900_000)+"]"),
		"three filters":  page(strings.Replace(packed("", packed("", packed("", long(" ", 1<<20), 28), 1), 1), "/Filter/FlateDecode", "/Filter[/FlateDecode/FlateDecode/FlateDecode]", 1)),
		"run lengths":    page(stream("/Filter/RunLengthDecode", long("\x81 ", 400_000)+"\x80")),
		"many values":    file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>", long("[1 2 3 4 5 6 7 8 9 10 (text) /Name <</A 1/B 2>>] ", 1<<18)),
		"long arrays":    file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>", "["+long("[]", 480_000)+"]"),
		"longer arrays":  file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>", "["+long("[]", 8<<20)+"]"),
		"long name":      page(packed("", "/"+long("#61", 1<<20), 1)),
		"long number":    page(packed("", long("1", 1<<20), 20)),
		"long escapes":   page(packed("", " ("+long("\\123", 1<<20), 1)),
		"stray brackets": page(packed("", long(")%\n", 1<<20), 28)),
		"predicted":      page(strings.Replace(packed("", long("\x02 ", 1<<20), 24), "/Filter/FlateDecode", "/Filter/FlateDecode/DecodeParms<</Predictor 12>>", 1)),
		"base 85":        page(stream("/Filter/ASCII85Decode", long("z", 6<<20)+"~>")),
		"long filter":    file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>", "<</Filter/XX/A/Filter"+long(" ", 8<<20)+">>", stream("/Filter/XXX", "a")),
		"many names":     page(stream("", "")) + long("/O/O/O/Filter /X ", 8<<20),
		"broken objects": "%PDF-1.7\n" + long("1 0 obj ", 4<<20),
	}
}

// A reading that nobody waits for any more ends soon, wherever it is.
func TestStop(t *testing.T) {
	files := hostile()
	maps.Copy(files, circles())
	for name, file := range large() {
		files["large: "+name] = file
	}
	for name, file := range files {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error {
				_, err := pdf.Read(ctx, strings.NewReader(file), pdf.Options{})
				if parse := new(pdf.ParseError); errors.As(err, &parse) {
					return nil // what is refused is read to its end as well
				}
				return err
			})
		})
	}
}
