package view

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/drawing/hpgl"
	"knifedesk/geometry/drawing/svg"
	"knifedesk/geometry/toolpath"
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

// AllPasses stands for every pass of a load.
const AllPasses = 0

// ErrAsked says that a question has to be answered before there are files.
var ErrAsked = errors.New("view: a question about the machine is open")

// WriteLoad writes one load, numbered from 1, as a file to cut from: true size
// in mm, one layer a pass in the order of the passes, each stroke the way it is
// run, in dashes where it is a perforation, with its repeats. What the machine
// does not make up for by itself is in the file: the lines are then those of the
// holder's axis, with lead-ins and overcut. A pass, numbered from 1, stands in a
// file of its own with the same page and origin; AllPasses writes all.
//
// It fails where there is no such load, pass or format, where a coordinate does
// not fit the format, with ErrAsked, and with the errors of w and ctx.
func (v *Results) WriteLoad(ctx context.Context, w io.Writer, load, pass int, format Format) error {
	if v.Passes == nil || load < 1 || load > len(v.Passes.Loads) {
		return fmt.Errorf("view: there is no load %d", load)
	}
	if pass < AllPasses || pass > len(v.Passes.Loads[load-1].Passes) {
		return fmt.Errorf("view: load %d has no pass %d", load, pass)
	}
	if len(v.Passes.Questions) > 0 {
		return ErrAsked
	}
	var failed error
	err := budget.Run(ctx, func(b *budget.Budget) { failed = v.writeLoad(b, stoppable{w, b}, load, pass, format) })
	return cmp.Or(err, failed)
}

func (v *Results) writeLoad(b *budget.Budget, w io.Writer, load, pass int, format Format) error {
	all := chosenPasses(v.Passes.Loads[load-1].Passes, pass)
	onto, sheet := v.Passes.Axes.Onto(v.Layout.Loads[load-1].WidthMM, v.Layout.Loads[load-1].LengthMM)
	sent := v.Passes.Sent()
	arcs := v.Passes.Arcs && sent.Similar()
	chosen := make([]layer, len(all))
	for i := range all {
		chosen[i].pass = &all[i]
	}
	moves := v.Passes.Moves(b, passes.Excerpt{Load: load - 1, Pass: pass, InFile: true, Onto: onto}, v.Weeding.Strokes, v.Layout)
	title := fmt.Sprintf("Load %d, %s", load, Carried(all))
	switch format {
	case DXF:
		lower(chosen, sent, moves)
		layers := make([]dxf.Layer, len(chosen))
		for i, l := range chosen {
			ink := passInk(l.pass.Operation)
			layers[i] = dxf.Layer{Name: v.layerName(l.pass), Colour: &ink, Paths: l.paths}
		}
		return dxf.WriteSheet(w, dxf.Millimetres, dxf.Sheet{Box: sheet, Comment: title}, layers...)
	case SVG: // whose page begins at its corner
		lower(chosen, sent.Then(geometry.Translate(-sheet.Min.X, -sheet.Min.Y)), moves)
		doc := svg.Document{Title: title, Width: sheet.Width(), Height: sheet.Height()}
		for _, l := range chosen {
			doc.Layers = append(doc.Layers, svg.Layer{Name: v.layerName(l.pass), Colour: passInk(l.pass.Operation), Paths: l.paths})
		}
		return svg.Write(w, doc)
	case Plt:
		lowerOnUnits(b, chosen, sent, arcs, moves)
		pens := make([]hpgl.Pen, len(chosen))
		for i, l := range chosen {
			pens[i] = hpgl.Pen{Number: l.pass.Number, SpeedMMS: l.pass.Setting.SpeedMMS, Force: l.pass.ForceSteps, Arcs: arcs, Paths: l.paths}
		}
		return hpgl.Write(w, hpgl.Page(sheet), pens)
	}
	return fmt.Errorf("view: there is no format %q", format)
}

// layer is a pass with the lines that a file holds for it.
type layer struct {
	pass  *passes.Pass
	paths []geometry.Path
}

// add appends a line as the machine is sent along it.
func (l *layer) add(line geometry.Path, sent geometry.Affine) {
	if sent != geometry.Identity {
		line = line.Transform(sent)
	}
	l.paths = append(l.paths, line)
}

// chosenPasses returns one pass, or all.
func chosenPasses(all []passes.Pass, pass int) []passes.Pass {
	if pass == AllPasses {
		return all
	}
	return all[pass-1 : pass]
}

// lower fills in what a file holds, in order: a line from each lowering of the tool
// to its lifting, by where the machine is sent for it.
func lower(all []layer, sent geometry.Affine, moves iter.Seq[toolpath.Move]) {
	var line geometry.Path
	for m := range moves {
		switch {
		case m.Kind == toolpath.Lower:
			line = geometry.Path{Start: m.From}
		case m.Kind.Down():
			line.Segments = append(line.Segments, m.Axis)
		case m.Kind == toolpath.Lift:
			line.Closed = len(line.Segments) > 1 && line.End() == line.Start
			all[m.Pass].add(line, sent)
		}
	}
}

// lowerOnUnits is the same on the points of a plotter, chosen for the tip: they lie where
// the machine comes to for whole units.
func lowerOnUnits(b *budget.Budget, all []layer, sent geometry.Affine, arcs bool, moves iter.Seq[toolpath.Move]) {
	unit := geometry.Pt(1/(hpgl.UnitsPerMM*sent.A), 1/(hpgl.UnitsPerMM*sent.D))
	grid := toolpath.Grid{Step: unit, ChordMM: hpgl.ChordMM, Arcs: arcs}
	var line geometry.Path
	for m := range moves {
		switch {
		case m.Kind == toolpath.Change:
			grid.Change()
		case m.Kind == toolpath.Lower:
			line = geometry.Path{Start: grid.Lower(&m, all[m.Pass].pass.Rule.InFile().OffsetMM)}
		case m.Kind.Down():
			line.Segments = grid.Run(b, line.Segments, &m)
		case m.Kind == toolpath.Lift:
			all[m.Pass].add(line, sent)
		}
	}
}

// Carried says what of the knife's way is in a file of these passes: its offset,
// or nothing.
func Carried(all []passes.Pass) string {
	var offsets []string
	for _, p := range all {
		if d := p.Rule.InFile().OffsetMM; d > 0 && !slices.Contains(offsets, short(d)) {
			offsets = append(offsets, short(d))
		}
	}
	if len(offsets) == 0 {
		return "bare line"
	}
	return "offset " + strings.Join(offsets, " and ") + " mm in file"
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

// layerName names a pass in a file. In a test cut, where passes differ by what is set
// by hand, it says that too.
func (v *Results) layerName(p *passes.Pass) string {
	if !v.cells {
		return passName(p)
	}
	digits := strings.NewReplacer(".", "-")
	return fmt.Sprintf("%s_%sgf_%smm-s", passName(p), digits.Replace(short(p.Setting.ForceGF)), digits.Replace(short(p.Setting.SpeedMMS)))
}

func passName(p *passes.Pass) string {
	if p.Mark != nil {
		return fmt.Sprintf("%02d_test_mark", p.Number)
	}
	return fmt.Sprintf("%02d_%s", p.Number, p.Operation)
}

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
