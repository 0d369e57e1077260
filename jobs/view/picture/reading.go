package picture

import (
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/read"
)

// Drawing draws a drawing as it was read, in its own units, with what is wrong
// with it marked by number. It fails only with the error of ctx.
func Drawing(ctx context.Context, d *read.Result) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page { return drawingPage(b, d) })
}

func drawingPage(b *budget.Budget, d *read.Result) *page {
	box := d.Bounds()
	sub := fmt.Sprintf("%s, %s × %s units; the file says: %s",
		count(len(d.Shapes), "shape", "shapes"), figure.Number(box.Width()), figure.Number(box.Height()), unitText(d.Unit))
	p := newPage(b, "Drawing as read", sub)
	p.asked(d.Questions, nil)
	p.Open(box, figure.Inset{Marked: len(d.Findings)+len(d.Questions) > 0})
	left := p.shapes(d.Shapes)
	number := tagNames(d.Findings)
	p.markFindings(d.Findings, number, mostMarks)
	p.markParts(d.Questions)
	if len(d.Shapes) == 0 {
		p.Blank("There is nothing to draw.")
	}
	p.Foot += 36
	p.findingLegend(d.Findings, number, mostMarks)
	p.leftOut(left)
	return p
}

func unitText(u drawing.Unit) string {
	if u.Name == "" || u.Name == "none" {
		return "no unit"
	}
	return "unit " + u.Name
}

// shapes draws filled shapes one by one, then all lines by their colour.
func (p *page) shapes(shapes []drawing.Shape) figure.Detail {
	var paths []geometry.Path
	for i := range shapes {
		paths = append(paths, shapes[i].Paths...)
	}
	d := p.DetailOf(paths, 1)
	shown := d.Shown
	at := map[string]int{}
	var lines []inked
	for i := range shapes {
		s := &shapes[i]
		mine := p.Project(shown[:len(s.Paths)])
		shown = shown[len(s.Paths):]
		if len(mine) == 0 {
			continue
		}
		if s.Fill != nil {
			p.Draw(figure.Style{Fill: visibleInk(*s.Fill), Opacity: 0.35}, mine...)
		}
		colour := lineInk(s)
		if _, ok := at[colour]; !ok {
			at[colour] = len(lines)
			lines = append(lines, inked{style: figure.Style{Stroke: colour, Width: 1.4}})
		}
		lines[at[colour]].paths = append(lines[at[colour]].paths, mine...)
	}
	for _, l := range lines {
		p.Spots.Line(l.paths)
		p.Draw(l.style, l.paths...)
	}
	return d
}

func lineInk(s *drawing.Shape) string {
	switch {
	case s.Stroke != nil:
		return visibleInk(*s.Stroke)
	case s.Fill != nil:
		return visibleInk(*s.Fill)
	}
	return figure.Faint
}

// visibleInk darkens colours that would vanish on white paper.
func visibleInk(c drawing.Colour) string {
	if int(c.R)+int(c.G)+int(c.B) > 600 {
		return figure.Faint
	}
	return c.String()
}
