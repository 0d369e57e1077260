package local_test

import (
	"bytes"
	"fmt"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/jobs/plan"
)

// Stocks of the example workshop. A frame, where one is drawn, has the size of
// the sheet; the roll has none.
var (
	onCard          = plan.Choices{Stock: "card-220-a4"}
	onLightCard     = plan.Choices{Stock: "card-160-a4"}
	onFilm          = plan.Choices{Stock: "film-removable-610"}
	onHeat          = plan.Choices{Stock: "film-heat-500"}
	onStencilPieces = plan.Choices{Stock: "stencil-a3", Purpose: "pieces"}
	onStencil       = plan.Choices{Stock: "stencil-a3"}
)

// page is an SVG file of a page of 180 × 180 mm, y down; body is all of it.
func page(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="180mm" viewBox="0 0 180 180">` + body + `</svg>`
}

// sheet is a page on which body is on the layer for cutting, drawn as hairlines.
func sheet(body string) string {
	return page(`<g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1">` + body + `</g>`)
}

// cutting is a sheet of one path for each path data.
func cutting(data ...string) string {
	var b strings.Builder
	for _, d := range data {
		fmt.Fprintf(&b, `<path d="%s"/>`, d)
	}
	return sheet(b.String())
}

// onLayer is a group on a layer of its own, in a colour.
func onLayer(name, colour, data string) string {
	return fmt.Sprintf(`<g id="%s" fill="none" stroke="%s" stroke-width="0.1"><path d="%s"/></g>`, name, colour, data)
}

// groups writes "LINE 8=CUT 10=0" as the groups 0 LINE, 8 CUT, 10 0 of a DXF
// file.
func groups(text string) string {
	var b strings.Builder
	for _, word := range strings.Fields(text) {
		code, value, ok := strings.Cut(word, "=")
		if !ok {
			code, value = "0", word
		}
		fmt.Fprintf(&b, "%s\n%s\n", code, value)
	}
	return b.String()
}

// entities is a DXF file in mm of these entities, with layers that are off,
// frozen and locked, and with blocks.
func entities(text string) string {
	const layers = " TABLE 2=LAYER LAYER 2=CUT 70=0 62=4 LAYER 2=OFF 70=0 62=-4 LAYER 2=ICE 70=1 62=4 LAYER 2=KEY 70=4 62=4 ENDTAB"
	const blocks = " BLOCK 2=PART 70=0 10=0 20=0 " + square + " ENDBLK" +
		" BLOCK 2=OUTSIDE 70=4 10=0 20=0 1=other.dxf ENDBLK" +
		" BLOCK 2=ITSELF 70=0 10=0 20=0 INSERT 8=CUT 2=ITSELF 10=1 20=1 ENDBLK"
	return groups("SECTION 2=HEADER 9=$ACADVER 1=AC1015 9=$INSUNITS 70=4 ENDSEC SECTION 2=TABLES" + layers +
		" ENDSEC SECTION 2=BLOCKS" + blocks + " ENDSEC SECTION 2=ENTITIES " + text + " ENDSEC EOF")
}

// square is 20 × 20 mm on the layer for cutting.
const square = "LWPOLYLINE 8=CUT 90=4 70=1 10=0 20=0 10=20 20=0 10=20 20=20 10=0 20=20 "

// layer is a layer of a DXF file as path data, y up.
type layer struct{ name, data string }

// drawn writes layers as a DXF file in the unit, all numbers times sx and sy.
func drawn(unit dxf.Units, sx, sy float64, layers ...layer) string {
	var b bytes.Buffer
	all := make([]dxf.Layer, len(layers))
	for i, l := range layers {
		ps, err := geometry.ParsePathData(l.data)
		if err != nil {
			panic(err) // of a drawing written in this file
		}
		all[i] = dxf.Layer{Name: l.name, Colour: &drawing.Colour{R: 0x00, G: 0x7c, B: 0x91}, Paths: scaled(ps, sx, sy)}
	}
	if err := dxf.Write(&b, unit, all...); err != nil {
		panic(err)
	}
	return b.String()
}
