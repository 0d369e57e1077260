package figure_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/cost"
)

// However many dashes and teeth there are, an image takes little more memory
// than its pixels: they are inked one after the other.
func TestMemory(t *testing.T) {
	cost.Unwatched(t)
	const most = 48 << 20
	dotted := figure.Style{Stroke: figure.Ink, Width: 1.9, Dash: []float64{1.5, 3.5}}
	for name, draw := range map[string]func() error{
		"dashes": func() error { return written(chords(3000), dotted, pngOf(0.5))(t.Context()) },
		"teeth": func() error {
			return written([]geometry.Path{comb(5000)}, figure.Style{Fill: figure.Ink}, pngOf(1))(t.Context())
		},
	} {
		var err error
		_, peak := cost.Of(func() { err = draw() })
		if err != nil || peak > most {
			t.Errorf("%s: %d MB, %v", name, peak>>20, err)
		}
		t.Logf("%s: %d MB", name, peak>>20)
	}
}
