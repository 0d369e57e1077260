package spoil

import (
	"bytes"
	"fmt"
	"slices"

	"knifedesk/geometry"
)

// writePDF writes one page with layers as optional content (ISO 32000-1, 8.11).
func writePDF(m *maker, list []drawn, page geometry.Box) []byte {
	var layers []string
	for i := range list {
		if l := list[i].layer; l != "" && !slices.Contains(layers, l) {
			layers = append(layers, l)
		}
	}
	var draw bytes.Buffer
	draw.WriteString("0 0 0 RG 0.1 w\n")
	for i := range list {
		if list[i].group {
			fmt.Fprintf(&draw, "q %.17f 0 0 %.17f 0 0 cm\n", m.nested, m.nested)
		}
		list[i].pdf(&draw, slices.Index(layers, list[i].layer))
		if list[i].group {
			draw.WriteString("Q\n")
		}
	}
	var groups, names string
	for i := range layers {
		groups += fmt.Sprintf("%d 0 R ", 5+i)
		names += fmt.Sprintf("/L%d %d 0 R ", i, 5+i)
	}
	objects := []string{
		fmt.Sprintf("<</Type/Catalog/Pages 2 0 R/OCProperties<</OCGs[%s]/D<</ON[%s]>>>>>>", groups, groups),
		"<</Type/Pages/Kids[3 0 R]/Count 1>>",
		fmt.Sprintf("<</Type/Page/Parent 2 0 R%s/Contents 4 0 R/Resources<</Properties<<%s>>>>>>", m.sheetOf(page), names),
		fmt.Sprintf("<</Length %d>>stream\n%s\nendstream", draw.Len(), draw.String()),
	}
	for _, l := range layers {
		objects = append(objects, fmt.Sprintf("<</Type/OCG/Name(%s)>>", l))
	}
	return assemble(objects)
}

// sheetOf writes the page, of which its sheet may show a part, turned and in a unit
// of its own.
func (m *maker) sheetOf(page geometry.Box) string {
	box := func(name string, b geometry.Box) string {
		return fmt.Sprintf("/%s[%.9f %.9f %.9f %.9f]", name, b.Min.X, b.Min.Y, b.Max.X, b.Max.Y)
	}
	if !m.saved.on {
		return box("MediaBox", page)
	}
	rest := fmt.Sprintf("/UserUnit %.17g/Rotate %g", m.saved.userUnit, m.saved.shown)
	if !m.saved.cropped {
		return box("MediaBox", page) + rest
	}
	return box("MediaBox", page.Grow(0.2*page.Width())) + box("CropBox", page) + rest
}

// assemble numbers the objects from 1 and adds the table of their places.
func assemble(objects []string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.5\n")
	var at []int
	for i, o := range objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, n := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", n)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(at)+1, start)
	return b.Bytes()
}

func (d *drawn) pdf(b *bytes.Buffer, layer int) {
	if layer >= 0 {
		fmt.Fprintf(b, "/OC /L%d BDC\n", layer)
		defer b.WriteString("EMC\n")
	}
	paint := "S"
	if d.role == ground {
		b.WriteString("1 1 1 rg ")
		paint = "f"
	}
	switch {
	case d.rx > 0:
		d.ellipse(b)
	case len(d.pts) == 1:
		fmt.Fprintf(b, "%.9f %.9f m %.9f %.9f l ", d.pts[0].X, d.pts[0].Y, d.pts[0].X, d.pts[0].Y)
	default:
		for i := range d.pts {
			d.pdfTo(b, i)
		}
		if d.arcs {
			d.pdfTo(b, len(d.pts))
		}
	}
	if d.closed {
		b.WriteString("h ")
	}
	b.WriteString(paint + "\n")
}

// pdfTo writes the side that ends at the point with that number.
func (d *drawn) pdfTo(b *bytes.Buffer, i int) {
	p := d.pts[i%len(d.pts)]
	if i > 0 && d.arc(i-1) {
		from := d.pts[i-1]
		c := corner(from, p)
		u, v := from.Lerp(c, quarter), p.Lerp(c, quarter)
		fmt.Fprintf(b, "%.9f %.9f %.9f %.9f %.9f %.9f c ", u.X, u.Y, v.X, v.Y, p.X, p.Y)
		return
	}
	fmt.Fprintf(b, "%.9f %.9f %c ", p.X, p.Y, "ml"[min(i, 1)])
}

// quarter is where the controls of a curve lie that stands for a quarter circle,
// of its radius.
const quarter = 0.5522847498

// ellipse writes four curves that touch the box of the ellipse.
func (d *drawn) ellipse(b *bytes.Buffer) {
	const k = quarter
	c, x, y := d.pts[0], d.rx, d.ry
	fmt.Fprintf(b, "%.9f %.9f m ", c.X+x, c.Y)
	for _, q := range [...][6]float64{
		{1, k, k, 1, 0, 1}, {-k, 1, -1, k, -1, 0}, {-1, -k, -k, -1, 0, -1}, {k, -1, 1, -k, 1, 0},
	} {
		fmt.Fprintf(b, "%.9f %.9f %.9f %.9f %.9f %.9f c ", c.X+q[0]*x, c.Y+q[1]*y, c.X+q[2]*x, c.Y+q[3]*y, c.X+q[4]*x, c.Y+q[5]*y)
	}
}
