package figure_test

import (
	"context"
	"fmt"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
)

// A plate in true proportion, with its size, a scale bar and a legend.
func Example() {
	outline := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(80, 40))
	line := figure.Style{Stroke: figure.Ink, Width: 1.5}

	p := figure.New(nil, figure.Screen(0), "Plate", "80 × 40 mm")
	p.Open(outline, figure.Inset{Dimensions: true})
	p.Show(line, outline.Path())
	p.Dimensions(p.OnPage(outline), p.OnPage(outline), "80 mm", "40 mm")
	p.ScaleBar()
	p.Legend("an outline", p.LineSwatch(line))

	svg, err := p.Finish().SVG(context.Background())
	fmt.Println(strings.Split(string(svg), "\n")[1], err)
	fmt.Printf("%.2f pixels for a mm\n", p.Scale)
	// Output:
	// <title>Plate. 80 × 40 mm</title> <nil>
	// 10.05 pixels for a mm
}
