package mend

// MostCrossings is the limit of TooCrossed.
const MostCrossings = mostCrossings

// Looks returns how much of the effort was spent.
func (e *Effort) Looks() int { return e.looks.Spent() }
