package picture

import (
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
)

// The inks are dark enough for every tint they lie on, for the common forms of
// colour blindness and in grey print; each is paired with a dash, a width, a
// hatch or a shape of its own.
const (
	keptInk = "#1f5f74"
	sandInk = "#7a5a1e"
	relief  = "#93440f"
	alarm   = "#8e2464"

	keptTint  = "#b3ced8"
	sandTint  = "#fdf8ec" // removed between kept shapes
	emberTint = "#fbe9c9" // removed inside a shape
	stockTint = "#f7f5ee"
)

// strokeStyle inks an operation: dash and width tell it apart without colour.
func strokeStyle(op artwork.Operation) figure.Style {
	switch op {
	case artwork.Pen:
		return figure.Style{Stroke: "#5d6575", Width: 1.9, Dash: []float64{1.5, 3.5}}
	case artwork.Score:
		return figure.Style{Stroke: "#8f560c", Width: 1.8, Dash: []float64{11, 6}}
	case artwork.Perforate:
		return figure.Style{Stroke: "#6d4a88", Width: 1.8, Dash: []float64{9, 4, 1, 4}}
	case artwork.KissCut:
		return figure.Style{Stroke: "#14506a", Width: 1.6}
	}
	return figure.Style{Stroke: "#16203f", Width: 3}
}

// lineStyle inks a stroke of the plan; added lines look unlike those drawn.
func lineStyle(s *artwork.Stroke) figure.Style {
	switch s.Added {
	case artwork.Relief:
		return reliefStyle()
	case artwork.Seam:
		return seamStyle()
	case artwork.Border:
		return borderStyle()
	}
	return strokeStyle(s.Operation)
}

// lineName names a stroke of the plan in a legend.
func lineName(s *artwork.Stroke) string {
	switch s.Added {
	case artwork.Relief:
		return "relief line, added so that the film peels in pieces"
	case artwork.Seam:
		return "seam between panels, added by the plan"
	case artwork.Border:
		return "weed border, added by the plan"
	}
	return operationName(s.Operation)
}

func operationName(op artwork.Operation) string {
	switch op {
	case artwork.Pen:
		return "pen line"
	case artwork.Perforate:
		return "perforated line, to tear along"
	case artwork.Score:
		return "score, to fold along"
	case artwork.KissCut:
		return "kiss cut, through the film and not its backing"
	}
	return op.Words()
}
