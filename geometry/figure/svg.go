package figure

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/number"
)

// SVG returns the picture as an SVG document that loads nothing from outside. It
// fails with the error of ctx where that ends.
func (p *Picture) SVG(ctx context.Context) ([]byte, error) {
	var out bytes.Buffer
	if err := budget.Run(ctx, func(b *budget.Budget) { p.writeSVG(b, &out) }); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func (p *Picture) writeSVG(steps *budget.Budget, b *bytes.Buffer) {
	fmt.Fprintf(b, `<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %[1]s %[2]s" role="img" font-family="sans-serif">`,
		num(p.Width), num(p.Height))
	fmt.Fprintf(b, "\n<title>%s</title>\n", escape(p.Title))
	fmt.Fprintf(b, `<rect width="100%%" height="100%%" fill="%s"/>`+"\n", Paper)
	for i, f := range p.figures {
		if i == 0 || !f.beside(p.figures[i-1]) {
			openGroup(b, f)
		}
		writeFigure(steps, b, f)
		if i+1 == len(p.figures) || !f.beside(p.figures[i+1]) {
			closeGroup(b, f)
		}
	}
	b.WriteString("</svg>\n")
}

// beside reports whether two figures share a group.
func (f figure) beside(g figure) bool { return f.zone == g.zone && f.clip == g.clip }

// openGroup starts the group of the figure's zone. A clip is a nested document
// whose view is the clip's box: it hides what lies outside without naming
// anything by reference.
func openGroup(b *bytes.Buffer, f figure) {
	fmt.Fprintf(b, `<g class="%s">`+"\n", f.zone)
	if f.clip != nil {
		x, y, w, h := num(f.clip.Min.X), num(f.clip.Min.Y), num(f.clip.Width()), num(f.clip.Height())
		fmt.Fprintf(b, `<svg x="%s" y="%s" width="%s" height="%s" viewBox="%[1]s %[2]s %[3]s %[4]s">`+"\n", x, y, w, h)
	}
}

func closeGroup(b *bytes.Buffer, f figure) {
	if f.clip != nil {
		b.WriteString("</svg>\n")
	}
	b.WriteString("</g>\n")
}

func writeFigure(steps *budget.Budget, b *bytes.Buffer, f figure) {
	if f.text != "" {
		writeText(b, f)
		return
	}
	b.WriteString(`<path d="`)
	for _, path := range f.paths {
		steps.Spend(1 + len(path.Segments))
		writePath(b, path)
	}
	fmt.Fprintf(b, `"%s/>`+"\n", f.style.attributes())
}

func writeText(b *bytes.Buffer, f figure) {
	anchor := [...]string{"start", "middle"}[f.align]
	weight := ""
	if f.bold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" text-anchor="%s"%s fill="%s">%s</text>`+"\n",
		num(f.at.X), num(f.at.Y), num(f.size), anchor, weight, f.style.Fill, escape(f.text))
}

// writePath writes path data rounded to a hundredth of a pixel.
func writePath(b *bytes.Buffer, p geometry.Path) {
	point := func(q geometry.Point) { b.WriteString(num(q.X) + " " + num(q.Y)) }
	b.WriteByte('M')
	point(p.Start)
	from := p.Start
	for _, s := range p.Segments {
		switch {
		case s.Kind == geometry.Cubic:
			b.WriteByte('C')
			point(s.C1)
			b.WriteByte(' ')
			point(s.C2)
			b.WriteByte(' ')
			point(s.End)
		case s.Kind == geometry.Arc && s.Bulge != 0:
			_, r, _, sweep := geometry.ArcCircle(from, s)
			dir := "0"
			if sweep > 0 {
				dir = "1"
			}
			b.WriteString("A" + num(r) + " " + num(r) + " 0 0 " + dir + " ")
			point(s.End)
		default:
			b.WriteByte('L')
			point(s.End)
		}
		from = s.End
	}
	if p.Closed {
		b.WriteByte('Z')
	}
}

func (s Style) attributes() string {
	var b strings.Builder
	if s.Fill == "" {
		b.WriteString(` fill="none"`)
	} else {
		b.WriteString(` fill="` + s.Fill + `" fill-rule="evenodd"`)
	}
	if s.Stroke != "" {
		b.WriteString(` stroke="` + s.Stroke + `" stroke-width="` + num(s.Width) + `" stroke-linecap="round" stroke-linejoin="round"`)
	}
	if len(s.Dash) > 0 {
		parts := make([]string, len(s.Dash))
		for i, d := range s.Dash {
			parts[i] = num(d)
		}
		b.WriteString(` stroke-dasharray="` + strings.Join(parts, " ") + `"`)
	}
	if s.Opacity != 0 {
		b.WriteString(` opacity="` + num(s.Opacity) + `"`)
	}
	return b.String()
}

// num writes a number of pixels to a hundredth.
func num(v float64) string { return number.Text(v, 2) }

func escape(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a bytes.Buffer never fails
	return b.String()
}
