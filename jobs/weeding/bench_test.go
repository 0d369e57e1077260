package weeding_test

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// page sets lettering of about the given number of line segments, once it is
// flattened.
func page(t testing.TB, segments int) *artwork.Artwork {
	f := newFace(t, goregular.TTF, 20)
	const text = "Salt and signal at Orrin Point, tide tables 0123456789"
	var lines []string
	for n := 0; n < segments; n = len(flat(f.lettering(t, "", lines...).Strokes)) {
		more := max(1, len(lines)*(segments-n)/max(n, 1)*9/10)
		for range more {
			lines = append(lines, text[len(lines)%9:]+strings.Repeat(".", len(lines)%3))
		}
	}
	return f.lettering(t, "", lines...)
}

// BenchmarkChart runs the whole job on lettering. The bar of the design is
// 50 ms for 5,000 segments and 1.5 s for 100,000.
func BenchmarkChart(b *testing.B) {
	for _, n := range []int{1_000, 5_000, 20_000, 100_000} {
		a := page(b, n)
		req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
		b.Run(fmt.Sprintf("segments=%d", len(flat(a.Strokes))), func(b *testing.B) {
			before := cost.Spent()
			for b.Loop() {
				if _, err := weeding.Chart(b.Context(), a, req); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((cost.Spent()-before).Milliseconds())/float64(b.N), "cpu-ms/op")
		})
	}
}
