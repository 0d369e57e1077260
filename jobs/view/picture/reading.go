package picture

import (
	"context"
	"fmt"
	"math"

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
	p := newPage(b, "Drawing as read", count(len(d.Shapes), "shape", "shapes")+", "+ownSize(d))
	p.asked(d.Questions, nil)
	box := d.Bounds()
	p.Open(box, figure.Inset{Dimensions: true, Marked: len(d.Findings)+len(d.Questions) > 0})
	drawn, left := p.shapes(d.Shapes)
	if len(d.Shapes) == 0 {
		p.Blank("There is nothing to draw.")
	} else if per, unit := ownUnit(d.Unit); !box.Empty() {
		p.Dimensions(p.OnPage(box), p.OnPage(box), figure.Number(box.Width()/per)+unit, figure.Number(box.Height()/per)+unit)
	}
	number := tagNames(d.Findings)
	p.markFindings(d.Findings, number, mostMarks)
	p.markParts(d.Questions)
	p.Foot += 36
	drawn.key(p)
	p.findingLegend(d.Findings, number, mostMarks)
	p.leftOut(left)
	return p
}

// ownUnit returns how many units of a drawing one of the file's own numbers is, and the
// name of what the file counts in, after a space; empty: it names none.
func ownUnit(u drawing.Unit) (per float64, name string) {
	switch {
	case u.PerNumber > 0:
		return u.PerNumber, ""
	case u.Name == "" || u.Name == "none":
		return 1, ""
	}
	return 1, " " + u.Name
}

// ownSize tells the size of a drawing in the numbers that stand in its file, and what the
// file says that they are.
func ownSize(d *read.Result) string {
	box := d.Bounds()
	per, unit := ownUnit(d.Unit)
	text := fmt.Sprintf("%s × %s", figure.Number(box.Width()/per), figure.Number(box.Height()/per))
	switch {
	case unit != "":
		return text + unit + ", as the file says"
	case d.Unit.PerNumber > 0 && d.Unit.Declared:
		return fmt.Sprintf("%s in the file's own numbers, each %.6g mm as the file says", text, d.Unit.MM*per)
	case d.Unit.PerNumber > 0:
		return text + " in the file's own numbers"
	}
	return text + " in the file's own numbers; it names no unit"
}

// shapes draws filled shapes one by one, then all lines by their layer and colour.
func (p *page) shapes(shapes []drawing.Shape) (*looks, figure.Detail) {
	var paths []geometry.Path
	for i := range shapes {
		paths = append(paths, shapes[i].Paths...)
	}
	d := p.DetailOf(paths, 1)
	shown := d.Shown
	all := looksOf(p.b, shapes)
	for i := range shapes {
		s := &shapes[i]
		mine := p.Project(shown[:len(s.Paths)])
		shown = shown[len(s.Paths):]
		one := all.of(s)
		one.count++
		if s.Fill != nil && len(mine) > 0 {
			p.Draw(figure.Style{Fill: visibleInk(*s.Fill), Opacity: 0.35}, mine...)
		}
		one.paths = append(one.paths, mine...)
	}
	for _, one := range all.list {
		p.Spots.Line(one.paths)
		p.Draw(one.style, one.paths...)
	}
	return all, d
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

// leastContrast to white is what a line needs to be seen; yellow has 1.07, a light green
// 1.37. Common practice, no source.
const leastContrast = 1.3

// visibleInk gives colours that would vanish on white paper, yellow among them, the ink of
// helping lines.
func visibleInk(c drawing.Colour) string {
	if 1.05/(luminance(c)+0.05) < leastContrast { // WCAG 2.2, contrast ratio
		return figure.Faint
	}
	return c.String()
}

// luminance is how bright a colour is, 0 to 1. Source: WCAG 2.2, relative luminance.
func luminance(c drawing.Colour) float64 {
	linear := func(part uint8) float64 {
		v := float64(part) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
