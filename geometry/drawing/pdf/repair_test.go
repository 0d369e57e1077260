package pdf_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/pdf"
	"knifedesk/geometry/geometrytest/reference"
)

// squares is content of three squares of 20 points.
const squares = "10 10 20 20 re S\n40 10 20 20 re S\n70 10 20 20 re S\n"

// stating is a stream with the length it states.
func stating(length, dict, data string) string {
	return fmt.Sprintf("<<%s/Length %s>>\nstream\n%s\nendstream", dict, length, data)
}

// onlyPage is a file of one page with a stream as its content.
func onlyPage(content string, more ...string) string {
	return file(append([]string{"<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>",
		"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Contents 4 0 R>>", content}, more...)...)
}

var tableRow = regexp.MustCompile(`(\d{10}) 00000 n`)

// shifted moves the offsets in the table of a file, or swaps two of them.
func shifted(text string, by int, swap ...int) string {
	rows := tableRow.FindAllString(text, -1)
	if swap != nil {
		rows[swap[0]], rows[swap[1]] = rows[swap[1]], rows[swap[0]]
	}
	i := -1
	return tableRow.ReplaceAllStringFunc(text, func(string) string {
		i++
		var at int
		fmt.Sscan(strings.TrimLeft(rows[i][:10], "0"), &at)
		return fmt.Sprintf("%010d 00000 n", at+by)
	})
}

// damaged are files of the three squares whose structure is wrong in one way,
// all of which poppler draws whole.
func damaged() map[string]string {
	whole := onlyPage(stream("", squares))
	flate := packed("", squares, 1)
	length := regexp.MustCompile(`/Length \d+`)
	files := map[string]string{
		"sound":                       whole,
		"no length":                   onlyPage(strings.Replace(stream("", squares), fmt.Sprintf("/Length %d", len(squares)), "", 1)),
		"a length that is none":       onlyPage(stating("/x", "", squares)),
		"a length in another object":  onlyPage(stating("5 0 R", "", squares), fmt.Sprint(len(squares))),
		"a short one there":           onlyPage(stating("5 0 R", "", squares), "17"),
		"a long one there":            onlyPage(stating("5 0 R", "", squares), "170"),
		"one that is not there":       onlyPage(stating("9 0 R", "", squares)),
		"packed, too short":           onlyPage(length.ReplaceAllString(flate, "/Length 5")),
		"packed, too long":            onlyPage(length.ReplaceAllString(flate, "/Length 500")),
		"two objects swapped":         shifted(whole, 0, 2, 3),
		"start of the table":          strings.Replace(whole, "startxref\n", "startxref\n7", 1),
		"no start of the table":       strings.Replace(whole, "startxref", "", 1),
		"no end of objects":           strings.ReplaceAll(whole, "endobj", ""),
		"no end mark":                 strings.Replace(whole, "%%EOF\n", "", 1),
		"a PostScript comment before": "%!PS\n%a comment\n" + whole,
		"rubbish before":              "rubbish\r\n\x00\x01" + whole,
		"rubbish behind":              whole + strings.Repeat("rubbish ", 300),
		"line ends of another system": strings.ReplaceAll(whole, "\n", "\r"),
	}
	for _, n := range []int{-1, 0, 1, 17, 40, len(squares) + 5, 200, 5000} {
		files[fmt.Sprintf("length %d", n)] = onlyPage(stating(fmt.Sprint(n), "", squares))
	}
	for _, by := range []int{-20, -1, 1, 5, 1000} {
		files[fmt.Sprintf("offsets moved by %d", by)] = shifted(whole, by)
	}
	delete(files, "length -1") // poppler calls it weird and draws nothing
	return files
}

// Source: poppler, pdftocairo of 22.12, which repairs the same files.
func TestDamagedFilesAreReadAsPopplerDrawsThem(t *testing.T) {
	pdftocairo := reference.Tool(t, "pdftocairo")
	for name, text := range damaged() {
		d := parse(t, text, pdf.Options{})
		if n := popplerPaths(t, pdftocairo, text); len(d.Shapes) != n || n != 3 {
			t.Errorf("%s: %d shapes, poppler draws %d", name, len(d.Shapes), n)
		}
		if got, want := codes(d)["stream_mended"] == 1, wrongLength(name); got != want {
			t.Errorf("%s: said to be mended: %v", name, got)
		}
		if codes(d)["truncated"] != 0 {
			t.Errorf("%s: said to be cut off", name)
		}
	}
}

// wrongLength reports whether a damaged file is one whose stream states a
// length that is not its own.
func wrongLength(name string) bool {
	switch name {
	case "a length that is none", "a short one there", "a long one there", "one that is not there", "packed, too short", "packed, too long", "no length":
		return true
	}
	return strings.HasPrefix(name, "length ")
}

// popplerPaths returns how many paths poppler draws on the first page.
func popplerPaths(t *testing.T, pdftocairo, text string) int {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.pdf"), filepath.Join(dir, "out.svg")
	if err := os.WriteFile(in, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command(pdftocairo, "-svg", "-f", "1", "-l", "1", in, out).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	drawn, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Count(string(drawn), "<path")
}

// A file that is cut off anywhere says so, or cannot be read at all; whole it
// says nothing.
func TestCutFilesSayIt(t *testing.T) {
	for name, whole := range map[string]string{
		"plain":  onlyPage(stream("", strings.Repeat(squares, 20))),
		"packed": onlyPage(packed("", squares, 20)),
	} {
		end := strings.Index(whole, "trailer") // what is behind holds nothing of the drawing
		for n := 10; n < end; n += 7 {
			d, err := pdf.Read(t.Context(), strings.NewReader(whole[:n]), pdf.Options{})
			if err == nil && codes(d)["truncated"] == 0 {
				t.Errorf("%s, %d of %d bytes: %d shapes, %v", name, n, len(whole), len(d.Shapes), codes(d))
			}
		}
		if got := codes(parse(t, whole, pdf.Options{})); len(got) > 0 {
			t.Errorf("%s, whole: %v", name, got)
		}
	}
}

// An operator without its numbers, and content that ends within one, are noted:
// a part of the drawing is not there.
func TestBrokenOperatorsAreNoted(t *testing.T) {
	const line = "0 0 m 9 9 l S "
	for content, want := range map[string]int{
		line:                               0,
		line + "(a) 1 2 BDC EMC q Q 1 w n": 0,
		line + "1 2 3 re S":                1,
		line + "1 2 (3) 4 re S":            1,
		line + "1 0 0 1 5 cm " + line:      1,
		line + "1 /X 0 1 5 5 cm " + line:   1,
		line + "1 0 rg " + line:            1,
		line + "5 m 9 9 l S":               1,
		line + "1 2 3":                     1,
		line + "1 1 m 2 2 l":               1,
		line + "1 1 m 5 4x l 2 2 l S":      1,
	} {
		d := parse(t, onPage("", content), pdf.Options{})
		if got := codes(d)[string(drawing.ValueUnreadable)]; got != want {
			t.Errorf("%q: noted %d times, want %d: %v", content, got, want, codes(d))
		}
	}
}
