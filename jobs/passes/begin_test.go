package passes_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/glyph"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
)

// Beginning film away from corners costs at most 1 % of the motion on lettering, beside
// plans in which any vertex may be a start (the bound is the workshop's wish).
func TestSmoothStartsCostLittle(t *testing.T) {
	for name, data := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF} {
		face, err := glyph.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		var strokes []artwork.Stroke
		for row, text := range []string{"ABGJRSVag&58", "Hamburgefons", "Workshop 12"} {
			paths, _, err := face.Word(text, 20)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range paths {
				strokes = append(strokes, artwork.Stroke{Path: p.Transform(geometry.Translate(0, float64(30*row))), Operation: artwork.KissCut})
			}
		}
		j := oneLoad(t, strokes...)
		planned, anywhere, err := passes.MotionFromCorners(t.Context(), j.strokes, j.layout, j.req)
		if err != nil {
			t.Fatal(err)
		}
		over := 100 * (planned/anywhere - 1)
		t.Logf("%-8s %d contours: %.2f s, from any vertex %.2f s: %+.2f %%", name, len(strokes), planned, anywhere, over)
		if over > 1 {
			t.Errorf("%s: smooth starts cost %.2f %%", name, over)
		}
	}
}
