package number

import (
	"fmt"
	"math"
)

// People writes v with the digits that a person has a use for: one decimal from
// 1 on, as a ruler tells tenths of a millimetre, two below, and one significant
// digit below a hundredth.
func People(v float64) string { return people(v, math.Round) }

// PeopleUp is People rounded away from 0, for what is said to be at most that
// much, and PeopleDown rounded towards 0, for what is said to be at least that
// much: so that no text calls 1.46 too little where 1.5 is enough.
func PeopleUp(v float64) string { return people(v, awayFrom0) }

// PeopleDown is the counterpart of PeopleUp.
func PeopleDown(v float64) string { return people(v, towards0) }

// noise is the part of a digit that is taken for rounding in the computation.
const noise = 1e-6

func awayFrom0(x float64) float64 { return math.Copysign(math.Ceil(math.Abs(x)-noise), x) }
func towards0(x float64) float64  { return math.Copysign(math.Floor(math.Abs(x)+noise), x) }

func people(v float64, round func(float64) float64) string {
	decimals := 1
	switch a := math.Abs(v); {
	case v == 0 || math.IsInf(v, 0) || math.IsNaN(v) || a >= 1e15:
		return Text(v, 0)
	case a < 0.01:
		decimals = int(-math.Floor(math.Log10(a)))
	case a < 1:
		decimals = 2
	}
	tenths := math.Pow10(decimals)
	return Text(round(v*tenths)/tenths, decimals)
}

// Through writes two whole numbers, the lesser first, with all between: "7 and 8", "1 to 4".
func Through(from, to int) string {
	if to == from+1 {
		return fmt.Sprintf("%d and %d", from, to)
	}
	return fmt.Sprintf("%d to %d", from, to)
}
