package meaning

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// wideMM is the width from which the line of a filled shape shows: its outer
// edge then lies 0.25 mm outside the path (common practice, no source).
const wideMM = 0.5

// painted settles filled shapes with a wide line. What one sees ends at the
// outer edge of the line; what is drawn is its middle.
func (k *desk) painted(lines []line) error {
	widths := map[int]float64{} // by shape
	most := 0.0
	var wide []line
	cut := k.cutShapes()
	for _, l := range lines {
		k.budget.Step()
		if l.shape.Stroke != nil && l.shape.Fill != nil && l.atLeast(wideMM) && cut[l.number] {
			widths[l.number] = l.widthMM
			most = max(most, l.widthMM)
			wide = append(wide, l)
		}
	}
	if len(wide) == 0 {
		return nil
	}
	f := finding.New(finding.FillAndStroke, len(wide), finding.Values{"most_mm": finding.Num(most)}, places(k.budget, wide)...)
	edge, err := edgeBox(*k, widths)
	if err != nil {
		return err
	}
	answer := k.ask(f, sized(k, ask.Question{
		ID:   "painted_edge",
		Text: f.Fill("{count} filled {count:shape has|shapes have} a line up to {most_mm} mm wide round {count:it|them}. Where should the knife go?"),
		Answers: []ask.Answer{
			{ID: "line", Label: "Along the middle of the line, where it was drawn", Evidence: f.Fill("The shape keeps the size it was drawn with, up to {most_mm} mm less wide and high than it looks.")},
			{ID: "edge", Label: "Along the outer edge of the line, as it looks", Evidence: f.Fill("The shape is cut as it looks, up to {most_mm} mm wider and higher than it was drawn.")},
		},
	}, runBox(k.budget, k.strokes), edge))
	if answer != "edge" {
		return nil
	}
	edges, err := k.cutEdges(widths)
	if edges != nil {
		k.strokes = edges
	}
	return err
}

// mostTried bounds the segments of shapes whose edges are found only to say how
// large the work would be with them.
const mostTried = 5000

// edgeBox is the extent of the work when the shapes are cut at their outer edges,
// empty where that is too much to be found ahead of the answer.
func edgeBox(try desk, widths map[int]float64) (geometry.Box, error) {
	if mend.Segments(ofShapes(try.strokes, widths)) > mostTried {
		return geometry.EmptyBox(), nil
	}
	try.effort = mend.NewEffort(try.budget, mend.Segments(try.strokes))
	edges, err := try.cutEdges(widths)
	return runBox(try.budget, edges), err
}

// cutEdges returns the strokes with those of the shapes replaced by the outer edges
// of their lines, nil where there is too much of them. Corners are mitred, as SVG
// joins lines unless it is told otherwise.
func (k *desk) cutEdges(widths map[int]float64) ([]artwork.Stroke, error) {
	if k.crowd = tooSwept(k.effort, k.strokes, widths); k.crowd != nil || k.effort.Crowd() != nil {
		return nil, nil
	}
	regions := map[int]planar.Region{}
	var kept []artwork.Stroke // one for each of the shapes, as a model
	for _, s := range k.strokes {
		r, seen := regions[s.Shape]
		if widths[s.Shape] == 0 || !seen {
			kept = append(kept, s)
		}
		r.Rings = append(r.Rings, s.Path.FlattenIn(k.budget, geometry.DefaultChord))
		if s.Fill == drawing.EvenOdd {
			r.Rule = planar.EvenOdd
		}
		regions[s.Shape] = r
	}
	var out []artwork.Stroke
	for _, s := range kept {
		if widths[s.Shape] == 0 {
			out = append(out, s)
			continue
		}
		grown, err := planar.Offset{By: widths[s.Shape] / 2, Join: planar.Painted}.Of(k.budget, regions[s.Shape])
		if err != nil {
			return nil, fmt.Errorf("meaning: the edge of shape %d: %w", s.Shape, err)
		}
		s.Fill = drawing.EvenOdd
		for _, p := range grown {
			for _, ring := range append([][]geometry.Point{p.Outer}, p.Holes...) {
				s.Path = geometry.Polygon(ring...)
				out = append(out, s)
			}
		}
	}
	return out, nil
}

// tooSwept returns what there is too much of to find the edges of the lines.
func tooSwept(effort *mend.Effort, strokes []artwork.Stroke, widths map[int]float64) *mend.Crowd {
	wide := ofShapes(strokes, widths)
	if c := mend.TooCrossed(effort, wide); c != nil {
		return c
	}
	return mend.TooSwept(effort, wide, func(s *artwork.Stroke) float64 { return widths[s.Shape] / 2 })
}

// ofShapes returns the strokes of shapes that are in widths.
func ofShapes(strokes []artwork.Stroke, widths map[int]float64) []artwork.Stroke {
	var all []artwork.Stroke
	for _, s := range strokes {
		if widths[s.Shape] > 0 {
			all = append(all, s)
		}
	}
	return all
}
