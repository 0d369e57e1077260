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
	"knifedesk/jobs/workshop"
)

// layoutFor is what a picture is laid out for: half of a page, or a phone.
func layoutFor() figure.Format { return figure.Format{Width: 440, Margin: 14, Drawing: 300} }

// Marks of a picture, in pixels.
const (
	markGrow  = 7.0
	mostMarks = 6
)

// picturing is a picture being made.
type picturing struct {
	*figure.Page
	b       *budget.Budget
	group   *Group
	shapes  []drawing.Shape
	covered []drawing.Shape // of which a clip hides a part, whole
	missing []drawing.Shape // that only the other drawing has
	onto    geometry.Affine // from the numbers in the file to mm
	beneath geometry.Box    // the page of the file or the sheet, in mm; empty: not shown
	places  []geometry.Box  // mm
	all     geometry.Box    // mm, what is shown
}

// Draw draws the drawings of two runs as they were read, at one scale where they are of
// like size. What the code's finding points to in the wrong one is ringed and, where it
// is small, drawn once more, enlarged, in both; what only the right one holds is dashed in
// the other. A group that is Measured is drawn as large as the file says, beside its page
// and a bank card, one that is Laid as it lies on its sheet. Of a run that has read
// nothing there is no picture, which is nil. Draw fails with the error of ctx.
func Draw(ctx context.Context, code finding.Code, group Group, wrong, right *Run) (pictures [2]*figure.Picture, err error) {
	err = budget.Run(ctx, func(b *budget.Budget) {
		var both [2]*picturing
		for i, r := range [...]*Run{wrong, right} {
			if r.Shown.Drawing != nil && len(r.Shown.Drawing.Shapes) > 0 {
				both[i] = r.picturing(b, &group)
			}
		}
		if both[0] != nil {
			if f := wrong.Find(code); f != nil {
				both[0].mark(f, wrong.asDrawn(&group))
			}
		}
		pictures = drawBoth(both)
	})
	return pictures, err
}

// drawBoth draws both pictures, of which either may be nil.
func drawBoth(both [2]*picturing) (pictures [2]*figure.Picture) {
	if both[0] != nil && both[1] != nil {
		both[0].miss(both[1])
		alignBoth(both[0], both[1])
	}
	for _, p := range both {
		if p != nil {
			p.draw()
		}
	}
	enlargeBoth(both)
	for i, p := range both {
		if p != nil {
			pictures[i] = p.Finish()
		}
	}
	return pictures
}

// alignBoth brings two drawings of like size to one scale: to the same extent, or where
// that would leave much blank, since they lie apart, each to its middle.
func alignBoth(p, q *picturing) {
	const most = 6 // times as large
	long, other := longest(p.all), longest(q.all)
	if long >= most*other || other >= most*long {
		return
	}
	if all := p.all.Union(q.all); longest(all) <= 1.25*math.Max(long, other) {
		p.all, q.all = all, all
		return
	}
	half := geometry.Pt(math.Max(p.all.Width(), q.all.Width())/2, math.Max(p.all.Height(), q.all.Height())/2)
	for _, one := range [...]*picturing{p, q} {
		middle := one.all.Centre()
		one.all = geometry.BoxAround(middle.Sub(half), middle.Add(half))
	}
}

func longest(b geometry.Box) float64 { return math.Max(b.Width(), b.Height()) }

// picturing begins the picture of a run.
func (r *Run) picturing(b *budget.Budget, group *Group) *picturing {
	d := r.Shown.Drawing.Drawing // a copy, which clips cut
	p := &picturing{Page: figure.Plate(b, layoutFor()), b: b, group: group, onto: geometry.Scale(d.Unit.MM, d.Unit.MM), beneath: geometry.EmptyBox()}
	if s := r.Shown.Size; !group.Measured && s != nil && s.Transform.Det() != 0 {
		p.onto = s.Transform
	}
	if l := r.Shown.Layout; group.Laid && l != nil && l.Mirrored {
		p.onto = p.onto.Then(geometry.Affine{A: -1, D: 1})
	}
	p.take(&d)
	p.all = p.bounds()
	switch {
	case group.Measured && d.Page != nil:
		p.beneath = geometry.BoxAround(p.onto.Apply(d.Page.Min), p.onto.Apply(d.Page.Max))
	case group.Laid:
		p.beneath = sheetUnder(p.all, &r.Stock)
	}
	p.all = p.all.Union(p.beneath)
	return p
}

// sheetUnder is the sheet, the work in its middle, of work that needs much of it; empty of
// a roll and of small work, which would be lost on it.
func sheetUnder(work geometry.Box, s *workshop.Stock) geometry.Box {
	if s.Form != workshop.Sheet || longest(work) < math.Max(s.WidthMM, s.LengthMM)/2 {
		return geometry.EmptyBox()
	}
	half := geometry.Pt(s.WidthMM/2, s.LengthMM/2)
	return geometry.BoxAround(work.Centre().Sub(half), work.Centre().Add(half))
}

// asDrawn maps places at true size to what a picture shows.
func (r *Run) asDrawn(group *Group) geometry.Affine {
	if s := r.Shown.Size; group.Measured && s != nil {
		if back, ok := s.Transform.Inverse(); ok {
			mm := r.Shown.Drawing.Unit.MM
			return back.Then(geometry.Scale(mm, mm))
		}
	}
	return geometry.Identity
}

// mark takes over the places of a finding.
func (p *picturing) mark(f *finding.Finding, onto geometry.Affine) {
	near := p.all.Grow(longest(p.all))
	for _, place := range f.Places[:min(len(f.Places), mostMarks)] {
		if place.Nowhere() {
			continue
		}
		if box := geometry.BoxAround(onto.Apply(place.Box.Min), onto.Apply(place.Box.Max)); near.ContainsBox(box) {
			p.places = append(p.places, box)
			p.all = p.all.Union(box)
		}
	}
}

func (p *picturing) draw() {
	shown, card := p.all, geometry.EmptyBox()
	if p.group.Measured {
		corner := geometry.Pt(p.all.Max.X+0.06*p.all.Width()+8, p.all.Min.Y)
		card = geometry.BoxAround(corner, corner.Add(geometry.Pt(ask.CardWidthMM, ask.CardHeightMM)))
		shown = shown.Union(card)
	}
	p.Open(shown, figure.Inset{})
	if !p.beneath.Empty() {
		p.Show(beneath(), p.beneath.Path())
	}
	p.content(true)
	if p.group.Measured {
		p.Show(figure.Style{Stroke: figure.Faint, Width: 1.4, Dash: []float64{7, 3}}, card.Path())
	}
	p.Zone = figure.ZoneMarks
	ring := figure.Style{Stroke: "#8e2464", Width: 2, Dash: []float64{6, 4}}
	draw := p.Draw
	if p.group.Covering { // it has to show on dark films, and would break lines elsewhere
		draw = p.Cased
	}
	for _, place := range p.places {
		draw(ring, p.OnPage(place).Grow(markGrow).Path())
	}
	p.ScaleBar()
	p.key()
}

// beneath is the page of a file or a sheet, with an edge that grey print keeps.
func beneath() figure.Style { return figure.Style{Fill: "#f2efe6", Stroke: figure.Faint, Width: 1} }

// key says what is drawn that is not in the file, or does not show.
func (p *picturing) key() {
	if !p.beneath.Empty() {
		text := "The page of the file"
		if p.group.Laid {
			text = "The sheet"
		}
		p.Legend(text, p.BoxSwatch(beneath()))
	}
	if len(p.missing) > 0 {
		p.Legend("What is missing", p.LineSwatch(absent()))
	}
	if len(p.covered) > 0 {
		p.Legend("Hidden, and in the file all the same", p.LineSwatch(absent()))
	}
}
