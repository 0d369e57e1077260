package pdf_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/geometrytest/cost"
)

// file makes a PDF file of objects, numbered from 1. The first has to be the
// catalogue.
func file(objects ...string) string {
	var b strings.Builder
	b.WriteString("%PDF-1.7\n")
	var at []int
	for i, o := range objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, p := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", p)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, start)
	return b.String()
}

// onPage makes a file of one page of 200 by 100 points with the given content.
// The page's resources name F: objects from 5 on stand for them.
func onPage(resources, content string, more ...string) string {
	objects := []string{
		"<</Type/Catalog/Pages 2 0 R/OCProperties 9 0 R>>",
		"<</Type/Pages/Kids[3 0 R]/Count 1>>",
		"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Resources<<" + resources + ">>/Contents 4 0 R>>",
		stream("", content),
	}
	return file(append(objects, more...)...)
}

func stream(dict, data string) string {
	return fmt.Sprintf("<<%s/Length %d>>\nstream\n%s\nendstream", dict, len(data), data)
}

// packed makes a stream of n times s.
func packed(dict, s string, n int) string {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	for range n {
		z.Write([]byte(s))
	}
	z.Close()
	return stream(dict+"/Filter/FlateDecode", b.String())
}

func fill(s string) string { return strings.Repeat(s, 1_000_000/len(s)) }

// formTree is a tree of forms: each draws the one below ten times.
func formTree() string {
	forms := []string{stream("/Type/XObject/Subtype/Form/BBox[0 0 9 9]", "0 0 m 9 9 l S")}
	for i := 1; i < 10; i++ {
		forms = append(forms, stream(fmt.Sprintf("/Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</F %d 0 R>>>>", 4+i), strings.Repeat("/F Do ", 10)))
	}
	return onPage("/XObject<</F 14 0 R>>", "/F Do", forms...)
}

// circles are small files in which something holds itself.
func circles() map[string]string {
	const form = "/Type/XObject/Subtype/Form/BBox[0 0 9 9]"
	catalog := "<</Type/Catalog/Pages 2 0 R>>"
	return map[string]string{
		"form circle":         onPage("/XObject<</F 5 0 R>>", "/F Do", stream(form+"/Resources<</XObject<</F 5 0 R>>>>", "/F Do 0 0 m 9 9 l S")),
		"glyph circle":        onPage("/Font<</F 5 0 R>>", "BT /F 1 Tf (a) Tj ET", "<</Type/Font/Subtype/Type3/FontMatrix[1 0 0 1 0 0]/CharProcs<</a 6 0 R>>/Encoding<</Differences[97/a]>>/FirstChar 97/Widths[1]>>", stream("", "BT /F 1 Tf (aa) Tj ET")),
		"colour space circle": onPage("/ColorSpace<</S 5 0 R>>", "/S cs 1 scn 0 0 1 1 re f", "[/Indexed 5 0 R 1 <00>]"),
		"page tree circle":    file(catalog, "<</Type/Pages/Kids[2 0 R 2 0 R]/Count 2>>"),
		"reference circle":    file(catalog, "3 0 R", "2 0 R"),
	}
}

// sharedEntries is a small file whose table has 900,000 objects at one place,
// which is an array.
func sharedEntries() string {
	const head = "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n[]\nendobj\n"
	table := packed("/Type/XRef/Size 900000/W[1 1 1]/Root 1 0 R", "\x01\x34\x00", 900_000)
	return fmt.Sprintf("%s3 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n", head, table, len(head))
}

// hostile are files of up to 1 MB that ask for much work.
func hostile() map[string]string {
	bomb := packed("", "0 0 m 9 9 l S\n"+strings.Repeat(" ", 1<<20), 40)
	catalog, pages := "<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>"
	manyBombs := []string{catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Contents[" + strings.Repeat("4 0 R 5 0 R 6 0 R ", 40) + "]>>"}
	var objectStreams []string
	for range 3 {
		manyBombs = append(manyBombs, packed("", strings.Repeat(" ", 1<<20), 10))
	}
	for range 40 {
		objectStreams = append(objectStreams, packed("/Type/ObjStm/N 1/First 6", "50 0   "+strings.Repeat(" ", 1<<20), 4))
	}
	return map[string]string{
		"form tree":             formTree(),
		"deflate bomb":          file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>", bomb),
		"many streams":          file(manyBombs...),
		"object stream bombs":   file(append([]string{catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>"}, objectStreams...)...),
		"bomb in a bomb":        file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>", strings.Replace(packed("", packed("", strings.Repeat(" ", 1<<20), 100), 1), "/Filter/FlateDecode", "/Filter[/FlateDecode/FlateDecode]", 1)),
		"segments":              onPage("", "0 0 m "+fill("1 2 l ")+" S"),
		"rectangles":            onPage("", fill("1 2 3 4 re ")+"f"),
		"packed rectangles":     file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>", packed("", strings.Repeat("1 2 3 4 re\n", 1000), 2000)),
		"packed paths":          file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>", packed("", "0 0 m 9 9 l S\n", 500_000)),
		"saved states":          onPage("", fill("q ")),
		"marks":                 onPage("", fill("/A BMC ")),
		"clips":                 onPage("", fill("0 0 m 1 0 l 1 1 l W n ")+"0 0 m 9 9 l S"),
		"clipped shapes":        onPage("", strings.Repeat("0 0 m 1 0 l 1 1 l W n ", 200)+fill("0 0 m 9 9 l S ")),
		"brackets":              onPage("", fill("[")),
		"strings":               onPage("", fill("(")),
		"operands":              onPage("", fill("1 ")),
		"unknown operators":     onPage("", fill("a b c d ")),
		"nested arrays":         file(catalog, pages, fill("[")),
		"nested dictionaries":   file(catalog, pages, fill("<</A")),
		"many objects":          "%PDF-1.7\n" + fill("1 0 obj\n<<>>\nendobj\n"),
		"broken objects":        "%PDF-1.7\n" + fill("1 0 obj "),
		"many pages":            file(catalog, "<</Type/Pages/Kids["+strings.Repeat("3 0 R ", 160_000)+"]/Count 1>>", "<</Type/Page/MediaBox[0 0 9 9]>>"),
		"glyphs":                onPage("/Font<</F 5 0 R>>", "BT /F 1 Tf ("+fill("a")+") Tj ET", "<</Type/Font/Subtype/Type3/FontMatrix[1 0 0 1 0 0]/CharProcs<</a 6 0 R>>/Encoding<</Differences[97/a]>>/FirstChar 97/Widths[1]>>", stream("", "1 0 0 0 9 9 d1 0 0 m 9 9 l S")),
		"colour functions":      onPage("/ColorSpace<</S[/Separation/X/DeviceRGB 5 0 R]>>", "/S cs "+fill("1 scn 0 0 1 1 re f "), stream("/FunctionType 4/Domain[0 1]/Range[0 1 0 1 0 1]", "{"+strings.Repeat(" dup mul", 2000)+" dup dup}")),
		"large table":           onPage("/ColorSpace<</S[/Separation/X/DeviceRGB 5 0 R]>>", "/S cs "+fill(".5 scn 0 0 1 1 re f "), stream("/FunctionType 0/Domain[0 1]/Range[0 1 0 1 0 1]/Size[1e9]/BitsPerSample 32", "abc")),
		"entries at one place":  sharedEntries(),
		"membership circle":     onPage("/Properties<</O 5 0 R>>", "/OC /O BDC 0 0 m 9 9 l S EMC", "<</Type/OCMD/OCGs["+strings.Repeat("5 0 R ", 20)+"]>>"),
		"shared annotations":    file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Annots["+strings.Repeat("4 0 R ", 150_000)+"]>>", "<</Subtype/Stamp/Rect[0 0 9 9]/AP<</N 5 0 R>>>>", stream("/Subtype/Form/BBox[0 0 9 9]", "0 0 m 9 9 l S")),
		"long arrays":           file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>", "["+fill("[]")+"]"),
		"long dictionaries":     file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>", "["+fill("<<>>")+"]"),
		"packed arrays":         file(catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]/Annots 50 0 R>>", packed("/Type/ObjStm/N 1/First 6", "50 0   ["+strings.Repeat("<</A 1>>", 2_000_000)+"]", 1)),
		"many arrays":           file(append([]string{catalog, pages, "<</Type/Page/MediaBox[0 0 9 9]>>"}, slices.Repeat([]string{"[" + strings.Repeat("1 ", 300_000) + "]"}, 8)...)...),
		"open brackets":         file(catalog, pages, fill("(")),
		"streams without end":   "%PDF-1.7\n" + fill("1 0 obj<</Length 9>>stream\n") + "endstream",
		"xref stream of a size": file(catalog, pages, packed("/Type/XRef/Size 900000000/W[1 2 1]/Root 1 0 R", "\x00", 1<<20)),
	}
}

// stoppedBy names the limit that has to stop the reading of a hostile file, and
// has to be told. The others are read to their end.
func stoppedBy(name string) string {
	switch name {
	case "form tree", "glyphs", "shared annotations":
		return "forms and glyphs drawn"
	case "deflate bomb", "object stream bombs":
		return "unpacked bytes"
	case "many streams":
		return "bytes of page content"
	case "packed rectangles":
		return "segments"
	case "packed paths":
		return "paths"
	case "clips", "marks", "saved states":
		return "levels of nesting"
	case "brackets", "operands":
		return "operands of an operator"
	case "colour functions":
		return "steps of colour functions"
	case "long arrays", "long dictionaries", "packed arrays":
		return "values of an object"
	case "many arrays":
		return "values of all objects"
	}
	return ""
}

func TestHostileInput(t *testing.T) {
	files := hostile()
	maps.Copy(files, circles())
	cost.Bound(t, files, func(file string) string {
		d, err := pdf.Read(t.Context(), strings.NewReader(file), pdf.Options{})
		if err != nil {
			return err.Error()
		}
		return fmt.Sprint(codes(d))
	})
}

// Nothing that was read up to a limit passes for the whole drawing.
func TestLimitsAreTold(t *testing.T) {
	for name, file := range hostile() {
		d, err := pdf.Read(t.Context(), strings.NewReader(file), pdf.Options{})
		if err != nil {
			continue
		}
		got := ""
		for _, n := range d.Notes {
			if n.Code == drawing.LimitReached {
				got = n.Limit
			}
		}
		if want := stoppedBy(name); got != want {
			t.Errorf("%s: stopped by %q, want %q: %v", name, got, want, codes(d))
		}
	}
}
