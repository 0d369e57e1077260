package view

import (
	"cmp"
	"context"
	"fmt"
	"io"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/hpgl"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
)

// Format is a format of files to cut from.
type Format string

// The formats.
const (
	DXF Format = "dxf"
	SVG Format = "svg"
	Plt Format = "plt" // HP-GL/2
)

// WriteLoad writes one load, numbered from 1, as a file to cut from: true size
// in mm, one layer a pass in the order of the passes, each stroke the way it is
// run. It fails where there is no such load or format, where a coordinate does
// not fit the format, and with the errors of w and ctx.
func (v *Results) WriteLoad(ctx context.Context, w io.Writer, load int, format Format) error {
	if v.Passes == nil || load < 1 || load > len(v.Passes.Loads) {
		return fmt.Errorf("view: there is no load %d", load)
	}
	var failed error
	err := budget.Run(ctx, func(b *budget.Budget) { failed = v.writeLoad(b, stoppable{w, b}, load, format) })
	return cmp.Or(err, failed)
}

func (v *Results) writeLoad(b *budget.Budget, w io.Writer, load int, format Format) error {
	passes := v.Passes.Loads[load-1].Passes
	sheet := v.Layout.Loads[load-1]
	switch format {
	case DXF:
		layers := make([]dxf.Layer, len(passes))
		for i, p := range passes {
			ink := passInk(p.Operation)
			layers[i] = dxf.Layer{Name: passName(p), Colour: &ink, Paths: v.traces(b, p)}
		}
		return dxf.Write(w, dxf.Millimetres, layers...)
	case SVG:
		doc := svg.Document{Title: fmt.Sprintf("Load %d", load), Width: sheet.WidthMM, Height: sheet.LengthMM}
		for _, p := range passes {
			doc.Layers = append(doc.Layers, svg.Layer{Name: passName(p), Colour: passInk(p.Operation), Paths: v.traces(b, p)})
		}
		return svg.Write(w, doc)
	case Plt:
		pens := make([]hpgl.Pen, len(passes))
		for i, p := range passes {
			pens[i] = hpgl.Pen{Number: i + 1, SpeedMMS: p.Setting.SpeedMMS, Paths: v.traces(b, p)}
		}
		return hpgl.Write(w, pens)
	}
	return fmt.Errorf("view: there is no format %q", format)
}

// stoppable takes a step for each byte that is written, so that what writes a
// large file stops with the budget.
type stoppable struct {
	io.Writer
	b *budget.Budget
}

// Write writes p after its steps are taken.
func (w stoppable) Write(p []byte) (int, error) {
	w.b.Spend(len(p))
	return w.Writer.Write(p)
}

// traces returns the lines of a pass in load coordinates, in their order.
func (v *Results) traces(b *budget.Budget, p passes.Pass) []geometry.Path {
	paths := make([]geometry.Path, len(p.Runs))
	for i, r := range p.Runs {
		paths[i] = passes.Trace(r, v.Weeding.Strokes, v.Layout)
		b.Spend(1 + len(paths[i].Segments))
	}
	return paths
}

func passName(p passes.Pass) string { return fmt.Sprintf("%02d_%s", p.Number, p.Operation) }

// passInk tells the passes apart on a screen; their names say what they are.
func passInk(op artwork.Operation) drawing.Colour {
	switch op {
	case artwork.Pen:
		return drawing.Colour{R: 0x6d, G: 0x74, B: 0x82}
	case artwork.Score:
		return drawing.Colour{R: 0xb0, G: 0x6a, B: 0x12}
	case artwork.Perforate:
		return drawing.Colour{R: 0x7d, G: 0x5a, B: 0x96}
	case artwork.KissCut:
		return drawing.Colour{R: 0x1f, G: 0x5f, B: 0x74}
	case artwork.ThroughCut:
		return drawing.Colour{R: 0x16, G: 0x20, B: 0x3f}
	}
	return drawing.Colour{}
}
