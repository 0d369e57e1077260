package picture

import (
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// Weeding draws the map of what stays and what goes, with the order of the
// steps, to be pinned over the bench. Where the numbers would crowd each other
// it draws the whole without them and parts of it enlarged. Mirrored work is
// drawn mirrored. It fails only with the error of ctx.
func Weeding(ctx context.Context, m *weeding.Map) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page { return weedingPage(b, m) })
}

func weedingPage(b *budget.Budget, m *weeding.Map) *page {
	m = m.AsItLies(b)
	p := newPage(b, weedingTitle(m), weedingSubtitle(m))
	p.asked(m.Questions, func(q *ask.Question) { p.bothStencils(q, m) })
	s := newSheet(p, m)
	s.whole()
	if len(m.Strokes) == 0 {
		p.Blank("There is nothing to weed.")
	} else {
		p.ScaleBar()
	}
	s.legends()
	tellMarks(p, m)
	p.leftOut(s.left)
	s.parts()
	return p
}

// sheet is a weeding map being drawn.
type sheet struct {
	*page
	m        *weeding.Map
	extent   geometry.Box
	byNumber map[int]*weeding.Region
	findings []finding.Finding
	tiles    []tile
	left     figure.Detail // of the whole
	drawn    struct{ arrow, dot bool }
}

// newSheet returns a map that nothing is drawn of yet.
func newSheet(p *page, m *weeding.Map) *sheet {
	s := &sheet{page: p, m: m, extent: m.Bounds, byNumber: map[int]*weeding.Region{}, findings: serious(m.Findings)}
	for i := range m.Regions {
		s.byNumber[m.Regions[i].Number] = &m.Regions[i]
	}
	return s
}

// weedingTitle says so where the map shows the work from its back, as it lies
// at the bench.
func weedingTitle(m *weeding.Map) string {
	title := "Weeding map"
	if m.Panel != "" {
		title += ", panel " + m.Panel
	}
	if m.Mirrored {
		title += ", mirrored, as it lies on the " + lying(m)
	}
	return title
}

// lying is what the work lies on at the bench.
func lying(m *weeding.Map) string {
	if pulls(m) {
		return "liner"
	}
	return "mat"
}

func weedingSubtitle(m *weeding.Map) string {
	kept := m.Pieces()
	text := fmt.Sprintf("%s, %s: ", m.Purpose, sizeText(m.Bounds.Width(), m.Bounds.Height()))
	if m.Copies > 0 {
		text = fmt.Sprintf("%s, a load of %s, %s: ", m.Purpose, count(m.Copies, "copy", "copies"), sizeText(m.Bounds.Width(), m.Bounds.Height()))
	}
	if m.Purpose == weeding.Stencil {
		text += count(len(m.Steps), "opening to take out", "openings to take out")
	} else if pulls(m) {
		text += count(kept, "piece stays", "pieces stay") + ", " + count(len(m.Steps), "step to peel", "steps to peel")
	} else {
		text += count(kept, "part", "parts")
		if len(m.Steps) > 0 { // what there is none of is not said
			text += ", " + count(len(m.Steps), "hole to push out", "holes to push out")
		}
	}
	if m.Copies > 0 && m.Effort.CopyS > 0 {
		return text + ", about " + duration(m.Effort.CopyS)
	}
	if m.Effort.CopyS > 0 {
		text += ", about " + duration(m.Effort.CopyS) + " a copy"
	}
	return text
}

// serious lists the findings that still matter at the bench.
func serious(all []finding.Finding) []finding.Finding {
	var out []finding.Finding
	for _, f := range all {
		if f.Severity != finding.Mended {
			out = append(out, f)
		}
	}
	return out
}

// regions fills the regions, those of one class together, and notes in the
// panel where each lies.
func (s *sheet) regions() {
	var rings []geometry.Path
	for i := range s.m.Regions {
		rings = append(append(rings, s.m.Regions[i].Outer), s.m.Regions[i].Holes...)
	}
	shown := s.DetailOf(rings, 1).Shown
	byClass := map[weeding.Class][]geometry.Path{}
	for i := range s.m.Regions {
		r := &s.m.Regions[i]
		n := 1 + len(r.Holes)
		mine := s.panelRings(shown[:n])
		shown = shown[n:]
		byClass[r.Class] = append(byClass[r.Class], mine...)
		s.Spots.Paint(r.Number, mine)
	}
	for _, c := range classes() {
		s.Fill(patternOf(c), byClass[c])
	}
}

// panelRings returns the rings of a region in pixels, none where it lies off
// the panel.
func (s *sheet) panelRings(rings []geometry.Path) []geometry.Path {
	if s.Visible(rings[0], geometry.Identity).Empty() {
		return nil
	}
	return s.Project(rings)
}

// content draws everything but the numbers of the steps.
func (s *sheet) content() {
	s.regions()
	s.left = s.strokes(s.m.Strokes, []geometry.Affine{geometry.Identity}, false)
	s.Show(bridgeStyle(), s.m.Bridges...)
	s.Zone = figure.ZoneMarks
	for i := range s.m.Regions {
		if r := &s.m.Regions[i]; r.Fragile {
			s.ring(r.Outer.Bounds())
		}
	}
}

// ring draws a ring round a fragile piece.
func (s *sheet) ring(b geometry.Box) {
	q := s.OnPage(b)
	r := geometry.Pt(q.Width(), q.Height()).Norm()/2 + 5
	if !s.Hides(geometry.BoxAround(q.Centre()).Grow(r)) {
		s.Cased(fragileStyle(), geometry.Circle(q.Centre(), r))
	}
}
