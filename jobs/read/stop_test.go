package read_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/read"
)

// A reading that nobody waits for any more ends soon: in the readers, in the
// making of findings and where shapes are cut off at their clips.
func TestStop(t *testing.T) {
	const rows = 30_000
	var layer dxf.Layer
	var shapes, content strings.Builder
	for i := range rows {
		y := float64(i)
		layer.Paths = append(layer.Paths, geometry.Polyline(geometry.Pt(0, y), geometry.Pt(90, y)))
		fmt.Fprintf(&shapes, `<path d="M0 %d h90v1"/>`, i%100)
		fmt.Fprintf(&content, "0 %d m 90 %d l S\n", i%100, i%100)
	}
	var lines bytes.Buffer
	if err := dxf.Write(&lines, dxf.Millimetres, layer); err != nil {
		t.Fatal(err)
	}
	clipped := `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm"><clipPath id="c"><circle cx="50" cy="50" r="40"/></clipPath>` +
		`<g clip-path="url(#c)" stroke="#007c91" fill="none">` + shapes.String() + `</g></svg>`
	paged := fmt.Sprintf("%%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"+
		"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 400 400]/Contents 4 0 R>>endobj\n"+
		"4 0 obj<</Length %d>>stream\n%s\nendstream endobj\ntrailer<</Root 1 0 R>>\n%%%%EOF\n", content.Len(), content.String())
	for name, tt := range map[string]struct {
		file string
		req  read.Request
	}{
		"dxf":              {file: lines.String()},
		"svg":              {file: clipped},
		"pdf":              {file: paged},
		"cut off at clips": {clipped, read.Request{Replies: ask.Replies{"read/clip_path_used": {Answer: "visible"}}}},
	} {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error {
				r, err := read.Drawing(ctx, []byte(tt.file), tt.req)
				if err == nil && len(r.Shapes) == 0 {
					t.Errorf("nothing was read: %+v", r.Findings)
				}
				return err
			})
		})
	}
}
