package svg_test

import (
	"context"
	"fmt"
	"os"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
)

func ExampleRead() {
	d, err := svg.Read(context.Background(), strings.NewReader(`
		<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50">
			<style>#Score * { stroke: blue }</style>
			<g id="Cut" stroke="red" fill="none"><rect x="10" y="10" width="80" height="30"/></g>
			<g id="Score"><line x1="50" x2="50" y1="10" y2="40"/></g>
			<text x="20" y="20">A</text>
		</svg>`), svg.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range d.Shapes {
		b := s.Bounds()
		fmt.Printf("%s %s: %.1f by %.1f mm\n", s.Layer, s.Stroke, b.Width()*d.Unit.MM, b.Height()*d.Unit.MM)
	}
	for _, f := range d.Notes {
		fmt.Println(f.Count, f.Code)
	}
	// Output:
	// Cut #ff0000: 80.0 by 30.0 mm
	// Score #0000ff: 0.0 by 30.0 mm
	// 1 live_text
}

func ExampleWrite() {
	err := svg.Write(os.Stdout, svg.Document{
		Width: 60, Height: 40,
		Layers: []svg.Layer{{
			Name: "Cut", Colour: drawing.Colour{R: 255},
			Paths: []geometry.Path{geometry.Box{Min: geometry.Pt(5, 5), Max: geometry.Pt(55, 15)}.Path()},
		}},
	})
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// <svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="60mm" height="40mm" viewBox="0 0 60 40">
	// <g id="Cut" fill="none" stroke="#ff0000" stroke-width="0.1">
	// <path d="M5 35L55 35L55 25L5 25L5 35Z"/>
	// </g>
	// </svg>
}
