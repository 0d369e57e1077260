package drawing

import "math"

// Measure is a length that a file tells in words beside what is drawn, as a
// dimension does of which the text was typed or counts by a scale of its own.
type Measure struct {
	Drawn float64 `json:"drawn"`          // from end to end, drawing units
	Said  float64 `json:"said"`           // in Unit
	Unit  string  `json:"unit,omitempty"` // mm, cm, m or inch; empty where the text has none
	Step  float64 `json:"step,omitempty"` // of the last digit of Said; 0: it is not rounded
}

// Plain reports whether m says the very number that is drawn, in whatever unit.
func (m Measure) Plain() bool {
	const slack = 1e-9 // of it: noise of computing it
	return m.Unit == "" && math.Abs(m.Said-m.Drawn) <= m.Step/2+slack*m.Drawn
}
