package picture

import (
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// Size draws the drawing at the size that was found, with the frame it was
// measured by, what is wrong with it by number, and the readings that were
// weighed. While the size is in
// question it shows the drawing as it is, without dimensions.
func Size(d *read.Result, s *size.Result) *Picture {
	settled := len(s.Questions) == 0
	p := newPage("True size", sizeSubtitle(s, settled))
	lines, frames := apart(&d.Drawing, s)
	art, frame := boundsOf(lines), boundsOf(frames)
	p.open(art.Union(frame), inset{side: sideRoom, foot: footRoom})
	shown := p.detailOf(lines, 1)
	p.show(style{stroke: ink, width: 1.5}, shown.shown...)
	p.show(frameStyle, frames...)
	findings := atTrueSize(slices.Concat(d.Findings, s.Findings), s)
	number := tagNames(findings)
	p.markFindings(findings, number, mostMarks)
	switch {
	case art.Empty() && frame.Empty():
		p.blank("There is nothing to measure.")
	case settled:
		if !art.Empty() {
			p.dimensions(p.onPage(art), trim(s.WidthMM)+" mm", trim(s.HeightMM)+" mm")
		}
		p.scaleBar()
	}
	p.foot += 8
	if len(frames) > 0 {
		p.legend(frameText(settled), p.lineSwatch(frameStyle))
	}
	p.findingLegend(findings, number, mostMarks)
	p.leftOut(shown)
	p.paragraph(pageMargin, s.Why)
	p.asked(s.Questions)
	p.weighed(s.Hypotheses)
	return p.finish()
}

func frameText(settled bool) string {
	if settled {
		return "frame: carries the size, is not cut"
	}
	return "what is taken for the frame"
}

func sizeSubtitle(s *size.Result, settled bool) string {
	switch {
	case !settled:
		return "in question: please answer"
	case s.X != s.Y:
		return fmt.Sprintf("%s, one drawing unit is %.6g mm across and %.6g mm up", sizeText(s.WidthMM, s.HeightMM), s.X, s.Y)
	}
	return fmt.Sprintf("%s, one drawing unit is %.6g mm", sizeText(s.WidthMM, s.HeightMM), s.X)
}

// viewOf maps the drawing to mm, or leaves it as it is where there is no size.
func viewOf(s *size.Result) geometry.Affine {
	if s.Transform.Det() == 0 {
		return geometry.Identity
	}
	return s.Transform
}

// atTrueSize returns findings of the drawing with their places in mm.
func atTrueSize(fs []finding.Finding, s *size.Result) []finding.Finding {
	for i := range fs {
		fs[i].Places = finding.Moved(fs[i].Places, viewOf(s))
	}
	return fs
}

// apart returns the drawing's lines at true size, those of the frame apart.
func apart(d *drawing.Drawing, s *size.Result) (lines, frames []geometry.Path) {
	view := viewOf(s)
	parts := map[[2]int]size.Part{}
	for _, part := range s.FrameParts {
		parts[[2]int{part.Shape, part.Path}] = part
	}
	for i := range d.Shapes {
		for k, path := range d.Shapes[i].Paths {
			part, ok := parts[[2]int{i, k}]
			switch {
			case path.Empty() || !path.Finite():
			case !ok:
				lines = append(lines, path.Transform(view))
			case len(part.Segments) == 0:
				frames = append(frames, path.Transform(view))
			default:
				frame, rest := split(path, part.Segments)
				frames, lines = appendImages(frames, frame, view), appendImages(lines, rest, view)
			}
		}
	}
	return lines, frames
}

func appendImages(to, paths []geometry.Path, m geometry.Affine) []geometry.Path {
	for _, q := range paths {
		to = append(to, q.Transform(m))
	}
	return to
}

// split takes the named segments out of a path.
func split(q geometry.Path, segments []int) (named, rest []geometry.Path) {
	is := map[int]bool{}
	for _, i := range segments {
		is[i] = true
	}
	from := q.Start
	for i, s := range q.Segments {
		one := geometry.Path{Start: from, Segments: []geometry.Segment{s}}
		if is[i] {
			named = append(named, one)
		} else {
			rest = append(rest, one)
		}
		from = s.End
	}
	return named, rest
}

func boundsOf(paths []geometry.Path) geometry.Box {
	b := geometry.EmptyBox()
	for _, q := range paths {
		b = b.Union(q.Bounds())
	}
	return b
}

// mostWeighed is how many of the readings that were compared are listed.
const mostWeighed = 4

// weighed lists the best readings that were compared.
func (p *page) weighed(hs []size.Hypothesis) {
	if len(hs) == 0 {
		return
	}
	p.heading("Readings weighed")
	for i, h := range hs {
		if i == mostWeighed {
			p.paragraph(pageMargin+20, fmt.Sprintf("and %d more", len(hs)-i))
			return
		}
		p.paragraph(pageMargin+20, fmt.Sprintf("%s Left over at the far corner: %.3f and %.3f mm.", h.Evidence, h.ResidualMM[0], h.ResidualMM[1]))
	}
}
