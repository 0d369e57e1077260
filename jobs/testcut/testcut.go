// Package testcut lays the cells of a test cut on a sheet, as strokes and passes of
// which files, picture and worksheet are made like those of a plan.
package testcut

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// Request is what is tested, on what, and the cells to cut.
type Request struct {
	passes.Request
	Setting workshop.Setting // with its force and speed as each cell has them
	Cells   []trial.Cell
}

// Sheet is a test cut: one load of one copy, a pass a cell.
type Sheet struct {
	Strokes []artwork.Stroke
	Layout  *layout.Layout
	Passes  *passes.Plan
	Cells   []Cell
}

// Cell is one cell of a sheet.
type Cell struct {
	trial.Cell
	Pass int          // by which it is cut, from 1
	Box  geometry.Box // on the load, in mm
}

// SideMM is how large a piece of the stock a sheet takes, each way.
const SideMM = 130

// Make lays the cells, as many as are asked for, in rows of four, and plans their
// passes in their order. Bars to fold or tear are cut out last. It fails with the
// errors of passes.Order.
func Make(ctx context.Context, q Request) (*Sheet, error) {
	s := &Sheet{}
	var groups []passes.Group
	var outlines []int
	for i, c := range q.Cells {
		set := q.Setting
		set.ForceGF, set.SpeedMMS = c.ForceGF, c.SpeedMMS
		at := place(i)
		own, bar := shapes(set.Operation)
		groups = append(groups, passes.Group{Setting: set, Strokes: s.add(set.Operation, at, own)})
		outlines = append(outlines, s.add(artwork.ThroughCut, at, bar)...)
		box := geometry.EmptyBox()
		for _, p := range append(own, bar...) {
			box = box.Union(p.Transform(at).Bounds())
		}
		s.Cells = append(s.Cells, Cell{Cell: c, Pass: i + 1, Box: box})
	}
	marked := len(groups) / 2
	if cut, ok := passes.SettingFor(q.Settings, q.Stock, q.Machine, artwork.ThroughCut); ok && len(outlines) > 0 {
		marked = len(groups)
		groups = append(groups, passes.Group{Setting: cut, Strokes: outlines})
	} else {
		s.Strokes = s.without(outlines)
	}
	marks := s.add(groups[marked].Setting.Operation, geometry.Identity, marks())
	groups[marked].Strokes = append(groups[marked].Strokes, marks...)
	s.lay()
	var err error
	s.Passes, err = passes.OrderGroups(ctx, s.Strokes, s.Layout, q.Request, groups)
	return s, err
}

// add adds lines of an operation and returns their numbers.
func (s *Sheet) add(op artwork.Operation, at geometry.Affine, lines []geometry.Path) []int {
	var numbers []int
	for _, p := range lines {
		numbers = append(numbers, len(s.Strokes))
		s.Strokes = append(s.Strokes, artwork.Stroke{Path: p.Transform(at), Operation: op, Shape: -1})
	}
	return numbers
}

// without returns the strokes with some of them empty, so that the numbers of the
// others stay.
func (s *Sheet) without(numbers []int) []artwork.Stroke {
	for _, k := range numbers {
		s.Strokes[k].Path = geometry.Path{}
	}
	return s.Strokes
}

// lay lays the sheet as the one copy of a load.
func (s *Sheet) lay() {
	box := geometry.EmptyBox()
	for _, st := range s.Strokes {
		if !st.Path.Empty() {
			box = box.Union(st.Path.Bounds())
		}
	}
	s.Layout = &layout.Layout{Loads: []layout.Load{{
		Number: 1, WidthMM: SideMM, LengthMM: SideMM,
		Placements: []layout.Placement{{Copy: 1, Transform: geometry.Identity, Bounds: box}},
	}}}
}
