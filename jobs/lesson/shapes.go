package lesson

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/clip"
	"knifedesk/geometry/figure"
)

// absent is the line of what is not there to be seen.
func absent() figure.Style {
	return figure.Style{Stroke: figure.Faint, Width: 1.6, Dash: []float64{3, 4}}
}

// take takes over the shapes of a drawing, as far as its clips let them show.
func (p *picturing) take(d *drawing.Drawing) {
	for i := range d.Shapes {
		if len(d.Shapes[i].Clips) > 0 {
			p.covered = append(p.covered, d.Shapes[i])
		}
	}
	const chord = 0.05 // drawing units
	clip.Visible(p.b, d, chord)
	p.shapes = d.Shapes
}

// miss takes over the shapes that only another drawing has, where that has all of this
// one too: they are what was lost on the way.
func (p *picturing) miss(other *picturing) {
	if p.group.Measured {
		return
	}
	had := make([]bool, len(p.shapes))
	var missing []drawing.Shape
	for i := range other.shapes {
		if k := p.like(other.bounding(&other.shapes[i]), had); k >= 0 {
			had[k] = true
		} else {
			missing = append(missing, other.shapes[i])
		}
	}
	for _, h := range had {
		if !h {
			return
		}
	}
	p.missing = missing
}

// like finds a shape that takes up the same room and was not had yet, -1: none.
func (p *picturing) like(room geometry.Box, had []bool) int {
	const same = 1e-3 // mm
	for i := range p.shapes {
		b := p.bounding(&p.shapes[i])
		if !had[i] && b.Grow(same).ContainsBox(room) && room.Grow(same).ContainsBox(b) {
			return i
		}
	}
	return -1
}

// bounding is the room that a shape takes up, in mm.
func (p *picturing) bounding(s *drawing.Shape) geometry.Box {
	all := geometry.EmptyBox()
	for _, q := range s.Paths {
		if p.b.Spend(1 + len(q.Segments)); q.Finite() {
			all = all.Union(q.Transform(p.onto).Bounds())
		}
	}
	return all
}

func (p *picturing) bounds() geometry.Box {
	all := geometry.EmptyBox()
	for i := range p.shapes {
		all = all.Union(p.bounding(&p.shapes[i]))
	}
	for i := range p.covered {
		all = all.Union(p.bounding(&p.covered[i]))
	}
	return all
}

// content draws the shapes in their own colours, and as wide as they are drawn.
func (p *picturing) content(wide bool) {
	for _, not := range [...][]drawing.Shape{p.covered, p.missing} {
		for i := range not {
			p.Draw(absent(), p.inView(&not[i])...)
		}
	}
	for i := range p.shapes {
		s := &p.shapes[i]
		paths := p.inView(s)
		if s.Fill != nil {
			p.fill(s, paths)
		}
		if s.Stroke == nil && s.Fill != nil {
			continue // it ends where its fill ends
		}
		style := figure.Style{Stroke: inkOf(s), Width: 1.8}
		if wide {
			style.Width = math.Min(60, math.Max(style.Width, s.StrokeWidth*math.Sqrt(math.Abs(p.onto.Det()))*p.Scale))
		}
		if s.Dashed {
			style.Dash = []float64{8, 5}
		}
		p.Draw(style, paths...)
	}
}

// fill fills a shape: films cover what lies under them and have an edge that shows on any
// other, all else leaves the lines under it seen.
func (p *picturing) fill(s *drawing.Shape, paths []geometry.Path) {
	edged := figure.Style{Fill: s.Fill.String(), Stroke: figure.Faint, Width: 1}
	switch {
	case p.group.Covering:
		p.Draw(edged, paths...)
	case s.FillRule == drawing.NonZero && turnAlike(s.Paths):
		edged.Fill = pale(*s.Fill).String()
		for _, q := range paths { // what lies within another is filled as it is
			p.Draw(edged, q)
		}
	default:
		p.Draw(figure.Style{Fill: s.Fill.String(), Opacity: fillShows}, paths...)
	}
}

// fillShows is how much of a fill shows over what lies under it.
const fillShows = 0.35

// pale is a colour as it shows on paper where fillShows of it does.
func pale(c drawing.Colour) drawing.Colour {
	on := func(v uint8) uint8 { return uint8(math.Round(255 - fillShows*float64(255-v))) }
	return drawing.Colour{R: on(c.R), G: on(c.G), B: on(c.B)}
}

// turnAlike reports whether several paths run the same way round, so that the nonzero
// rule has no holes in them.
func turnAlike(paths []geometry.Path) bool {
	for _, q := range paths {
		if math.Signbit(q.Area()) != math.Signbit(paths[0].Area()) {
			return false
		}
	}
	return len(paths) > 1
}

// inView returns the paths of a shape in pixels.
func (p *picturing) inView(s *drawing.Shape) []geometry.Path {
	paths := make([]geometry.Path, 0, len(s.Paths))
	for _, q := range s.Paths {
		if v := p.Visible(q, p.onto); !v.Empty() {
			paths = append(paths, v)
		}
	}
	return paths
}

// inkOf is the colour of a shape's line, or ink where it would vanish on paper.
func inkOf(s *drawing.Shape) string {
	if c := s.Stroke; c != nil && 3*int(c.R)+6*int(c.G)+int(c.B) < 1600 {
		return c.String()
	}
	return figure.Ink
}
