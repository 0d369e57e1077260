package preview

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/size"
)

// Size draws the drawing at the size that was found, with the frame it was
// measured by, and the readings that were weighed. While the size is in
// question it shows the drawing as it is, without dimensions.
func Size(d *drawing.Drawing, s *size.Result) *Picture {
	settled := len(s.Questions) == 0
	view := s.Transform
	if view.Det() == 0 {
		view = geometry.Identity
	}
	extent := geometry.EmptyBox()
	frame := map[[2]int]bool{}
	for _, part := range s.FrameParts {
		frame[[2]int{part.Shape, part.Path}] = true
	}
	art := geometry.EmptyBox()
	var lines, frames []geometry.Path
	for i := range d.Shapes {
		for k, path := range d.Shapes[i].Paths {
			q := path.Transform(view)
			extent = extent.Union(q.Bounds())
			if frame[[2]int{i, k}] {
				frames = append(frames, q)
				continue
			}
			art = art.Union(q.Bounds())
			lines = append(lines, q)
		}
	}
	p := newPage("True size", sizeSubtitle(s, settled), extent)
	p.show(style{stroke: ink, width: 1.5}, lines...)
	p.show(style{stroke: relief, width: 2, dash: []float64{12, 6}}, frames...)
	if settled && !art.Empty() {
		p.dimension(art.Min, geometry.Pt(art.Max.X, art.Min.Y), 14, trim(s.WidthMM)+" mm")
		p.dimension(art.Max, geometry.Pt(art.Max.X, art.Min.Y), -14, trim(s.HeightMM)+" mm")
		p.scaleBar()
	}
	if len(frames) > 0 {
		p.legend("frame: carries the size, is not cut", p.lineSwatch(style{stroke: relief, width: 2, dash: []float64{12, 6}}))
	}
	p.paragraph(pageMargin, s.Why)
	for _, q := range s.Questions {
		p.paragraph(pageMargin, q.Text)
		for i, a := range q.Answers {
			p.paragraph(pageMargin+20, fmt.Sprintf("%d. %s: %s", i+1, a.Label, a.Evidence))
		}
	}
	p.weighed(s.Hypotheses)
	return p.finish()
}

func sizeSubtitle(s *size.Result, settled bool) string {
	if !settled {
		return "in question: please answer"
	}
	return fmt.Sprintf("%s, one drawing unit is %s mm", sizeText(s.WidthMM, s.HeightMM), fmt.Sprintf("%.6g", s.X))
}

// weighed lists the best readings that were compared.
func (p *page) weighed(hs []size.Hypothesis) {
	for i, h := range hs {
		if i == 4 {
			return
		}
		if i == 0 {
			p.foot += 6
			p.writeBold(geometry.Pt(pageMargin, p.foot), 14.5, left, ink, "Readings weighed")
			p.foot += lineHeight
		}
		p.paragraph(pageMargin+20, fmt.Sprintf("%s Left over at the far corner: %.3f and %.3f mm.", h.Evidence, h.ResidualMM[0], h.ResidualMM[1]))
	}
}
