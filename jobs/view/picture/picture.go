// Package picture draws pictures of the stages: size, artwork, weeding, layout
// and passes, and the drawing as it was read, as SVG and PNG from one list of
// figures.
//
// Everything is in true proportion with a scale bar in mm and a legend of what
// is in the picture. Nothing is told by colour alone: lines differ by dash or
// width, regions by hatch, marks by shape and number, so that a picture can be
// printed in grey. What is too small to be seen is left out, and the picture
// says so, so that it stays small whatever is drawn.
package picture

import (
	"knifedesk/geometry"
)

// Picture is a page of figures in pixels, x to the right and y down.
type Picture struct {
	Width, Height float64
	Title         string // for screen readers
	figures       []figure
	zone          zone          // of the figures drawn next
	clip          *geometry.Box // of the figures drawn next, nil: none
}

// zone says which part of the page a figure belongs to.
type zone string

const (
	zoneHead    zone = "head"
	zoneDrawing zone = "drawing" // in true proportion
	zoneMarks   zone = "marks"   // numbers, arrows and dimensions over it
	zoneScale   zone = "scale"
	zoneLegend  zone = "legend"
	zoneNotes   zone = "notes"
)

// style says how a figure is inked. Widths and dashes are in pixels.
type style struct {
	stroke  string // #rrggbb, empty: none
	width   float64
	dash    []float64
	fill    string // #rrggbb, empty: none
	opacity float64
}

// figure is a set of paths inked together, filled by the even-odd rule, or a
// line of text.
type figure struct {
	zone  zone
	clip  *geometry.Box
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

func (p *Picture) add(f figure) {
	f.zone, f.clip = p.zone, p.clip
	p.figures = append(p.figures, f)
}

func (p *Picture) draw(s style, paths ...geometry.Path) {
	if len(paths) > 0 {
		p.add(figure{paths: paths, style: s})
	}
}

func (p *Picture) line(s style, a, b geometry.Point) { p.draw(s, geometry.Polyline(a, b)) }

// cased draws lines over a broader one in the colour of the paper, so that
// they stand off from hatches.
func (p *Picture) cased(s style, paths ...geometry.Path) {
	p.draw(style{stroke: paper, width: s.width + 3}, paths...)
	p.draw(s, paths...)
}

func (p *Picture) write(at geometry.Point, size float64, a align, ink, text string) {
	p.add(figure{text: text, at: at, size: size, align: a, style: style{fill: ink}})
}

func (p *Picture) writeBold(at geometry.Point, size float64, a align, ink, text string) {
	p.add(figure{text: text, at: at, size: size, align: a, bold: true, style: style{fill: ink}})
}
