package read_test

import (
	"bytes"
	"compress/gzip"
	"compress/zlib"
	"fmt"
	"io"
	"strings"
)

// greedy are small files that ask for much memory.
func greedy() map[string]string {
	const catalog = "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n3 0 obj\n<</Type/Page/MediaBox[0 0 9 9]/Contents 4 0 R>>\nendobj\n"
	object := func(text string) string {
		return fmt.Sprintf("%s4 0 obj\n%s\nendobj\ntrailer<</Root 1 0 R/Size 9>>\nstartxref\n9\n%%%%EOF", catalog, text)
	}
	table := func(dict, data string, n int) string {
		return fmt.Sprintf("%s4 0 obj\n[]\nendobj\n5 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF", catalog, deflated("/Type/XRef/Root 1 0 R"+dict, data, n), len(catalog)+len("4 0 obj\n[]\nendobj\n"))
	}
	const svg = `<svg xmlns="http://www.w3.org/2000/svg">`
	uses := svg + `<path id="x0" d="M0 0h9v9z"/>`
	for i := range 12 {
		uses += fmt.Sprintf(`<g id="x%d">%s</g>`, i+1, strings.Repeat(fmt.Sprintf(`<use href="#x%d"/>`, i), 10))
	}
	return map[string]string{
		"pdf: open arrays":              object(strings.Repeat("[", 120)),
		"pdf: many open arrays":         object(strings.Repeat("[", 900_000)),
		"pdf: arrays in an array":       object("[" + strings.Repeat("[]", 450_000) + "]"),
		"pdf: open dictionaries":        object(strings.Repeat("<</A", 200_000)),
		"pdf: entries at one array":     table("/Size 900000/W[1 1 1]", "\x01\xd0\x00", 900_000),
		"pdf: an endless index":         table("/Size 1000000000/W[1 2 1]/Index[0 1000000000]", "\x00", 100),
		"pdf: many indexes":             table("/Size 900000/W[0 1 0]/Index["+strings.Repeat("0 300000 ", 300)+"]", "\x00", 9_000_000),
		"pdf: wide entries":             table("/Size 9/W[1000000000 1000000000 1]", "\x00", 100),
		"pdf: a predictor's columns":    object(deflated("/DecodeParms<</Predictor 12/Columns 1000000000/Colors 32/BitsPerComponent 16>>", "\x02", 1000)),
		"pdf: an object stream's count": object(deflated("/Type/ObjStm/N 1000000000/First 1000000000", "5 0 ", 1000)),
		"pdf: objects in one place":     object(deflated("/Type/ObjStm/N 300000/First 2400000", "5 0 ", 600_000)),
		"pdf: an array in a stream":     object(deflated("/Type/ObjStm/N 1/First 4", "5 0 "+strings.Repeat("[] ", 1000), 3000)),
		"pdf: packed names":             object(deflated("/Type/ObjStm/N 1/First 4", "5 0 ["+strings.Repeat("/A ", 1000), 10_000)),
		"pdf: many paths":               object(deflated("", "0 0 m 9 9 l S\n", 1_000_000)),
		"pdf: many filled paths":        object(deflated("", "0 0 1 2 re B ", 500_000)),
		"pdf: many clips":               object(deflated("", "q 0 0 9 9 re W n 1 1 m 2 2 l S Q ", 300_000)),
		"pdf: many filters":             object("<</Filter[" + strings.Repeat("/FlateDecode", 70_000) + "]/Length 9>>\nstream\n123456789\nendstream"),
		"svg: deep groups":              svg + strings.Repeat("<g>", 300_000),
		"svg: one attribute":            svg + `<path d="` + strings.Repeat("M0 0h9", 160_000) + `"/></svg>`,
		"svg: one style":                svg + `<path style="` + strings.Repeat("fill:red;", 100_000) + `"/></svg>`,
		"svg: copies of copies":         uses + `<use href="#x12"/></svg>`,
		"svg: packed shapes":            zipped(svg + strings.Repeat(`<path d="M0 0h9"/>`, 390_000) + "</svg>"),
		"svg: packed segments":          zipped(svg + `<path d="` + strings.Repeat("M0 0h9", 999_000) + `"/></svg>`),
		"dxf: nested arrays":            blocks("LINE 8=0 10=0 20=0 11=1 21=1", "70=100 71=100"),
		"dxf: nested arrays of curves":  blocks("CIRCLE 8=0 10=0 20=0 40=3", "41=2 42=3 70=100 71=100"),
		"dxf: an insert of inserts":     "0\nSECTION\n2\nENTITIES\n" + strings.Repeat("0\nINSERT\n2\nA\n70\n32000\n71\n32000\n", 20_000),
		"dxf: vertices":                 "0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n90\n2000000000\n" + strings.Repeat("10\n1\n20\n2\n", 90_000),
		"dxf: a spline":                 "0\nSECTION\n2\nENTITIES\n0\nSPLINE\n71\n2000000000\n72\n2000000000\n73\n2000000000\n" + strings.Repeat("40\n1\n", 180_000),
	}
}

// blocks is a DXF whose block B holds an array of block A, which holds an
// entity, and is drawn as an array itself. Each word is a group, code=value, or
// a name of code 0; array ends an INSERT.
func blocks(entity, array string) string {
	const at = " 8=0 10=0 20=0 44=1 45=1 "
	var b strings.Builder
	for word := range strings.FieldsSeq("SECTION 2=BLOCKS BLOCK 2=A " + entity + " ENDBLK BLOCK 2=B INSERT 2=A" + at + array +
		" ENDBLK ENDSEC SECTION 2=ENTITIES INSERT 2=B" + at + array + " ENDSEC EOF") {
		code, value, is := strings.Cut(word, "=")
		if !is {
			code, value = "0", word
		}
		b.WriteString(code + "\n" + value + "\n")
	}
	return b.String()
}

// zipped packs a file with gzip.
func zipped(text string) string {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, _ = io.WriteString(z, text) // a buffer takes all
	_ = z.Close()
	return b.String()
}

// deflated is a stream of n times data.
func deflated(dict, data string, n int) string {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	for range n {
		_, _ = z.Write([]byte(data)) // a buffer takes all
	}
	_ = z.Close()
	return fmt.Sprintf("<<%s/Filter/FlateDecode/Length %d>>\nstream\n%s\nendstream", dict, b.Len(), b.String())
}
