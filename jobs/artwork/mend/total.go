package mend

import "math"

// total is a sum of lengths in whole nanometres: their order makes no difference.
type total float64

// perMM is how many nanometres a millimetre has.
const perMM = 1e6

func (t *total) add(mm float64) { *t += total(math.Round(mm * perMM)) }

// mm returns the sum in mm.
func (t total) mm() float64 { return float64(t) / perMM }
