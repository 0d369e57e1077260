package meaning

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/workshop"
)

// The differences within which a colour is the rule's and up to which it is
// near it, where the convention states none (common practice, no source).
const (
	defaultToleranceDE = 2
	defaultNearDE      = 15
)

// mark is all by which a convention can tell lines apart.
type mark struct {
	layer   string
	colour  drawing.Colour
	painted bool // by its fill, for want of a stroke
	widthMM float64
}

func markOf(l *line) mark {
	m := mark{layer: l.shape.Layer, widthMM: l.widthMM}
	switch {
	case l.shape.Stroke != nil:
		m.colour = *l.shape.Stroke
	case l.shape.Fill != nil:
		m.colour, m.painted, m.widthMM = *l.shape.Fill, true, 0
	}
	return m
}

// near is a rule whose colour is close to a line's.
type near struct {
	rule  workshop.Rule
	delta float64
}

// reading is what a convention says of a mark: a meaning, or the rules that all
// but their colour match, the nearest first.
type reading struct {
	means workshop.Meaning
	fold  workshop.Side
	near  []near
}

// reader reads marks by a convention, each mark once.
type reader struct {
	convention *workshop.Convention
	seen       map[mark]reading
}

func (r *reader) read(m mark) reading {
	got, known := r.seen[m]
	if !known {
		got = read(r.convention, m)
		r.seen[m] = got
	}
	return got
}

// read applies the rules in order; the first that matches decides.
func read(c *workshop.Convention, m mark) reading {
	tolerance := cmp.Or(c.ToleranceDE, defaultToleranceDE)
	limit := cmp.Or(c.NearDE, defaultNearDE)
	var close []near
	for _, r := range c.Rules {
		if r.Layer != "" && !onLayerOf(&r, m.layer) || !widthMatches(r.WidthMM, m.widthMM) {
			continue
		}
		delta := 0.0
		if r.Colour != nil {
			delta = difference(*r.Colour, m.colour)
		}
		if delta <= tolerance {
			return reading{means: r.Means, fold: r.Fold}
		}
		if delta <= limit {
			close = append(close, near{r, delta})
		}
	}
	slices.SortStableFunc(close, func(a, b near) int { return cmp.Compare(a.delta, b.delta) })
	return reading{near: close}
}

// onLayerOf reports whether a layer is the one of a rule.
func onLayerOf(r *workshop.Rule, layer string) bool {
	if r.Means == workshop.MeansFrame {
		return workshop.OnFrameLayer(r.Layer, layer)
	}
	return workshop.OnLayer(r.Layer, layer)
}

// widthMatches allows a twentieth, or 0.02 mm, for rounding in the file.
func widthMatches(want, got float64) bool {
	return want == 0 || math.Abs(got-want) <= math.Max(0.02, want/20)
}
