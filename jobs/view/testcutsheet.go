package view

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/view/picture"
)

// Worksheet writes the test cut as PDF, on one A4 page: what to set for each cell,
// boxes for what became of it, what a good one looks like, and what to measure. code
// is that of the sheet, by which it is reported. It fails with the errors of w and ctx.
func (t *TestCut) Worksheet(ctx context.Context, w io.Writer, code string) error {
	s := &pen{Fpdf: fpdf.New("P", "mm", "A4", ""), ctx: ctx}
	made := time.Unix(0, 0).UTC() // the same test cut gives the same bytes
	s.SetCreationDate(made)
	s.SetModificationDate(made)
	s.SetCatalogSort(true)
	s.SetTitle("Test cut "+t.Setting.ID, true)
	s.AddUTF8FontFromBytes("go", "", goregular.TTF)
	s.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	s.SetMargins(sheetMargin, sheetMargin, sheetMargin)
	s.SetAutoPageBreak(false, 0)
	s.SetCellMargin(0)
	s.AddPage()
	if err := t.sheetHead(s, code); err != nil {
		return err
	}
	t.sheetSet(s)
	t.sheetLook(s)
	s.y += 3
	small, err := picture.BenchTestCut(ctx, t.Sheet, testCutWidth, testCutWidth+7)
	if err != nil {
		return err
	}
	top := s.y
	if err := s.picture(small, sheetEndX-testCutWidth, top, testCutWidth+7); err != nil {
		return err
	}
	t.sheetMeasure(s, code)
	t.sheetCautions(s)
	return s.Output(w)
}

// testCutWidth is how wide the picture on the page is, in mm, with what is written beside.
const testCutWidth = 92.0

func (t *TestCut) sheetHead(s *pen, code string) error {
	s.y = sheetMargin
	width, right := column, sheetEndX
	if t.Link != "" {
		if err := s.code(sheetEndX-codeSide, sheetMargin, t.Link); err != nil {
			return err
		}
		right -= codeSide + 3
		width -= codeSide + 3
	}
	s.text(19, true)
	s.line(sheetMargin, width-22, 8.5, "Test cut: "+t.Setting.Operation.Words())
	s.text(13, true)
	s.line(sheetMargin, width, 6.5, legible(t.Stock.Name, t.Stock.ID))
	s.text(11, false)
	s.line(sheetMargin, width, 5.5, fmt.Sprintf("%s; sheet %d: %s", legible(t.Machine.Name, t.Machine.ID), t.Next.Number, t.aim()))
	for _, l := range t.Known() {
		s.line(sheetMargin, width, 5.5, l)
	}
	s.SetXY(right-20, sheetMargin)
	s.text(14, true)
	s.CellFormat(20, 6.5, code, "", 0, "R", false, 0, "")
	if t.Link != "" {
		s.y = max(s.y, sheetMargin+codeSide-1.5)
	}
	return nil
}

// columns of a cell, in mm from the left margin.
const (
	cellAt, cellForceAt, cellSpeedAt, cellLayerAt, cellBoxesAt, cellBoxesBy = 6, 16, 44, 76, 134, 18
	cellHeight                                                              = 8.4
)

// sheetSet lists the cells in the order in which they are cut.
func (t *TestCut) sheetSet(s *pen) {
	s.heading(column, "Load and cut")
	s.tick(column, fmt.Sprintf("A piece of %d × %d mm of the batch that is to be cut, held as usual, with the origin in its corner.", testcut.SideMM, testcut.SideMM))
	s.tick(column, "In the holder: "+t.Passes.Loads[0].Passes[0].Tool()+", "+fmt.Sprintf("%d×.", max(1, t.Setting.Passes)))
	if t.Machine.ForceStepGF > 0 {
		s.tick(column, "The HP-GL/2 file says the forces. With DXF or SVG set each by hand before its layer.")
	} else {
		s.tick(column, "No file says a force here: set each by hand before its layer or pen.")
	}
	s.y += 1
	s.text(smallSize, true)
	for _, c := range []struct {
		at   float64
		text string
	}{{cellAt, "cell"}, {cellForceAt, "force"}, {cellSpeedAt, "speed"}, {cellLayerAt, "layer or pen"},
		{cellBoxesAt, "good"}, {cellBoxesAt + cellBoxesBy, "too light"}, {cellBoxesAt + 2*cellBoxesBy, "too deep"}} {
		s.SetXY(sheetMargin+c.at, s.y)
		s.CellFormat(20, smallLine, c.text, "", 0, "L", false, 0, "")
	}
	s.y += smallLine + 0.6
	for i := range t.Cells {
		t.sheetCell(s, i)
	}
	if passes := t.Passes.Loads[0].Passes; len(passes) > len(t.Cells) {
		last := &passes[len(passes)-1]
		s.tick(column, fmt.Sprintf("Last, pass %d: the bars are cut out at %s gf, %s mm/s, %s.", last.Number, short(last.Setting.ForceGF), short(last.Setting.SpeedMMS), last.Tool()))
	}
}

func (t *TestCut) sheetCell(s *pen, i int) {
	c := t.Cells[i]
	pass := &t.Passes.Loads[0].Passes[c.Pass-1]
	write := func(at, size float64, bold bool, text string) {
		s.text(size, bold)
		s.SetXY(sheetMargin+at, s.y)
		s.CellFormat(20, cellHeight-1, text, "", 0, "L", false, 0, "")
	}
	write(cellAt, 15, true, fmt.Sprint(i+1))
	write(cellForceAt, 15, true, short(pass.Setting.ForceGF))
	write(cellForceAt+14, bodySize, false, "gf")
	write(cellSpeedAt, 15, true, short(pass.Setting.SpeedMMS))
	write(cellSpeedAt+14, bodySize, false, "mm/s")
	write(cellLayerAt, bodySize, false, fmt.Sprintf("%d  %s", pass.Number, t.Layer(c)))
	s.SetLineWidth(0.25)
	for k := range 3 {
		s.Rect(sheetMargin+cellBoxesAt+float64(k)*cellBoxesBy, s.y+1.6, 4.2, 4.2, "D")
	}
	s.SetLineWidth(0.1)
	s.Line(sheetMargin+cellAt, s.y+cellHeight-0.4, sheetEndX, s.y+cellHeight-0.4)
	s.y += cellHeight
}

// sheetLook says what to look for, before anything is moved.
func (t *TestCut) sheetLook(s *pen) {
	s.heading(column, "Look at each cell")
	good, light, deep := t.Looks()
	s.fact(column, "good", good)
	s.fact(column, "too light", light)
	s.fact(column, "too deep", deep)
}

// sheetMeasure leaves room for what is measured and by whom.
func (t *TestCut) sheetMeasure(s *pen, code string) {
	const width = column - testCutWidth - 4
	s.heading(width, "Measure to 0.1 mm")
	s.tick(width, fmt.Sprintf("From end line to end line, across the feed (%d mm):", trial.MarkMM))
	t.blank(s, width)
	s.tick(width, fmt.Sprintf("Along the feed (%d mm):", trial.MarkMM))
	t.blank(s, width)
	s.heading(width, "Report")
	for _, what := range []string{"batch", "blade", "tested by", "date"} {
		s.text(bodySize, true)
		s.SetXY(sheetMargin+6, s.y)
		s.CellFormat(18, bodyLine, what, "", 0, "L", false, 0, "")
		t.blank(s, width)
	}
	s.text(bodySize, false)
	s.lines(sheetMargin+6, width-6, bodyLine, "Enter the cells as the outcome of sheet "+code+" of the setting "+t.Setting.ID+". Keep the sheet as proof.")
	if t.Link != "" {
		s.lines(sheetMargin+6, width-6, bodyLine, "The lengths of the marks are told by phone too, with the code at the top.")
	}
}

// blank is a line to write on.
func (t *TestCut) blank(s *pen, width float64) {
	s.y += bodyLine + 2
	s.SetLineWidth(0.2)
	s.Line(sheetMargin+28, s.y, sheetMargin+width, s.y)
	s.y += 1.6
}

func (t *TestCut) sheetCautions(s *pen) {
	s.text(smallSize, false)
	lines := s.SplitText(strings.Join(Cautions(t.Stock.Family), " "), column)
	s.y = sheetEnd - footTitle - float64(len(lines))*smallLine
	s.small("Cautions", footTitle)
	s.text(smallSize, false)
	for _, l := range lines {
		s.line(sheetMargin, column, smallLine, l)
	}
}
