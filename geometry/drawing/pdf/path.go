package pdf

import "knifedesk/geometry"

// pathBuilder collects the current path (8.5.2), mapped to the page as it is
// drawn.
type pathBuilder struct {
	paths []geometry.Path
	open  geometry.Path
	at    geometry.Point // in user space
	from  geometry.Point // where the subpath began, in user space
	begun bool
	count int // segments
}

func (b *pathBuilder) moveTo(p geometry.Point, m geometry.Affine) {
	b.endSubpath()
	b.open.Start = m.Apply(p)
	b.at, b.from, b.begun = p, p, true
}

func (b *pathBuilder) lineTo(p geometry.Point, m geometry.Affine) {
	if !b.begun { // a line out of nothing starts where it ends
		b.moveTo(p, m)
		return
	}
	b.open.Segments = append(b.open.Segments, geometry.LineTo(m.Apply(p)))
	b.at = p
	b.count++
}

func (b *pathBuilder) curveTo(c1, c2, p geometry.Point, m geometry.Affine) {
	if !b.begun {
		b.moveTo(c1, m)
	}
	b.open.Segments = append(b.open.Segments, geometry.CubicTo(m.Apply(c1), m.Apply(c2), m.Apply(p)))
	b.at = p
	b.count++
}

func (b *pathBuilder) rectangle(x, y, w, h float64, m geometry.Affine) {
	b.moveTo(geometry.Pt(x, y), m)
	b.lineTo(geometry.Pt(x+w, y), m)
	b.lineTo(geometry.Pt(x+w, y+h), m)
	b.lineTo(geometry.Pt(x, y+h), m)
	b.closePath()
}

// closePath closes the subpath; the next one begins where this one did.
func (b *pathBuilder) closePath() {
	if len(b.open.Segments) == 0 {
		return
	}
	start := b.open.Start
	b.open.Close()
	b.endSubpath()
	b.open.Start = start
	b.at = b.from
}

func (b *pathBuilder) endSubpath() {
	if len(b.open.Segments) > 0 {
		b.paths = append(b.paths, b.open)
	}
	b.open = geometry.Path{}
}

// take returns the finished path and starts an empty one.
func (b *pathBuilder) take() []geometry.Path {
	b.endSubpath()
	paths := b.paths
	*b = pathBuilder{}
	return paths
}
