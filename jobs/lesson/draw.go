package lesson

import (
	"context"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// layoutFor is what a picture is laid out for: half of a page, or a phone.
func layoutFor() figure.Format { return figure.Format{Width: 440, Margin: 14, Drawing: 300} }

// Marks of a picture, in pixels.
const (
	markGrow = 7.0
	// lensBelow is how small the first place may be on the whole drawing before it is
	// shown a second time, enlarged.
	lensBelow = 16.0
	mostMarks = 6
)

// picturing is a picture being made.
type picturing struct {
	*figure.Page
	b      *budget.Budget
	shapes []drawing.Shape
	onto   geometry.Affine // from the numbers in the file to mm
	page   geometry.Box    // of the file, in mm; empty: not shown
	places []geometry.Box  // mm
	all    geometry.Box    // mm, what is shown
}

// Draw draws the drawings of two runs as they were read, at one scale where they are of
// like size. What the code's finding points to in the wrong one is ringed and, where it
// is small, drawn once more, enlarged, in both. A group that is Measured is drawn as
// large as the file says, beside its page and a bank card. Of a run that has read
// nothing there is no picture, which is nil. Draw fails with the error of ctx.
func Draw(ctx context.Context, code finding.Code, measured bool, wrong, right *Run) (pictures [2]*figure.Picture, err error) {
	err = budget.Run(ctx, func(b *budget.Budget) {
		var both [2]*picturing
		for i, r := range [...]*Run{wrong, right} {
			if r.Shown.Drawing != nil && len(r.Shown.Drawing.Shapes) > 0 {
				both[i] = r.picturing(b, measured)
			}
		}
		if both[0] != nil {
			if f := wrong.Find(code); f != nil && !measured {
				both[0].mark(f)
			}
		}
		pictures = drawBoth(both, measured)
	})
	return pictures, err
}

// drawBoth draws both pictures, of which either may be nil.
func drawBoth(both [2]*picturing, measured bool) (pictures [2]*figure.Picture) {
	if both[0] != nil && both[1] != nil && alike(both[0].all, both[1].all) {
		all := both[0].all.Union(both[1].all)
		both[0].all, both[1].all = all, all
	}
	lens := geometry.EmptyBox()
	for i, p := range both {
		if p == nil {
			continue
		}
		p.draw(measured)
		if i == 0 {
			if lens = p.window(); !p.drawnIn(lens) {
				lens = geometry.EmptyBox()
			}
		}
		p.enlarge(lens)
		pictures[i] = p.Finish()
	}
	return pictures
}

// picturing begins the picture of a run.
func (r *Run) picturing(b *budget.Budget, measured bool) *picturing {
	d := r.Shown.Drawing
	p := &picturing{Page: figure.Plate(b, layoutFor()), b: b, shapes: d.Shapes, onto: geometry.Scale(d.Unit.MM, d.Unit.MM), page: geometry.EmptyBox()}
	if s := r.Shown.Size; !measured && s != nil && s.Transform.Det() != 0 {
		p.onto = s.Transform
	}
	if measured && d.Page != nil {
		p.page = geometry.BoxAround(p.onto.Apply(d.Page.Min), p.onto.Apply(d.Page.Max))
	}
	p.all = p.bounds()
	return p
}

// alike reports whether two drawings can be shown at one scale.
func alike(a, b geometry.Box) bool {
	const most = 6 // times as large
	long, other := math.Max(a.Width(), a.Height()), math.Max(b.Width(), b.Height())
	return long < most*other && other < most*long
}

// mark takes over the places of a finding.
func (p *picturing) mark(f *finding.Finding) {
	near := p.all.Grow(math.Max(p.all.Width(), p.all.Height()))
	for _, place := range f.Places[:min(len(f.Places), mostMarks)] {
		if !place.Nowhere() && near.ContainsBox(place.Box) {
			p.places = append(p.places, place.Box)
			p.all = p.all.Union(place.Box)
		}
	}
}

func (p *picturing) draw(measured bool) {
	shown, card := p.all, geometry.EmptyBox()
	if measured {
		corner := geometry.Pt(p.all.Max.X+0.06*p.all.Width()+8, p.all.Min.Y)
		card = geometry.BoxAround(corner, corner.Add(geometry.Pt(ask.CardWidthMM, ask.CardHeightMM)))
		shown = shown.Union(card)
	}
	p.Open(shown, figure.Inset{})
	if !p.page.Empty() {
		p.Show(figure.Style{Fill: "#f2efe6"}, p.page.Path())
	}
	p.content(true)
	if measured {
		p.Show(figure.Style{Stroke: figure.Faint, Width: 1.4, Dash: []float64{7, 3}}, card.Path())
	}
	p.Zone = figure.ZoneMarks
	for _, place := range p.places {
		p.Draw(figure.Style{Stroke: "#8e2464", Width: 2, Dash: []float64{6, 4}}, p.OnPage(place).Grow(markGrow).Path())
	}
	p.ScaleBar()
}

// enlarge shows a part of the drawing once more, with the points of its lines, where
// there is something in it.
func (p *picturing) enlarge(part geometry.Box) {
	if part.Empty() || !p.drawnIn(part) {
		return
	}
	p.Caption("The same place, enlarged; dots are the points of the lines")
	p.Open(part, figure.Inset{Tight: true})
	p.Within(p.Area, func() {
		p.content(false)
		for i := range p.shapes {
			for _, q := range p.shapes[i].Paths {
				p.points(q)
			}
		}
	})
	p.Draw(figure.Style{Stroke: figure.Faint, Width: 1}, p.Area.Path())
	p.ScaleBar()
}

// points draws the points of a path that the panel shows.
func (p *picturing) points(q geometry.Path) {
	m := p.onto.Then(p.View)
	dot := func(at geometry.Point) {
		if at = m.Apply(at); at.Finite() && p.Area.Contains(at) {
			p.Draw(figure.Style{Fill: figure.Paper, Stroke: figure.Ink, Width: 1.5}, geometry.Circle(at, 3.5))
		}
	}
	dot(q.Start)
	for _, s := range q.Segments {
		p.b.Step()
		dot(s.End)
	}
}

// drawnIn reports whether a line comes near a part of the drawing.
func (p *picturing) drawnIn(part geometry.Box) bool {
	for i := range p.shapes {
		for _, q := range p.shapes[i].Paths {
			for _, c := range q.Transform(p.onto).FlattenIn(p.b, 0.05) {
				if part.Contains(c) {
					return true
				}
			}
		}
	}
	return false
}

func (p *picturing) bounds() geometry.Box {
	all := p.page
	for i := range p.shapes {
		for _, q := range p.shapes[i].Paths {
			if p.b.Spend(1 + len(q.Segments)); q.Finite() {
				all = all.Union(q.Transform(p.onto).Bounds())
			}
		}
	}
	return all
}

// content draws the shapes in their own colours, and as wide as they are drawn.
func (p *picturing) content(wide bool) {
	for i := range p.shapes {
		s := &p.shapes[i]
		paths := make([]geometry.Path, 0, len(s.Paths))
		for _, q := range s.Paths {
			if v := p.Visible(q, p.onto); !v.Empty() {
				paths = append(paths, v)
			}
		}
		if s.Fill != nil {
			p.Draw(figure.Style{Fill: s.Fill.String(), Opacity: 0.35}, paths...)
		}
		width := 1.8
		if wide {
			width = math.Min(60, math.Max(width, s.StrokeWidth*math.Sqrt(math.Abs(p.onto.Det()))*p.Scale))
		}
		p.Draw(figure.Style{Stroke: inkOf(s), Width: width}, paths...)
	}
}

// inkOf is the colour of a shape's line, or ink where it would vanish on paper.
func inkOf(s *drawing.Shape) string {
	if c := s.Stroke; c != nil && 3*int(c.R)+6*int(c.G)+int(c.B) < 1600 {
		return c.String()
	}
	return figure.Ink
}

// window returns what is enlarged: what lies round the first place, empty where that is
// large enough on the whole drawing.
func (p *picturing) window() geometry.Box {
	if len(p.places) == 0 {
		return geometry.EmptyBox()
	}
	place := p.places[0]
	side := math.Max(place.Width(), place.Height())
	if side*p.Scale > lensBelow {
		return geometry.EmptyBox()
	}
	around := math.Max(5*side, math.Max(p.all.Width(), p.all.Height())/14)
	if side > 0 && side < around/30 {
		around = 8 * side
	}
	return geometry.BoxAround(place.Centre()).Grow(around / 2)
}
