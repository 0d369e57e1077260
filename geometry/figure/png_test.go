package figure_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// plate is a page that shows a plate with a hatched hole.
func plate() *figure.Page {
	outline := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(80, 40))
	p := figure.New(nil, figure.Screen(0), "Plate", "80 × 40 mm")
	p.Open(outline, figure.Inset{Dimensions: true})
	p.Show(figure.Style{Stroke: figure.Ink, Width: 1.5, Dash: []float64{5, 4}}, outline.Path())
	hole := p.Project([]geometry.Path{geometry.Circle(geometry.Pt(30, 20), 8)})
	p.Fill(figure.Pattern{Tint: "#fbe9c9", Deg: 45, Gap: 6, Line: figure.Style{Stroke: figure.Faint, Width: 1}}, hole)
	p.Dimensions(p.OnPage(outline), p.OnPage(outline), "80 mm", "40 mm")
	p.ScaleBar()
	p.Legend("an outline", p.LineSwatch(figure.Style{Stroke: figure.Ink, Width: 1.5}))
	return p
}

func decode(t *testing.T, data []byte) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func TestPNGIsBounded(t *testing.T) {
	p := plate().Finish()
	for _, scale := range []float64{0, -1, 1e4, math.NaN(), math.Inf(1)} {
		if _, err := p.PNG(t.Context(), scale); err == nil {
			t.Errorf("scale %g is drawn", scale)
		}
	}
	limit := math.Sqrt(figure.MaxPixels / (p.Width * p.Height))
	if _, err := p.PNG(t.Context(), 1.01*limit); err == nil {
		t.Error("one per cent above MaxPixels is drawn")
	}
	// Up to the bound a picture is drawn as large as is wanted, and a higher one as large as can be.
	if got := p.ScaleUpTo(0.5); got != 0.5 {
		t.Errorf("scale %g, want 0.5", got)
	}
	for _, high := range []float64{3e4, 3.3e4, 1e6, 1e7} {
		tall := figure.Picture{Width: 1000, Height: high}
		scale := tall.ScaleUpTo(1.5)
		if pixels := math.Ceil(1000*scale) * math.Ceil(high*scale); pixels > figure.MaxPixels || pixels < 0.98*figure.MaxPixels {
			t.Errorf("%g high: %g pixels", high, pixels)
		}
	}
	data, err := p.PNG(t.Context(), 0.5)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := decode(t, data).Bounds().Size(), image.Pt(int(p.Width/2), int(math.Ceil(p.Height/2))); got != want {
		t.Errorf("half the size is %v, want %v", got, want)
	}
}
