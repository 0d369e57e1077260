package meaning_test

import (
	"context"
	"maps"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/size"
)

// readSVG reads an SVG file in mm.
func readSVG(t *testing.T, text string) (*drawing.Drawing, *size.Result) {
	t.Helper()
	d, err := svg.Read(t.Context(), strings.NewReader(text), svg.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return d, &size.Result{Transform: geometry.Scale(d.Unit.MM, d.Unit.MM)}
}

// Whatever the lines, who stops the job does not wait for it.
func TestStops(t *testing.T) {
	files := lineBombs()
	maps.Copy(files, denseLines())
	files["wide edges"] = wideOutline(2000)
	files["too many wide edges"] = wideOutline(20_000)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		t.Run(name, func(t *testing.T) {
			d, s := readSVG(t, files[name])
			req := request(t, film)
			req.Replies = ask.Replies{"artwork/painted_edge": {Answer: "edge"}}
			stop.Check(t, func(ctx context.Context) error {
				_, err := meaning.Resolve(ctx, d, s, req)
				return err
			})
		})
	}
}
