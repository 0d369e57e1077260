package picture

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
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
	p := newPage(b, "True size", sizeSubtitle(d.Unit, s, settled))
	lines, frames := apart(b, d, s)
	art, frame := boundsOf(b, lines), boundsOf(b, frames)
	p.asked(s.Questions, func(q *ask.Question) { p.besideCard(q, viewOf(s), lines, frames) })
	all := art.Union(frame)
	card := p.openBeside(all, settled)
	shown := p.DetailOf(lines, 1)
	p.ShowWork(figure.Style{Stroke: figure.Ink, Width: 1.5}, shown.Shown...)
	p.ShowWork(frameStyle(), frames...)
	if !frame.Empty() {
		p.framed = p.OnPage(frame)
	}
	switch {
	case all.Empty():
		p.Blank("There is nothing to measure.")
	case settled:
		if !card.Empty() {
			p.Show(cardStyle(), card.Path())
		}
		if !art.Empty() {
			p.Dimensions(p.OnPage(art), p.OnPage(all), figure.Number(s.WidthMM)+" mm", figure.Number(s.HeightMM)+" mm")
		}
		p.ScaleBar()
	}
	findings := atTrueSize(slices.Concat(d.Findings, s.Findings), s)
	number := tagNames(findings)
	p.markFindings(findings, number, mostMarks)
	if settled && card.Empty() && !art.Empty() {
		larger := closeUpOf(b, shown.Shown, art)
		larger.outline(p)
		larger.draw(p, shown.Shown)
	}
	p.Foot += 8
	if len(frames) > 0 {
		p.Legend(frameText(settled), p.LineSwatch(frameStyle()))
	}
	if settled && !all.Empty() {
		p.Legend("a bank card, "+sizeText(ask.CardWidthMM, ask.CardHeightMM)+", to compare", p.LineSwatch(cardStyle()))
	}
	p.findingLegend(findings, number, mostMarks)
	p.leftOut(shown)
	if settled {
		p.Paragraph(0, s.Why)
		p.weighed(s)
	}
	return p
}

// openBeside opens the panel of the drawing. Where the size is settled there is room
// to its right for the height and for a bank card, whose place it returns, unless the card
// would be too small to compare with.
func (p *page) openBeside(all geometry.Box, settled bool) geometry.Box {
	if !settled || all.Empty() {
		p.Open(all, figure.Inset{Dimensions: true})
		return geometry.EmptyBox()
	}
	const heightRoom = 120 // pixels
	wide, high := all.Width()+ask.CardWidthMM, max(all.Height(), ask.CardHeightMM)
	gap := heightRoom / min(p.ScaleOf(wide, high), p.ScaleBeside(heightRoom, wide))
	if heightRoom/gap*ask.CardWidthMM < leastCard {
		p.Open(all, figure.Inset{Dimensions: true})
		return geometry.EmptyBox()
	}
	corner := geometry.Pt(all.Max.X+gap, all.Min.Y)
	card := geometry.BoxAround(corner, corner.Add(geometry.Pt(ask.CardWidthMM, ask.CardHeightMM)))
	p.Open(all.Union(card), figure.Inset{Below: true})
	return card
}

func frameText(settled bool) string {
	if settled {
		return "frame: carries the size, is not cut"
	}
	return "what is taken for the frame"
}

func sizeSubtitle(u drawing.Unit, s *size.Result, settled bool) string {
	if !settled {
		return "in question: please answer"
	}
	per, unit := ownUnit(u)
	one := "one drawing unit"
	switch {
	case unit != "":
		one = "1" + unit + " of the file"
	case per != 1:
		one = "1 in the file's own numbers"
	}
	text := "The work is " + sizeText(s.WidthMM, s.HeightMM) + "; " + one
	if s.X != s.Y {
		return fmt.Sprintf("%s is %.6g mm across and %.6g mm up.", text, s.X*per, s.Y*per)
	}
	return fmt.Sprintf("%s is %.6g mm.", text, s.X*per)
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

// weighed lists the best readings that were compared, with how wide the work would be
// under each and why it is not that one.
func (p *page) weighed(s *size.Result) {
	if len(s.Hypotheses) == 0 || s.X == 0 {
		return
	}
	p.Foot += 8
	rows := [][]string{{"reading", "your width", "why not"}}
	for i := range s.Hypotheses {
		if i == mostWeighed {
			break
		}
		h := &s.Hypotheses[i]
		reading, _, _ := strings.Cut(h.Evidence, ". ")
		rows = append(rows, []string{reading, figure.Number(s.WidthMM*h.Factor/s.X) + " mm", whyNot(h, s)})
	}
	p.Table([]float64{0.5, 0.18, 0.32}, rows)
	if n := len(s.Hypotheses) - mostWeighed; n > 0 {
		p.Paragraph(0, fmt.Sprintf("and %d more", n))
	}
}

// whyNot says what speaks against a reading.
func whyNot(h *size.Hypothesis, s *size.Result) string {
	const clear = 0.05 // mm that a reading may leave on a frame
	left := max(h.ResidualMM[0], h.ResidualMM[1])
	switch {
	case math.Abs(h.Factor/s.X-1) < 1e-6 && s.X == s.Y:
		return "this one is taken"
	case !h.Plausible:
		return "parts would be far too small or too large"
	case !h.FitsStock:
		return "does not fit the stock"
	case left > clear:
		return "leaves " + figure.Number(left) + " mm on the frame"
	case h.Cause == "no_known_cause":
		return "there is no known cause for it"
	}
	return "nothing in the file says so"
}
