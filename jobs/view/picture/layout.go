package picture

import (
	"fmt"
	"strconv"

	"knifedesk/geometry"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// Layout draws one load of the layout, numbered from 1: the stock, the copies
// and the offcut.
func Layout(l *layout.Layout, m *weeding.Map, load int) (*Picture, error) {
	ld, err := pick(l, load)
	if err != nil {
		return nil, err
	}
	p := newPage("Layout", layoutSubtitle(l, ld, load))
	var offcut *geometry.Box
	if load == len(l.Loads) {
		offcut = l.Usage.Offcut
	}
	st := stockOf(l, ld)
	var left detail
	unnumbered := false
	p.eachRow(st, func() {
		p.show(style{fill: stockTint, stroke: ink, width: 1.8}, st.box.Path())
		if offcut != nil {
			p.fillWith(offcutPattern, []geometry.Path{p.onPage(*offcut).Path()})
			p.show(style{stroke: faint, width: 1}, offcut.Path())
		}
		left = p.copies(ld, m)
	}, func(row geometry.Box) {
		unnumbered = p.copyNumbers(ld, row) || unnumbered
	})
	p.scaleBar()
	p.feed(st.turned)
	p.layoutLegend(l, ld, m, offcut)
	p.leftOut(left)
	if unnumbered {
		p.paragraph(pageMargin, "Not every copy has room for its number.")
	}
	p.asked(l.Questions)
	return p.finish(), nil
}

// offcutPattern marks what is left over.
var offcutPattern = pattern{deg: -45, gap: 11, line: style{stroke: "#9aa0ad", width: 0.9}}

func layoutSubtitle(l *layout.Layout, ld *layout.Load, load int) string {
	text := fmt.Sprintf("load %d of %d: %s of stock, %s", load, len(l.Loads),
		sizeText(ld.WidthMM, ld.LengthMM), count(len(ld.Placements), "copy", "copies"))
	if ld.MatID != "" {
		text += ", on mat " + ld.MatID
	}
	return text
}

// copies draws the rectangle of each copy and its lines in it.
func (p *page) copies(ld *layout.Load, m *weeding.Map) detail {
	boxes := make([]geometry.Path, len(ld.Placements))
	places := make([]geometry.Affine, len(ld.Placements))
	for i, pl := range ld.Placements {
		boxes[i], places[i] = pl.Bounds.Path(), pl.Transform
	}
	p.show(copyStyle, boxes...)
	return p.strokes(m.Strokes, places, true)
}

// copyNumbers numbers the copies whose middle lies in the row, each in the
// upper left corner of its rectangle. It reports whether some had no room.
func (p *page) copyNumbers(ld *layout.Load, row geometry.Box) (missing bool) {
	const r, least = 12.0, 8.0
	for _, pl := range ld.Placements {
		if c := pl.Bounds.Centre(); c.Y < row.Min.Y || c.Y > row.Max.Y {
			continue
		}
		b := p.onPage(pl.Bounds)
		text := strconv.Itoa(pl.Copy)
		room := min(b.Width(), b.Height()) / 2
		if room < least || p.letters.width(text, 10, true) > 2*room {
			missing = true
			continue
		}
		corner := geometry.Pt(b.Min.X+r+4, b.Min.Y+r+4)
		if corner.X < p.area.Min.X {
			corner.X = b.Centre().X // the corner is in the row before
		}
		size := 14.0
		if room < r+4 {
			corner, size = b.Centre(), 10
		}
		p.badge(corner, min(r, room), size, badgeStyle, text)
	}
	return missing
}

func (p *page) layoutLegend(l *layout.Layout, ld *layout.Load, m *weeding.Map, offcut *geometry.Box) {
	if len(ld.Placements) > 0 {
		p.legend("a copy with its number, in its own rectangle", p.boxSwatch(copyStyle))
		p.paleLegend(m)
	}
	if offcut != nil {
		p.legend("largest offcut worth keeping, "+sizeText(offcut.Width(), offcut.Height()), func(b geometry.Box) {
			p.fillWith(offcutPattern, []geometry.Path{b.Path()})
			p.draw(style{stroke: faint, width: 1}, b.Path())
		})
	}
	if l.Mirrored {
		p.paragraph(pageMargin, "Mirrored: the cut side is the back.")
	}
}
