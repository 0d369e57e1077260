package spoil

import (
	"bytes"
	"fmt"
	"math"

	"knifedesk/geometry"
)

// writeSVG writes the drawing on a page of the file's numbers, y down. Only what
// has a unit in its width states one.
func writeSVG(m *maker, list []drawn, page geometry.Box) []byte {
	var b bytes.Buffer
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
	box := fmt.Sprintf(` viewBox="0 0 %.9g %.9g"`, page.Width(), page.Height())
	switch {
	case m.unit.stated() && m.saved.on:
		b.WriteString(m.rootOf(page))
	case m.unit.stated():
		fmt.Fprintf(&b, ` width="%.9g%s" height="%.9g%s"%s`, page.Width(), m.unit, page.Height(), m.unit, box)
	case m.chance(0.4):
		fmt.Fprintf(&b, ` width="%.9g" height="%.9g"`, page.Width(), page.Height())
	case m.chance(0.3):
		fmt.Fprintf(&b, ` width="%.9gpx" height="%.9gpx"%s`, page.Width(), page.Height(), box)
	case m.chance(0.7):
		b.WriteString(box)
	}
	b.WriteString(">\n")
	for i := range list {
		d := &list[i]
		scale := 1.0
		if d.group {
			scale = m.nested
		}
		for k, p := range d.pts {
			d.pts[k] = geometry.Pt(p.X-page.Min.X/scale, page.Max.Y/scale-p.Y)
		}
		style := `fill="none" stroke="#000" stroke-width="0.1"`
		if d.role == ground {
			style = `fill="#fff"`
		}
		if d.layer != "" {
			fmt.Fprintf(&b, `<g id="%s">`, d.layer)
		}
		around := m.wrap(i)
		d.into(geometry.Scale(scale, scale).Then(around.into).Then(geometry.Scale(1/scale, 1/scale)))
		b.WriteString(around.open)
		if d.group {
			style += fmt.Sprintf(` transform="scale(%.17g)"`, scale)
		}
		d.svg(&b, style)
		b.WriteString(around.shut)
		if d.layer != "" {
			b.WriteString("</g>")
		}
		b.WriteString("\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// into maps the figure where the numbers have another scale and origin.
func (d *drawn) into(to geometry.Affine) {
	for i, p := range d.pts {
		d.pts[i] = to.Apply(p)
	}
	d.rx, d.ry = d.rx*to.MeanScale(), d.ry*to.MeanScale()
}

func (d *drawn) svg(b *bytes.Buffer, style string) {
	p := d.pts[0]
	switch {
	case d.rx > 0 && d.rx == d.ry:
		fmt.Fprintf(b, `<circle cx="%.9f" cy="%.9f" r="%.9f" %s/>`, p.X, p.Y, d.rx, style)
	case d.rx > 0:
		fmt.Fprintf(b, `<ellipse cx="%.9f" cy="%.9f" rx="%.9f" ry="%.9f" %s/>`, p.X, p.Y, d.rx, d.ry, style)
	case d.role == stray && len(d.pts) == 1:
		fmt.Fprintf(b, `<path d="M%.9f %.9fh0" %s/>`, p.X, p.Y, style)
	case len(d.pts) == 2:
		fmt.Fprintf(b, `<line x1="%.9f" y1="%.9f" x2="%.9f" y2="%.9f" %s/>`, p.X, p.Y, d.pts[1].X, d.pts[1].Y, style)
	default:
		b.WriteString(`<path d="M`)
		for i := range d.pts {
			d.svgTo(b, i)
		}
		if d.arcs {
			d.svgTo(b, len(d.pts))
		}
		if d.closed {
			b.WriteString(" Z")
		}
		fmt.Fprintf(b, `" %s/>`, style)
	}
}

// svgTo writes the side that ends at the point with that number; a turn to the
// left is one to the right with y down.
func (d *drawn) svgTo(b *bytes.Buffer, i int) {
	p := d.pts[i%len(d.pts)]
	if i > 0 && d.arc(i-1) {
		from := d.pts[i-1]
		r := from.Dist(p) / math.Sqrt2
		fmt.Fprintf(b, " A%.9f %.9f 0 0 0 %.9f,%.9f", r, r, p.X, p.Y)
		return
	}
	if i > 0 {
		b.WriteString(" L")
	}
	fmt.Fprintf(b, "%.9f,%.9f", p.X, p.Y)
}
