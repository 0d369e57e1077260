package lesson

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"strings"
)

// thin sets the width of lines.
const thin = "0.3 w "

// pdf is a PDF file of so many pages of 300 × 200 points with the same content.
func pdf(pages int, content string) string {
	content = thin + content + "\n"
	return pdfOf(pages, fmt.Sprintf("<</Length %d>>", len(content)), content, "")
}

// stamped is pdf with a stamp on its page.
func stamped(content string) string {
	const stamp = "6 0 obj\n<</Type/Annot/Subtype/Stamp/Rect[60 10 80 30]/AP<</N 7 0 R>>/F 4>>\nendobj\n" +
		"7 0 obj\n<</Type/XObject/Subtype/Form/BBox[0 0 20 20]/Length 13>>\nstream\n0 0 20 20 re S\nendstream\nendobj\n"
	content = thin + content + "\n"
	return pdfOf(1, fmt.Sprintf("<</Length %d>>", len(content)), content, stamp)
}

// packed is pdf with its content packed, without so many bytes at its end.
func packed(content string, missing int) string {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	fmt.Fprint(w, thin+content+"\n")
	w.Close()
	body := b.String()[:b.Len()-missing]
	return pdfOf(1, fmt.Sprintf("<</Filter/FlateDecode/Length %d>>", len(body)), body, "")
}

func pdfOf(pages int, head, body, more string) string {
	var b strings.Builder
	b.WriteString("%PDF-1.4\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n")
	kids := "3 0 R"
	for i := 1; i < pages; i++ {
		kids += fmt.Sprintf(" %d 0 R", 7+i)
		more += fmt.Sprintf("%d 0 obj\n<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 200]/Contents 4 0 R>>\nendobj\n", 7+i)
	}
	fmt.Fprintf(&b, "2 0 obj\n<</Type/Pages/Count %d/Kids[%s]>>\nendobj\n", pages, kids)
	annots := ""
	if strings.Contains(more, "/Annot") {
		annots = "/Annots[6 0 R]"
	}
	fmt.Fprintf(&b, "3 0 obj\n<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 200]/Contents 4 0 R%s>>\nendobj\n", annots)
	fmt.Fprintf(&b, "4 0 obj\n%s\nstream\n%s\nendstream\nendobj\n%s", head, body, more)
	b.WriteString("trailer\n<</Root 1 0 R>>\n%%EOF\n")
	return b.String()
}

// wrongLength makes a part of a file longer than it says.
func wrongLength(file string) string { return strings.Replace(file, "<</Length 2", "<</Length ", 1) }

// cutOff is a file without its end.
func cutOff(file, end string) string { return strings.TrimSuffix(file, end) }

// oldDXF is a DXF file that says that its letters are those of western Europe.
func oldDXF(entities string) string {
	return groups("SECTION 2=HEADER 9=$ACADVER 1=AC1015 9=$DWGCODEPAGE 3=ANSI_1252 9=$INSUNITS 70=4 ENDSEC SECTION 2=ENTITIES " + square + entities + " ENDSEC EOF")
}
