package read_test

import (
	"fmt"
	"strings"
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
)

// Drawings of 100,000 segments, the most that the acceptance of the whole
// computation promises, are read whole in each format, be each segment a shape
// in PDF also where all are one path.
func TestLargeDrawingsAreReadWhole(t *testing.T) {
	const many = 100_000
	list := func(format string) string {
		var b strings.Builder
		for i := range many {
			fmt.Fprintf(&b, format, i%500, i/500)
		}
		return b.String()
	}
	page := func(content string) string {
		const head = "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n3 0 obj\n<</Type/Page/MediaBox[0 0 600 600]/Contents 4 0 R>>\nendobj\n4 0 obj\n"
		return head + deflated("", content, 1) + "\nendobj\ntrailer<</Root 1 0 R/Size 9>>\nstartxref\n9\n%%EOF"
	}
	const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="600mm">`
	const dxf, end = "0\nSECTION\n2\nENTITIES\n", "0\nENDSEC\n0\nEOF\n"
	for name, file := range map[string]string{
		"pdf, many paths": page(list("%[1]d %[2]d m 1 1 l S\n")),
		"pdf, one path":   page("0 0 m " + list("%d %d l\n") + "S"),
		"svg, many lines": svg + list(`<line stroke="red" x2="1" y2="1" x1="%d" y1="%d"/>`) + "</svg>",
		"dxf, many lines": dxf + list("0\nLINE\n8\n0\n10\n%d.5\n20\n%d.5\n11\n1\n21\n1\n") + end,
	} {
		res, err := read.Drawing(t.Context(), []byte(file), read.Request{})
		if err != nil {
			t.Fatal(err)
		}
		segments := 0
		for _, s := range res.Shapes {
			for _, p := range s.Paths {
				segments += len(p.Segments)
			}
		}
		if segments < many-1 || segments > many {
			t.Errorf("%s: %d segments", name, segments)
		}
		for _, f := range res.Findings {
			if f.Code == finding.LimitReached {
				t.Errorf("%s: stopped at a limit", name)
			}
		}
	}
}
