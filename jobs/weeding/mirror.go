package weeding

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// AsItLies returns the map as the work lies at the bench: m itself, or where the
// work is cut mirrored its reflection in the upright middle line of Bounds, as
// the layout reflects it. Numbers, order and areas stay, and rings still run
// anticlockwise. The paths of m are not changed.
func (m *Map) AsItLies(b *budget.Budget) *Map {
	if !m.Mirrored {
		return m
	}
	t := m.reflection(b)
	out := *m
	out.Regions = each(m.Regions, t.region)
	out.Strokes = slices.Clone(m.Strokes)
	for i := range out.Strokes {
		out.Strokes[i].Path = t.path(out.Strokes[i].Path)
	}
	out.Bridges = each(m.Bridges, t.ring)
	out.Steps = m.StepsAsTheyLie()
	out.Findings = each(m.Findings, func(f finding.Finding) finding.Finding {
		f.Places = finding.Moved(f.Places, t.m)
		return f
	})
	out.Questions = each(m.Questions, func(q ask.Question) ask.Question { return q.Moved(t.m) })
	return &out
}

// StepsAsTheyLie returns the steps of AsItLies.
func (m *Map) StepsAsTheyLie() []Step {
	if !m.Mirrored {
		return m.Steps
	}
	return each(m.Steps, m.reflection(nil).step)
}

func (m *Map) reflection(b *budget.Budget) reflection {
	return reflection{b, geometry.Affine{A: -1, D: 1, E: m.Bounds.Min.X + m.Bounds.Max.X}}
}

// reflection turns a map over.
type reflection struct {
	budget *budget.Budget
	m      geometry.Affine
}

func (t reflection) path(p geometry.Path) geometry.Path {
	t.budget.Spend(1 + len(p.Segments))
	return p.Transform(t.m)
}

// ring reflects a closed path and turns its sense back.
func (t reflection) ring(p geometry.Path) geometry.Path { return t.path(p).Reversed() }

func (t reflection) region(r Region) Region {
	r.Outer, r.Holes, r.Pick = t.ring(r.Outer), each(r.Holes, t.ring), t.m.Apply(r.Pick)
	if r.LeastWidthAt != nil {
		at := t.m.Apply(*r.LeastWidthAt)
		r.LeastWidthAt = &at
	}
	return r
}

// step reflects where to pull and which way: to the left what was to the right.
func (t reflection) step(s Step) Step {
	s.Pick = t.m.Apply(s.Pick)
	if s.PeelDeg = 180 - s.PeelDeg; s.PeelDeg > 180 {
		s.PeelDeg -= 360
	}
	return s
}

// each returns f of all, nil for none.
func each[T any](all []T, f func(T) T) []T {
	if all == nil {
		return nil
	}
	out := make([]T, len(all))
	for i, v := range all {
		out[i] = f(v)
	}
	return out
}
