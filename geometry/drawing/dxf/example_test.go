package dxf_test

import (
	"bytes"
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
)

// A label with a hole, written as the file to cut from and read again.
func Example() {
	label := geometry.Polygon(geometry.Pt(0, 0), geometry.Pt(90, 0), geometry.Pt(90, 55), geometry.Pt(0, 55))
	hole := geometry.Circle(geometry.Pt(10, 27.5), 3)
	var file bytes.Buffer
	cut := dxf.Layer{Name: "CUT", Colour: drawing.RGB(200, 0, 60), Paths: []geometry.Path{hole, label}}
	if err := dxf.Write(&file, dxf.Millimetres, cut); err != nil {
		fmt.Println(err)
		return
	}
	d, err := dxf.Read(context.Background(), &file, dxf.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.Unit.Name, d.Unit.Source)
	for _, s := range d.Shapes {
		fmt.Printf("%s on %s %s: %.2f long\n", s.Source.Kind, s.Layer, s.Stroke, s.Paths[0].Length())
	}
	// Output:
	// mm $INSUNITS 4
	// LWPOLYLINE on CUT #c8003c: 18.85 long
	// LWPOLYLINE on CUT #c8003c: 290.00 long
}
