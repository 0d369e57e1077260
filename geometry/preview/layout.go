package preview

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/nest"
	"knifedesk/geometry/weed"
)

// Layout draws one load of the layout, numbered from 1: the stock, the copies
// and the offcut.
func Layout(l *nest.Layout, m *weed.Map, load int) (*Picture, error) {
	ld, err := pick(l, load)
	if err != nil {
		return nil, err
	}
	stock := geometry.BoxAround(geometry.Pt(0, 0), geometry.Pt(ld.WidthMM, ld.LengthMM))
	p := newPage("Layout", fmt.Sprintf("load %d of %d: %s of stock, %d copies", load, len(l.Loads), sizeText(ld.WidthMM, ld.LengthMM), len(ld.Placements)), stock)
	p.show(style{fill: plainTint, stroke: ink, width: 1.6}, stock.Path())
	last := load == len(l.Loads)
	if last && l.Usage.Offcut != nil {
		p.show(style{stroke: faint, width: 0.8}, l.Usage.Offcut.Path())
		p.draw(style{stroke: hair, width: 0.8}, hatch(p.project([]geometry.Path{l.Usage.Offcut.Path()}), -45, 10)...)
	}
	for _, pl := range ld.Placements {
		p.show(style{fill: paper, stroke: faint, width: 1, dash: []float64{4, 4}}, pl.Bounds.Path())
		for _, s := range m.Strokes {
			p.show(thinner(strokeStyle(s.Operation)), s.Path.Transform(pl.Transform))
		}
	}
	for _, pl := range ld.Placements {
		p.badge(pl.Bounds.Centre(), pl.Bounds.Height()/2, pl.Copy, style{stroke: keptInk, fill: paper})
	}
	p.dimension(geometry.Pt(0, 0), geometry.Pt(ld.WidthMM, 0), 14, trim(ld.WidthMM)+" mm")
	p.scaleBar()
	p.arrow(style{stroke: ink, width: 1.6}, geometry.Pt(pageMargin+14, p.foot+4), 90, 22)
	p.write(geometry.Pt(pageMargin+60, p.foot), 14.5, left, ink, "direction of feed")
	p.foot += lineHeight
	p.legend("a copy with its number, in its own rectangle", func(b geometry.Box) {
		p.draw(style{fill: paper, stroke: faint, width: 1, dash: []float64{4, 4}}, b.Path())
	})
	if last && l.Usage.Offcut != nil {
		o := l.Usage.Offcut
		p.legend("largest offcut worth keeping, "+sizeText(o.Width(), o.Height()), func(b geometry.Box) {
			p.draw(style{stroke: faint, width: 0.8}, b.Path())
			p.draw(style{stroke: hair, width: 0.8}, hatch([]geometry.Path{b.Path()}, -45, 6)...)
		})
	}
	if l.Mirrored {
		p.paragraph(pageMargin, "Mirrored: the cut side is the back.")
	}
	return p.finish(), nil
}

func thinner(s style) style {
	s.width *= 0.6
	return s
}

func pick(l *nest.Layout, load int) (*nest.Load, error) {
	if load < 1 || load > len(l.Loads) {
		return nil, fmt.Errorf("preview: load %d of %d", load, len(l.Loads))
	}
	return &l.Loads[load-1], nil
}
