package svg_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
)

// Source: CSS Transforms 1, sections 4 to 9; SVG 2, chapters 5 and 8. Each box is worked out by hand in px with y down.
func TestPlaces(t *testing.T) {
	const rect = `width="10" height="20"`
	box := func(x0, y0, x1, y1 float64) geometry.Box {
		return geometry.BoxAround(geometry.Pt(x0, y0), geometry.Pt(x1, y1))
	}
	for _, tt := range []struct {
		name, content string
		want          geometry.Box
	}{
		{"translate", `<rect ` + rect + ` transform="translate(5)"/>`, box(5, 0, 15, 20)},
		{"a list, first outermost", `<rect ` + rect + ` transform="translate(5 6),scale(2,3)"/>`, box(5, 6, 25, 66)},
		{"rotate about a point", `<rect ` + rect + ` transform="rotate(90 10 10)"/>`, box(0, 0, 20, 10)},
		{"matrix", `<rect ` + rect + ` transform=" matrix( 0,1 -1 0 30 40 ) "/>`, box(10, 40, 30, 50)},
		{"skew", `<rect ` + rect + ` transform="skewX(45)"/>`, box(0, 0, 30, 20)},
		{"nested groups", `<g transform="scale(2)"><g transform="translate(1 2)"><rect ` + rect + `/></g></g>`, box(2, 4, 22, 44)},
		{"CSS units", `<rect ` + rect + ` style="transform:translate(1cm,0) rotate(.25turn)"/>`, box(96/2.54-20, 0, 96/2.54, 10)},
		{"CSS without units is invalid", `<rect ` + rect + ` style="transform:translate(5 6)"/>`, box(0, 0, 10, 20)},
		{"CSS percentages are of the view box", `<rect ` + rect + ` style="transform:translate(10%,20%)"/>`, box(10, 20, 20, 40)},
		{"a bad list is ignored whole", `<rect ` + rect + ` transform="translate(5) turn(3)"/>`, box(0, 0, 10, 20)},
		{"origin in px", `<rect ` + rect + ` transform="scale(2)" transform-origin="10 20"/>`, box(-10, -20, 10, 20)},
		{"origin of the view box", `<rect ` + rect + ` style="transform:scale(2);transform-origin:100% 50%"/>`, box(-100, -50, -80, -10)},
		{"origin of the shape", `<rect x="10" ` + rect + ` style="transform:scale(2);transform-origin:center;transform-box:fill-box"/>`, box(5, -10, 25, 30)},
		{"the shape's own corner, where no origin is given", `<rect x="10" y="5" ` + rect + ` style="transform:scale(2);transform-box:fill-box"/>`, box(10, 5, 30, 45)},
		{"origin of a group", `<g style="transform:scale(2);transform-origin:right bottom;transform-box:fill-box"><rect x="10" y="5" ` + rect + ` transform="translate(5)"/></g>`, box(5, -15, 25, 25)},
		{"use", `<defs><rect id="r" ` + rect + `/></defs><use href="#r" x="5" y="6" transform="scale(2)"/>`, box(10, 12, 30, 52)},
		{"use of a symbol fills the viewport", `<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s"/>`, box(0, 0, 100, 100)},
		{"use of a symbol with a size", `<symbol id="s" viewBox="0 0 10 20"><rect width="10" height="20"/></symbol><use href="#s" x="10" width="40" height="40"/>`, box(20, 0, 40, 40)},
		{"svg by use takes the size of use", `<defs><svg id="s" width="10" height="10" viewBox="0 0 1 1"><rect width="1" height="1"/></svg></defs><use href="#s" width="30" height="30"/>`, box(0, 0, 30, 30)},
		{"svg in svg", `<svg x="10" y="10" width="50%" height="20" viewBox="0 0 5 5" preserveAspectRatio="xMaxYMid"><rect width="5" height="5"/></svg>`, box(40, 10, 60, 30)},
		{"slice", `<svg width="40" height="20" viewBox="0 0 10 10" preserveAspectRatio="xMinYMin slice"><rect width="10" height="10"/></svg>`, box(0, 0, 40, 40)},
		{"stretched", `<svg width="40" height="20" viewBox="0 0 10 10" preserveAspectRatio="none"><rect width="10" height="10"/></svg>`, box(0, 0, 40, 20)},
		{"percentages of a view box", `<svg width="40" height="20" viewBox="0 0 10 5"><rect width="50%" height="40%"/></svg>`, box(0, 0, 20, 8)},
		{"size by style", `<rect style="width:1in;height:6pc;x:4pt" width="3"/>`, box(4*96.0/72, 0, 96+4*96.0/72, 96)},
		{"font units", `<g font-size="20"><rect width="2em" height="1ex"/></g>`, box(0, 0, 40, 10)},
		{"root font units", `<g font-size="20"><rect width="2rem" height="150%"/></g>`, box(0, 0, 32, 150)},
		{"path in a style sheet", `<path style="d:path('M1 2h3v4')"/>`, box(1, 2, 4, 6)},
		{"switch", `<switch><rect ` + rect + ` systemLanguage="de"/><rect x="5" ` + rect + ` systemLanguage="en-GB, fr"/><rect x="9" ` + rect + `/></switch>`, box(5, 0, 15, 20)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := read(t, in(tt.content), svg.Options{})
			got, _ := extent(d)
			if got.Min.Dist(tt.want.Min) > 1e-9 || got.Max.Dist(tt.want.Max) > 1e-9 {
				t.Errorf("box %v, want %v", got, tt.want)
			}
		})
	}
}

// Source: SVG 2, The initial viewport, and CSS 2.2, section 10.3.2: how the size of the
// outermost viewport follows from what is declared. y is up from its lower edge.
func TestPageAndUnit(t *testing.T) {
	for _, tt := range []struct {
		attrs    string
		page     geometry.Point // the zero point: none
		declared bool
		source   string
		top      float64 // of a rectangle from y 0 to 10 user units
	}{
		{`width="210mm" height="297mm" viewBox="0 0 210 297"`, geometry.Pt(210*96/25.4, 297*96/25.4), true, `width="210mm"`, 297 * 96 / 25.4},
		{`width="8.5in" height="100%" viewBox="0 0 17 22"`, geometry.Pt(816, 1056), true, `width="8.5in"`, 1056},
		{`height="10cm"`, geometry.Point{}, true, `height="10cm"`, 1000 / 2.54 * 0.96},
		{`width="400" height="300"`, geometry.Pt(400, 300), false, `width="400"`, 300},
		{`width="400px" height="300mm"`, geometry.Pt(400, 300*96/25.4), true, `height="300mm"`, 300 * 96 / 25.4},
		{`viewBox="0 0 40 30"`, geometry.Pt(40, 30), false, "no width", 30},
		{`width="100%" height="100%" viewBox="0 0 40 30"`, geometry.Pt(40, 30), false, "no width", 30}, // the window's size, as where nothing is said
		{`width="100vw" height="100vh" viewBox="0 0 40 30"`, geometry.Pt(40, 30), false, "no width", 30},
		{`width="80" viewBox="0 0 40 30"`, geometry.Pt(80, 60), false, `width="80"`, 60},
		{`style="width:40mm;height:30mm"`, geometry.Pt(40*96/25.4, 30*96/25.4), true, `width="40mm"`, 30 * 96 / 25.4},
		{`width="-5" height="0" viewBox="0 0 40 30"`, geometry.Pt(40, 30), false, "no width", 30},
		{``, geometry.Point{}, false, "no width", 0},
	} {
		d := read(t, `<svg xmlns="http://www.w3.org/2000/svg" `+tt.attrs+`><rect width="10" height="10"/></svg>`, svg.Options{})
		page := geometry.Point{}
		if d.Page != nil {
			page = d.Page.Max
		}
		if page.Dist(tt.page) > 1e-9 || d.Unit.Declared != tt.declared || d.Unit.Source != tt.source || d.Unit.MM != 25.4/96 {
			t.Errorf("%s: page %v, unit %+v", tt.attrs, page, d.Unit)
		}
		if n := codes(d)[string(drawing.PercentUnresolved)]; n != 0 {
			t.Errorf("%s: a percentage of nothing is noted", tt.attrs)
		}
		if got := d.Bounds().Max.Y; got-tt.top > 1e-9 || tt.top-got > 1e-9 {
			t.Errorf("%s: top %v, want %v", tt.attrs, got, tt.top)
		}
	}
}

func TestLayersAndScales(t *testing.T) {
	const p = `<path d="M0 0h9" stroke="red"/>`
	for _, tt := range []struct {
		name, content, layer string
		nested               float64
		mirrored             bool
	}{
		{"none", p, "", 1, false},
		{"an id", `<g id="Cut">` + p + `</g>`, "Cut", 1, false},
		{"the nearest id", `<g id="Cut"><g id="inner">` + p + `</g></g>`, "inner", 1, false},
		{"an id that a program made up", `<g id="Cut"><g id="g12">` + p + `</g></g>`, "Cut", 1, false},
		{"nothing but made up ids", `<g id="g12">` + p + `</g>`, "g12", 1, false},
		{"a label beats an id", `<g xmlns:x="x" x:label="Cut lines" id="layer1"><g id="inner">` + p + `</g></g>`, "Cut lines", 1, false},
		{"a plain label", `<g data-name="Score 1" id="Score_1">` + p + `</g>`, "Score 1", 1, false},
		{"an id inside a reference", `<defs><g id="leaf">` + p + `</g></defs><g id="Cut"><use href="#leaf"/></g>`, "Cut", 1, false},
		{"scaled", `<g transform="scale(2 8)">` + p + `</g>`, "", 4, false},
		{"turned over", `<g transform="scale(-1 1)">` + p + `</g>`, "", 1, true},
		{"turned over twice", `<g transform="scale(-1 1)"><g transform="rotate(30) scale(1 -1)">` + p + `</g></g>`, "", 1, false},
		{"a view box inside", `<svg width="50" height="50" viewBox="0 0 10 10">` + p + `</svg>`, "", 5, false},
	} {
		s := read(t, in(tt.content), svg.Options{}).Shapes[0]
		if s.Layer != tt.layer || s.Mirrored != tt.mirrored || s.Nested-tt.nested > 1e-12 || tt.nested-s.Nested > 1e-12 {
			t.Errorf("%s: layer %q, nested %v, mirrored %v", tt.name, s.Layer, s.Nested, s.Mirrored)
		}
	}
}
