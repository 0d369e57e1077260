package picture

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/read"
)

// Drawing draws a drawing as it was read, in its own units, with what is wrong
// with it marked by number.
func Drawing(d *read.Result) *Picture {
	b := d.Bounds()
	sub := fmt.Sprintf("%s, %s × %s units; the file says: %s",
		count(len(d.Shapes), "shape", "shapes"), trim(b.Width()), trim(b.Height()), unitText(d.Unit))
	p := newPage("Drawing as read", sub)
	p.open(b, inset{foot: 8})
	left := p.shapes(d.Shapes)
	number := tagNames(d.Findings)
	p.markFindings(d.Findings, number, mostMarks)
	if len(d.Shapes) == 0 {
		p.blank("There is nothing to draw.")
	}
	p.foot += 28
	p.findingLegend(d.Findings, number, mostMarks)
	p.leftOut(left)
	p.asked(d.Questions)
	return p.finish()
}

func unitText(u drawing.Unit) string {
	if u.Name == "" || u.Name == "none" {
		return "no unit"
	}
	return "unit " + u.Name
}

// shapes draws filled shapes one by one, then all lines by their colour.
func (p *page) shapes(shapes []drawing.Shape) detail {
	var paths []geometry.Path
	for i := range shapes {
		paths = append(paths, shapes[i].Paths...)
	}
	d := p.detailOf(paths, 1)
	shown := d.shown
	at := map[string]int{}
	var lines []inked
	for i := range shapes {
		s := &shapes[i]
		mine := p.project(shown[:len(s.Paths)])
		shown = shown[len(s.Paths):]
		if len(mine) == 0 {
			continue
		}
		if s.Fill != nil {
			p.draw(style{fill: visibleInk(*s.Fill), opacity: 0.35}, mine...)
		}
		colour := lineInk(s)
		if _, ok := at[colour]; !ok {
			at[colour] = len(lines)
			lines = append(lines, inked{style: style{stroke: colour, width: 1.4}})
		}
		lines[at[colour]].paths = append(lines[at[colour]].paths, mine...)
	}
	for _, l := range lines {
		p.draw(l.style, l.paths...)
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
	return faint
}

// visibleInk darkens colours that would vanish on white paper.
func visibleInk(c drawing.Colour) string {
	if int(c.R)+int(c.G)+int(c.B) > 600 {
		return faint
	}
	return c.String()
}
