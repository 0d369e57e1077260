// Package preview draws pictures of the stages: size, artwork, weeding, layout
// and passes, as SVG and PNG from one list of figures.
//
// Everything is in true proportion with a scale bar in mm and a legend.
// Nothing is told by colour alone: operations also differ by dash, regions by
// hatch and number.
package preview

import (
	"knifedesk/geometry"
)

// Picture is a page of figures in pixels, x to the right and y down.
type Picture struct {
	Width, Height float64
	Title         string // for screen readers
	figures       []figure
}

// style says how a figure is inked. Widths and dashes are in pixels.
type style struct {
	stroke  string // #rrggbb, empty: none
	width   float64
	dash    []float64
	fill    string // #rrggbb, empty: none
	opacity float64
}

// figure is a set of paths inked together, or a line of text.
type figure struct {
	paths []geometry.Path
	style style
	text  string
	at    geometry.Point // baseline of the text
	size  float64
	bold  bool
	align align
}

type align uint8

const (
	left align = iota
	middle
	right
)

func (p *Picture) draw(s style, paths ...geometry.Path) {
	if len(paths) > 0 {
		p.figures = append(p.figures, figure{paths: paths, style: s})
	}
}

func (p *Picture) line(s style, a, b geometry.Point) { p.draw(s, geometry.Polyline(a, b)) }

func (p *Picture) write(at geometry.Point, size float64, a align, ink, text string) {
	p.figures = append(p.figures, figure{text: text, at: at, size: size, align: a, style: style{fill: ink}})
}

func (p *Picture) writeBold(at geometry.Point, size float64, a align, ink, text string) {
	p.figures = append(p.figures, figure{text: text, at: at, size: size, align: a, bold: true, style: style{fill: ink}})
}
