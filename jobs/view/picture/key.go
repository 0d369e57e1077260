package picture

import (
	"fmt"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/figure"
)

// drawnAs is what the shapes of a drawing that lie on one layer and have one colour have in
// common.
type drawnAs struct {
	layer, colour string
	filled        bool
}

// look is how such shapes are drawn, and how many there are.
type look struct {
	of    drawnAs
	style figure.Style
	paths []geometry.Path
	count int
}

// looks finds what shapes have in common. Dashes tell layers apart where colours do not.
type looks struct {
	list   []*look
	at     map[drawnAs]*look
	layers []string // that with the most segments first: its lines are whole
}

func looksOf(b *budget.Budget, shapes []drawing.Shape) *looks {
	l := &looks{at: map[drawnAs]*look{}}
	segments := map[string]int{}
	for i := range shapes {
		b.Spend(len(shapes[i].Paths))
		if _, known := segments[shapes[i].Layer]; !known {
			l.layers = append(l.layers, shapes[i].Layer)
			segments[shapes[i].Layer] = 0
		}
		for _, q := range shapes[i].Paths {
			segments[shapes[i].Layer] += len(q.Segments)
		}
	}
	slices.SortStableFunc(l.layers, func(a, b string) int { return segments[b] - segments[a] })
	return l
}

func (l *looks) of(s *drawing.Shape) *look {
	key := drawnAs{s.Layer, lineInk(s), s.Stroke == nil && s.Fill != nil}
	if one := l.at[key]; one != nil {
		return one
	}
	one := &look{of: key, style: layerStyle(slices.Index(l.layers, s.Layer))}
	one.style.Stroke = key.colour
	l.list, l.at[key] = append(l.list, one), one
	return one
}

// layerStyle is that of the lines of one layer of several.
func layerStyle(k int) figure.Style {
	dashes := [...][]float64{nil, {9, 4}, {2, 4}, {12, 4, 2, 4}, {5, 3}, {16, 5}}
	return figure.Style{Width: [...]float64{1.4, 2.4}[k/len(dashes)%2], Dash: dashes[k%len(dashes)]}
}

// mostKeyed is how many looks are listed.
const mostKeyed = 12

// key lists the layers and colours of a drawing, each as it is drawn.
func (l *looks) key(p *page) {
	for i, one := range l.list {
		if i == mostKeyed {
			p.Paragraph(figure.LegendIndent, fmt.Sprintf("and %d more layers and colours", len(l.list)-i))
			return
		}
		text := "on no layer"
		if one.of.layer != "" {
			text = "layer " + one.of.layer
		}
		if one.of.filled {
			text += ", filled"
		}
		text += ": " + count(one.count, "shape", "shapes")
		if one.of.filled {
			p.Legend(text, p.BoxSwatch(figure.Style{Fill: one.of.colour, Opacity: 0.35, Stroke: one.of.colour, Width: 1.4}))
		} else {
			p.Legend(text, p.LineSwatch(one.style))
		}
	}
}
