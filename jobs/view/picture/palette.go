package picture

import "knifedesk/jobs/artwork"

// The inks are dark enough for every tint they lie on, for the common forms of
// colour blindness and in grey print; each is paired with a dash, a width, a
// hatch or a shape of its own.
const (
	ink     = "#1d2433"
	quiet   = "#4a5163"
	faint   = "#646c7d" // helping lines
	paper   = "#ffffff"
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
func strokeStyle(op artwork.Operation) style {
	switch op {
	case artwork.Pen:
		return style{stroke: "#5d6575", width: 1.9, dash: []float64{1.5, 3.5}}
	case artwork.Score:
		return style{stroke: "#8f560c", width: 1.8, dash: []float64{11, 6}}
	case artwork.Perforate:
		return style{stroke: "#6d4a88", width: 1.8, dash: []float64{9, 4, 1, 4}}
	case artwork.KissCut:
		return style{stroke: "#14506a", width: 1.6}
	}
	return style{stroke: "#16203f", width: 3}
}

// The lines that the plan adds, and those that only show something.
var (
	reliefStyle  = style{stroke: relief, width: 2.8, dash: []float64{5, 4.5}}
	borderStyle  = style{stroke: relief, width: 2.2, dash: []float64{18, 5, 1, 5, 1, 5}}
	seamStyle    = style{stroke: relief, width: 3.4, dash: []float64{24, 7}}
	bridgeStyle  = style{stroke: ink, width: 1.2, fill: ink}
	frameStyle   = style{stroke: relief, width: 2.2, dash: []float64{14, 7}}
	fragileStyle = style{stroke: alarm, width: 2.4, dash: []float64{2, 4.5}}
	travelStyle  = style{stroke: faint, width: 1.2, dash: []float64{1, 4}}
	copyStyle    = style{fill: paper, stroke: faint, width: 1, dash: []float64{4, 4}}
	placeStyle   = style{stroke: alarm, width: 1.6, dash: []float64{6, 4}}
	badgeStyle   = style{stroke: ink, width: 1.8, fill: paper}
	alarmStyle   = style{stroke: alarm, width: 2, fill: paper}
)

// lineStyle inks a stroke of the plan; added lines look unlike those drawn.
func lineStyle(s *artwork.Stroke) style {
	switch s.Added {
	case artwork.Relief:
		return reliefStyle
	case artwork.Seam:
		return seamStyle
	case artwork.Border:
		return borderStyle
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
		return "perforated line"
	}
	return op.Words()
}

// pale returns the style for strokes drawn small: thinner, with the same dash.
func (s style) pale() style {
	s.width *= 0.65
	return s
}
