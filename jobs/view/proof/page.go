package proof

import (
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
)

// press prints the pages.
type press struct {
	*fpdf.Fpdf
	paper Paper
}

func newPress(paper Paper) *press {
	p := &press{fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}}), paper}
	p.SetCreationDate(time.Unix(0, 0).UTC()) // the library would ask the clock, and no two files would be alike
	p.SetModificationDate(time.Unix(0, 0).UTC())
	p.SetCatalogSort(true)
	p.SetTitle("Paper proof 1:1", true)
	p.AddUTF8FontFromBytes("go", "", goregular.TTF)
	p.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	p.SetMargins(marginMM, marginMM, marginMM)
	p.SetAutoPageBreak(false, 0)
	p.SetCellMargin(0)
	return p
}

// page prints a tile with what stands at its foot.
func (p *press) page(b *budget.Budget, w *work, g grid, t tile) {
	p.AddPage()
	width, height := t.window.Width(), t.window.Height()
	p.ClipRect(marginMM, marginMM, width, height, false)
	for i := range w.lines {
		if l := &w.lines[i]; l.box.Overlaps(t.window) {
			p.line(b, l, t.window)
		}
	}
	p.ClipEnd()
	p.SetDashPattern(nil, 0)
	p.ink(150, 0.15)
	p.Rect(marginMM, marginMM, width, height, "D")
	p.joints(g, t)
	p.foot(w, g, t)
}

func (p *press) ink(grey int, width float64) {
	p.SetDrawColor(grey, grey, grey)
	p.SetLineWidth(width)
}

// line draws a path, its curves as curves.
func (p *press) line(b *budget.Budget, l *line, window geometry.Box) {
	p.ink(l.grey, l.width)
	p.SetLineCapStyle("round")
	p.SetLineJoinStyle("round")
	p.SetDashPattern(l.dash, 0)
	at := func(q geometry.Point) (x, y float64) {
		return marginMM + q.X - window.Min.X, marginMM + window.Max.Y - q.Y
	}
	p.MoveTo(at(l.path.Start))
	from := l.path.Start
	for _, s := range l.path.Segments {
		b.Step()
		switch {
		case s.Kind == geometry.Cubic:
			p.curve(at, s)
		case s.Kind == geometry.Arc && !s.Straight():
			c, r, start, sweep := geometry.ArcCircle(from, s)
			for _, one := range geometry.EllipseArc(c, geometry.Pt(r, 0), geometry.Pt(0, r), start, sweep) {
				p.curve(at, one)
			}
		default:
			p.LineTo(at(s.End))
		}
		from = s.End
	}
	if l.path.Closed {
		p.ClosePath()
	}
	p.DrawPath("D")
}

func (p *press) curve(at func(geometry.Point) (x, y float64), s geometry.Segment) {
	x1, y1 := at(s.C1)
	x2, y2 := at(s.C2)
	x, y := at(s.End)
	p.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
}

// joints mark where neighbours lie on each other: crosses in the middle of the overlap,
// at both of its ends, as one alone would leave the tile free to turn. They have to meet.
// Beside the window stands the neighbour's name.
func (p *press) joints(g grid, t tile) {
	right, low := marginMM+t.window.Width(), marginMM+t.window.Height()
	half := overlapMM / 2.
	xs, ys := [2]float64{marginMM + half, right - half}, [2]float64{marginMM + half, low - half}
	var at [2][2]bool // by column and row
	p.SetFont("go", "", 8)
	p.SetTextColor(90, 90, 90)
	midX, midY := (marginMM+right)/2, (marginMM+low)/2
	if t.col > 0 {
		at[0] = [2]bool{true, true}
		p.Text(marginMM-1-p.GetStringWidth(name(t.col-1, t.row)), midY, name(t.col-1, t.row))
	}
	if t.col < g.cols-1 {
		at[1] = [2]bool{true, true}
		p.Text(right+1, midY, name(t.col+1, t.row))
	}
	if t.row > 0 {
		at[0][0], at[1][0] = true, true
		p.Text(midX, marginMM-1, name(t.col, t.row-1))
	}
	if t.row < g.rows-1 {
		at[0][1], at[1][1] = true, true
		p.Text(midX, low+2.6, name(t.col, t.row+1))
	}
	p.ink(90, 0.2)
	for col, x := range xs {
		for row, y := range ys {
			if at[col][row] {
				p.Line(x-3, y, x+3, y)
				p.Line(x, y-3, x, y+3)
			}
		}
	}
}

// RuleMM is how long the rule on each tile is.
const RuleMM = 100

// foot prints the card, the rule and what the tile shows.
func (p *press) foot(w *work, g grid, t tile) {
	top := p.paper.Height - marginMM - stripMM + 3
	p.ink(0, 0.3)
	p.RoundedRect(marginMM, top, ask.CardWidthMM, ask.CardHeightMM, 3.18, "1234", "D") // corners as in ISO/IEC 7810
	p.SetTextColor(60, 60, 60)
	p.text(9, "", marginMM+6, top+28, ask.CardWidthMM-12, "Lay a bank card here. It covers this outline exactly where the print has its true size.")
	x := marginMM + ask.CardWidthMM + 3.
	room := p.paper.Width - marginMM - x
	p.SetTextColor(0, 0, 0)
	y := p.text(11, "B", x, top+4, room, w.title)
	if g.cols*g.rows > 1 {
		y = p.text(8.5, "", x, y, room, fmt.Sprintf("Tile %s of %d columns (A on) and %d rows. Neighbours overlap by %d mm: lay the crosses on each other. Empty tiles are left out.", name(t.col, t.row), g.cols, g.rows, overlapMM))
	}
	p.text(8.5, "", x, y, room, "Print at 100 %, without fitting it to the page. Then measure the rule: it has to be 100 mm long.")
	p.rule(x, top+ask.CardHeightMM-6)
}

// rule draws the rule from x on, on the line y.
func (p *press) rule(x, y float64) {
	p.ink(0, 0.25)
	p.Line(x, y, x+RuleMM, y)
	p.SetFont("go", "", 8)
	for mm := 0; mm <= RuleMM; mm += 5 {
		long := 2.5
		if mm%10 == 0 {
			long = 4
		}
		p.Line(x+float64(mm), y, x+float64(mm), y-long)
	}
	for mm := 0; mm <= RuleMM; mm += 50 {
		text := fmt.Sprint(mm)
		if mm == RuleMM {
			text += " mm"
		}
		p.Text(x+float64(mm)-p.GetStringWidth(text)*float64(mm)/RuleMM, y+4, text)
	}
}

// text writes a text in lines from the baseline y on and returns the next baseline.
func (p *press) text(points float64, weight string, x, y, width float64, text string) float64 {
	p.SetFont("go", weight, points)
	text = strings.Map(func(r rune) rune {
		if !figure.Writes(r) || r > 0xffff { // the library fails on these
			return '?'
		}
		return r
	}, text)
	for _, l := range p.SplitText(text, width) {
		p.Text(x, y, l)
		y += points * 0.46
	}
	return y + 0.6
}
