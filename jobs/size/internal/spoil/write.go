package spoil

import (
	"math"
	"slices"

	"knifedesk/geometry"
)

// drawn is a figure in the numbers of the file, y up.
type drawn struct {
	figure
	rx, ry float64
}

// finish writes the file and the truth.
func finish(m *maker) {
	turn := geometry.Rotate(m.turn * math.Pi / 180)
	t := &m.c.Truth
	for i := range m.figures {
		f := &m.figures[i]
		switch b := f.bounds(turn); f.role {
		case cut:
			t.Cut = append(t.Cut, b)
		case frame:
			t.Frames = append(t.Frames, b)
		case ground, either:
			t.MayCut = append(t.MayCut, b)
		}
	}
	m.rng.Shuffle(len(m.figures), func(i, j int) { m.figures[i], m.figures[j] = m.figures[j], m.figures[i] })
	slices.SortStableFunc(m.figures, func(a, b figure) int { return flag(b.role == ground) - flag(a.role == ground) }) // it lies below
	to := geometry.Scale(m.sx, m.sy).Then(turn).Then(geometry.Scale(1/m.mmPer, 1/m.mmPer)).Then(geometry.Translate(m.shift.X/m.mmPer, m.shift.Y/m.mmPer))
	to = to.Then(geometry.Rotate(m.saved.shown * math.Pi / 180)) // the page is shown turned back
	list := make([]drawn, len(m.figures))
	for i, f := range m.figures {
		list[i] = mapped(m, f, to)
	}
	switch m.c.Format {
	case "dxf":
		m.c.File = writeDXF(m, list)
	case "svg":
		m.c.File = writeSVG(m, list, paperOf(m, to))
	case "pdf":
		m.c.File = writePDF(m, list, paperOf(m, to))
	}
	makeRequest(m)
}

// mapped maps a figure into the file. Stretched drawings are turned by quarter
// turns only, so that ellipses lie along the axes.
func mapped(m *maker, f figure, to geometry.Affine) drawn {
	if f.group {
		to = to.Then(geometry.Scale(1/m.nested, 1/m.nested))
	}
	d := drawn{figure: f}
	d.pts = make([]geometry.Point, len(f.pts))
	for i, p := range f.pts {
		d.pts[i] = to.Apply(p)
	}
	if f.r > 0 {
		d.rx, d.ry = f.r*math.Hypot(to.A, to.C), f.r*math.Hypot(to.B, to.D)
	}
	return d
}

// paperOf is the page of the file in its numbers: the drawing's page, with the
// canvas round it, or all that is drawn.
func paperOf(m *maker, to geometry.Affine) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range []geometry.Point{{}, geometry.Pt(m.page.w, 0), geometry.Pt(m.page.w, m.page.h), geometry.Pt(0, m.page.h)} {
		q := to.Apply(p)
		b = b.Union(geometry.BoxAround(q, q))
	}
	return b.Grow(m.canvas / m.mmPer)
}
