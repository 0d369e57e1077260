package picture

import (
	"context"
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// Size draws the drawing at the size that was found, with the frame it was
// measured by, what is wrong with it by number, and the readings that were
// weighed. While the size is in question it shows the drawing as it is, without
// dimensions, and what each answer would make of it beside a bank card. It fails only with the error of ctx.
func Size(ctx context.Context, d *read.Result, s *size.Result) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page { return sizePage(b, d, s) })
}

func sizePage(b *budget.Budget, d *read.Result, s *size.Result) *page {
	settled := len(s.Questions) == 0
	p := newPage(b, "True size", sizeSubtitle(s, settled))
	lines, frames := apart(b, d, s)
	art, frame := boundsOf(b, lines), boundsOf(b, frames)
	p.asked(s.Questions, func(q *ask.Question) { p.besideCard(q, lines, frames) })
	p.Open(art.Union(frame), figure.Inset{Dimensions: true})
	shown := p.DetailOf(lines, 1)
	p.Show(figure.Style{Stroke: figure.Ink, Width: 1.5}, shown.Shown...)
	p.Show(frameStyle(), frames...)
	findings := atTrueSize(slices.Concat(d.Findings, s.Findings), s)
	number := tagNames(findings)
	p.markFindings(findings, number, mostMarks)
	switch {
	case art.Empty() && frame.Empty():
		p.Blank("There is nothing to measure.")
	case settled:
		if !art.Empty() {
			p.Dimensions(p.OnPage(art), figure.Number(s.WidthMM)+" mm", figure.Number(s.HeightMM)+" mm")
		}
		p.ScaleBar()
	}
	p.Foot += 8
	if len(frames) > 0 {
		p.Legend(frameText(settled), p.LineSwatch(frameStyle()))
	}
	p.findingLegend(findings, number, mostMarks)
	p.leftOut(shown)
	if settled {
		p.Paragraph(0, s.Why)
		p.weighed(s.Hypotheses)
	}
	return p
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
func apart(b *budget.Budget, d *read.Result, s *size.Result) (lines, frames []geometry.Path) {
	view := viewOf(s)
	parts := map[[2]int]size.Part{}
	for _, part := range s.FrameParts {
		parts[[2]int{part.Shape, part.Path}] = part
	}
	others := map[[2]int]bool{}
	for _, part := range s.LeftOut {
		others[[2]int{part.Shape, part.Path}] = true
	}
	maps := map[[2]int]geometry.Affine{}
	for _, placed := range s.Placed {
		for _, part := range placed.Parts {
			maps[[2]int{part.Shape, part.Path}] = placed.Transform
		}
	}
	for i := range d.Shapes {
		for k, path := range d.Shapes[i].Paths {
			b.Spend(1 + len(path.Segments))
			part, ok := parts[[2]int{i, k}]
			own, placed := maps[[2]int{i, k}]
			switch {
			case path.Empty() || !path.Finite() || others[[2]int{i, k}]:
			case placed:
				lines = append(lines, path.Transform(own))
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

func boundsOf(b *budget.Budget, paths []geometry.Path) geometry.Box {
	all := geometry.EmptyBox()
	for _, q := range paths {
		b.Spend(1 + len(q.Segments))
		all = all.Union(q.Bounds())
	}
	return all
}

// mostWeighed is how many of the readings that were compared are listed.
const mostWeighed = 4

// weighed lists the best readings that were compared.
func (p *page) weighed(hs []size.Hypothesis) {
	if len(hs) == 0 {
		return
	}
	p.Heading("Readings weighed")
	for i, h := range hs {
		if i == mostWeighed {
			p.Paragraph(20, fmt.Sprintf("and %d more", len(hs)-i))
			return
		}
		p.Paragraph(20, fmt.Sprintf("%s Left over at the far corner: %.3f and %.3f mm.", h.Evidence, h.ResidualMM[0], h.ResidualMM[1]))
	}
}
