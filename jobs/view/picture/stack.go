package picture

import (
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
)

// Stack draws the films of a layered work as they look in the end, and below that how they
// are put up one after the other. It fails only with the error of ctx.
func Stack(ctx context.Context, s *artwork.Stack) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page { return stackPage(b, s) })
}

func stackPage(b *budget.Budget, s *artwork.Stack) *page {
	this := s.Layers[s.At]
	p := newPage(b, "Films on each other", fmt.Sprintf("%s, %s; this plan cuts the %s, %s",
		sizeText(s.Work.Width(), s.Work.Height()), count(len(s.Layers), "film", "films"), ordinal(s.At), this.Name))
	extent := s.Work
	for _, m := range s.Marks {
		extent = extent.Union(m.Bounds())
	}
	p.Open(extent, figure.Inset{Dimensions: true})
	for i := range s.Layers {
		layer(p, i, p.Project(s.Layers[i].Area), true)
	}
	for i := range s.Layers {
		p.Show(underStyle(), s.Layers[i].Area...)
	}
	p.Show(waitingStyle(), s.Marks...)
	p.Dimensions(p.OnPage(s.Work), p.OnPage(extent), figure.Number(s.Work.Width())+" mm", figure.Number(s.Work.Height())+" mm")
	p.ScaleBar()
	for i, l := range s.Layers {
		p.Legend(fmt.Sprintf("%d. %s", i+1, layerText(&l)), func(box geometry.Box) { layer(p, i, []geometry.Path{box.Path()}, true) })
	}
	p.Legend("edge of a film that goes on under another", p.LineSwatch(underStyle()))
	puttingUp(p, s, extent)
	return p
}

// underStyle is that of the edges of films below others.
func underStyle() figure.Style {
	return figure.Style{Stroke: figure.Ink, Width: 0.8, Dash: []float64{5, 4}}
}

// largest is the size in which a bold text fits a width, in pixels, 12 at least.
func largest(p *page, text string, width float64) float64 {
	for size := 17.0; size > 12; size-- {
		if p.TextWidth(text, size, true) <= width {
			return size
		}
	}
	return 12
}

// layerText names a film with the colour in which it was drawn.
func layerText(l *artwork.Layer) string {
	text := l.Name
	if l.Colour != nil {
		text += ", drawn in " + meaning.ColourWords(*l.Colour)
	}
	return fmt.Sprintf("%s, %.0f mm²", text, l.AreaMM2)
}

func ordinal(at int) string {
	if at == 0 {
		return "lowest"
	}
	return [...]string{"second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}[min(at-1, 6)]
}

// layer draws rings (pixels) as a film that hides what lies below it: by a hatch of its own
// where it is the one that is told of.
func layer(p *page, at int, rings []geometry.Path, told bool) {
	pattern := figure.Pattern{Tint: figure.Paper}
	if told {
		pattern = filmPattern(at)
	}
	p.Fill(pattern, rings)
	p.Draw(figure.Style{Stroke: figure.Ink, Width: 1.4}, rings...)
}

// filmPattern tells films apart without colour: by how their lines run and how far apart.
func filmPattern(at int) figure.Pattern {
	tints := [...]string{keptTint, emberTint, stockTint, "#e3d3ea"}
	gap := 6.0 + 3*float64(at/4)
	return figure.Pattern{
		Tint: tints[at%len(tints)], Deg: [...]float64{45, 0, 135, 90}[at%4], Gap: gap,
		Line: figure.Style{Stroke: [...]string{keptInk, sandInk, relief, alarm}[at%4], Width: 1},
	}
}

// puttingUp draws the work after each film that was put up, that film hatched.
func puttingUp(p *page, s *artwork.Stack, extent geometry.Box) {
	const narrow = 600 // pixels
	p.Heading("Put the films up in this order")
	if figure.FormatOf(p.b).Width < narrow {
		for i := range s.Layers {
			p.Caption(filmName(s, i))
			p.Open(extent, figure.Inset{Tight: true})
			upTo(p, s, i, geometry.Identity)
		}
	} else {
		inCells(p, s, extent)
	}
	p.Foot += 22
	p.Paragraph(0, "Each film bears the same crosses, its register marks, in the same places: a film lies right where its crosses cover those of the film below. There is none at the fourth corner, so that no film is put up turned round. Take the crosses off when the last film is up.")
}

// inCells draws it after each film side by side.
func inCells(p *page, s *artwork.Stack, extent geometry.Box) {
	const cell, text, blank = 464.0, 34.0, 24.0
	scale := (cell - blank) / max(extent.Width(), extent.Height())
	height := text + extent.Height()*scale + blank
	columns := min(len(s.Layers), 2)
	rows := (len(s.Layers) + columns - 1) / columns
	p.Open(geometry.Box{Max: geometry.Pt(float64(columns)*cell, float64(rows)*height)}, figure.Inset{Tight: true})
	c := extent.Centre()
	for i := range s.Layers {
		column, row := i%columns, i/columns
		top := float64(rows-row) * height // y runs up
		middle := geometry.Pt((float64(column)+0.5)*cell, top-text-extent.Height()*scale/2)
		move := geometry.Translate(-c.X, -c.Y).Then(geometry.Scale(scale, scale)).Then(geometry.Translate(middle.X, middle.Y))
		upTo(p, s, i, move)
		name := filmName(s, i)
		p.Label(p.View.Apply(geometry.Pt(middle.X, top-text+10)), largest(p, name, 0.9*cell*p.Scale), name)
	}
}

// upTo draws the films up to one of them, as moved, and the marks.
func upTo(p *page, s *artwork.Stack, last int, move geometry.Affine) {
	for k := range s.Layers[:last+1] {
		layer(p, k, p.Project(appendImages(nil, s.Layers[k].Area, move)), k == last)
	}
	p.Draw(figure.Style{Stroke: figure.Ink, Width: 1.2}, p.Project(appendImages(nil, s.Marks, move))...)
}

// filmName is the name of a film with its place.
func filmName(s *artwork.Stack, at int) string { return fmt.Sprintf("%d. %s", at+1, s.Layers[at].Name) }
