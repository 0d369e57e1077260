package view

import (
	"context"
	"fmt"
	"io"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view/picture"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// TestCut is a test cut with what it is for.
type TestCut struct {
	*testcut.Sheet
	Next     trial.Next
	Setting  workshop.Setting
	Stock    workshop.Stock
	Machine  workshop.Machine
	Standing trial.Standing
	Link     string // where its marks are told, for the square code; empty: no code
}

func (t *TestCut) results() *Results {
	return &Results{Weeding: &weeding.Map{Strokes: t.Strokes}, Layout: t.Layout, Passes: t.Passes, cells: true}
}

// Write writes the file to cut from, as WriteLoad writes those of plans: one layer or
// pen a cell, named by its force and speed.
func (t *TestCut) Write(ctx context.Context, w io.Writer, format Format) error {
	return t.results().WriteLoad(ctx, w, 1, AllPasses, format)
}

// FileName is the name under which the file is kept.
func (t *TestCut) FileName(format Format) string {
	carried := t.results().FileName(1, AllPasses, format)
	return fmt.Sprintf("test-cut-%s-sheet-%d%s", t.Setting.ID, t.Next.Number, carried[len("load-1"):])
}

// Picture draws it with the numbers of the cells.
func (t *TestCut) Picture(ctx context.Context) (*figure.Picture, error) {
	return picture.TestCut(ctx, t.Sheet, "Test cut", t.about())
}

// about says what is tested in one line.
func (t *TestCut) about() string {
	return fmt.Sprintf("sheet %d, %s: %s on %s, %s", t.Next.Number, t.aim(), t.Setting.Operation.Words(), t.Stock.Name, t.Machine.Name)
}

// aim says what the sheet is to find out.
func (t *TestCut) aim() string {
	switch t.Next.Aim {
	case trial.Speed:
		return "the speed at one force"
	case trial.Again:
		return "one cell again"
	}
	return "the force at one speed"
}

// Layer names the layer of a cell in DXF and SVG.
func (t *TestCut) Layer(c testcut.Cell) string {
	return t.results().layerName(&t.Passes.Loads[0].Passes[c.Pass-1])
}

// Looks says what a cell looks like that is good, too light and too deep.
func (t *TestCut) Looks() (good, light, deep string) {
	return looks(t.Setting.Operation, t.Stock.Liner)
}
