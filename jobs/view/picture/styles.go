package picture

import "knifedesk/geometry/figure"

// The styles of the lines that the plan adds, and of those that only show
// something.

func reliefStyle() figure.Style {
	return figure.Style{Stroke: relief, Width: 2.8, Dash: []float64{5, 4.5}}
}

func borderStyle() figure.Style {
	return figure.Style{Stroke: relief, Width: 2.2, Dash: []float64{18, 5, 1, 5, 1, 5}}
}

func seamStyle() figure.Style {
	return figure.Style{Stroke: relief, Width: 3.4, Dash: []float64{24, 7}}
}

func bridgeStyle() figure.Style {
	return figure.Style{Stroke: figure.Ink, Width: 1.2, Fill: figure.Ink}
}

func frameStyle() figure.Style {
	return figure.Style{Stroke: relief, Width: 2.2, Dash: []float64{14, 7}}
}

func fragileStyle() figure.Style {
	return figure.Style{Stroke: alarm, Width: 2.4, Dash: []float64{2, 4.5}}
}

func waitingStyle() figure.Style { return figure.Style{Stroke: figure.Ink, Width: 0.9} }

// beforeStyle is that of what was cut in the passes before.
func beforeStyle() figure.Style { return figure.Style{Stroke: "#9aa0ad", Width: 0.9} }

func leadInStyle() figure.Style { return figure.Style{Stroke: alarm, Width: 2.4} }

func copyStyle() figure.Style {
	return figure.Style{Fill: figure.Paper, Stroke: figure.Faint, Width: 1, Dash: []float64{4, 4}}
}

func placeStyle() figure.Style {
	return figure.Style{Stroke: alarm, Width: 1.6, Dash: []float64{6, 4}}
}

func badgeStyle() figure.Style {
	return figure.Style{Stroke: figure.Ink, Width: 1.8, Fill: figure.Paper}
}

func alarmStyle() figure.Style {
	return figure.Style{Stroke: alarm, Width: 2, Fill: figure.Paper}
}

func arrowStyle() figure.Style { return figure.Style{Stroke: figure.Ink, Width: 2.6} }

func dotStyle() figure.Style {
	return figure.Style{Fill: figure.Ink, Stroke: figure.Paper, Width: 1}
}

// pale returns the style for lines drawn small: thinner, with the same dash.
func pale(s figure.Style) figure.Style {
	s.Width *= 0.65
	return s
}
