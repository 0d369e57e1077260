package estimate

import (
	"fmt"
	"math"

	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// Spread says how far minutes may be off, as factors on the likely ones. The
// ends of a sum are the sums of the ends, as if all went well or ill together,
// so a range is rather too wide than too narrow.
//
// The defaults are common practice without a source; a workshop fits them to
// what jobs really took.
type Spread struct {
	// Machine time is computed from tested speeds; the model of corners and
	// of the controller's look-ahead is what may be off.
	Motion Factors `json:"motion"`
	// Loading, the test cut, tool changes and unloading are done by hand: a
	// practised hand is quicker, and a test cut may have to be made again.
	Handling Factors `json:"handling"`
	// Weeding and taping vary most, with the person and with the film's age.
	Bench Factors `json:"bench"`
}

// Factors are the low and high end of a time as shares of the likely one.
type Factors struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// DefaultSpread returns ±10 % on motion, −20 % and +50 % on what is done by
// hand at the machine, and −30 % and +60 % at the bench.
func DefaultSpread() Spread {
	return Spread{Motion: Factors{0.9, 1.1}, Handling: Factors{0.8, 1.5}, Bench: Factors{0.7, 1.6}}
}

func (f Factors) of(s float64) Range { return Range{Low: f.Low * s, Likely: s, High: f.High * s} }

func (r Range) plus(q Range) Range { return Range{r.Low + q.Low, r.Likely + q.Likely, r.High + q.High} }

// minutes turns seconds into minutes, to the hundredth.
func (r Range) minutes() Range {
	round := func(s float64) float64 { return hundredths(s / 60).InexactFloat64() }
	return Range{round(r.Low), round(r.Likely), round(r.High)}
}

// hundredths rounds half up at the second decimal. Rounding at the ninth
// first takes the noise of float64 sums off a half.
func hundredths(v float64) decimal.Decimal { return decimal.NewFromFloat(v).Round(9).Round(2) }

// cutterMinutes is load, test, motion, lifts, changes of tool and unload.
func cutterMinutes(in Input, s Spread) Range {
	t := in.Time
	motion := s.Motion.of(t.CutS + t.TravelS + t.LiftS)
	return motion.plus(s.Handling.of(t.LoadS + t.TestS + t.PauseS + t.UnloadS)).minutes()
}

// benchS is weeding all copies, with its start-up once a load, and taping or
// pressing them, in seconds of one whose effort it is.
func benchS(in Input, e weeding.Effort) float64 {
	weeding := e.Seconds(in.Copies) + e.StartS*float64(max(0, in.Loads-1))
	return weeding + 60*in.Prices.TapingMin.InexactFloat64()*taped(in)
}

// A copy takes the taping minutes of the price list where it is the label of the
// worked example: 0.2 m of tape, 0.12 m wide. Of that time so much goes with the
// length, for laying and pressing the tape on, and the rest with the area, for
// rubbing it down (common practice, no source).
const (
	tapedM        = 0.2
	tapedMM2      = 200 * 120
	tapedByLength = 0.75
)

// taped returns how many times the taping minutes are needed: once for each copy
// that is pressed, and for film on tape by the length and area of the tape.
func taped(in Input) float64 {
	if in.Stock.Family == workshop.HeatFilm {
		return float64(max(in.Copies, in.Pieces))
	}
	return tapedByLength*in.Usage.TapeM/tapedM + (1-tapedByLength)*in.Usage.TapeMM2/tapedMM2
}

// Slot returns the minutes to book: grid·⌈(minutes·factor + changeover)/grid⌉.
// Without a grid the sum is rounded up to a whole minute.
func Slot(minutes float64, factor, changeover decimal.Decimal, grid int) int {
	step := slotStep(grid)
	slots := slotNeed(minutes, factor, changeover).Div(step).Ceil().Mul(step).IntPart()
	return int(min(max(slots, 0), math.MaxInt32))
}

func slotNeed(minutes float64, factor, changeover decimal.Decimal) decimal.Decimal {
	return hundredths(minutes).Mul(factor).Add(changeover)
}

func slotStep(grid int) decimal.Decimal { return decimal.NewFromInt(int64(max(1, grid))) }

// SlotWhy says in a line how Slot comes to its minutes, so that whoever books
// them sees by how little the next step was missed.
func SlotWhy(minutes float64, factor, changeover decimal.Decimal, grid int) string {
	need, step := slotNeed(minutes, factor, changeover), slotStep(grid)
	sum := hundredths(minutes).String() + " min"
	if !factor.Equal(decimal.NewFromInt(1)) {
		sum += " × " + factor.String()
	}
	if !changeover.IsZero() {
		sum += " + " + changeover.String() + " min to change over"
	}
	if sum != need.String()+" min" {
		sum += " = " + need.String() + " min"
	}
	book := fmt.Sprintf("book %d", Slot(minutes, factor, changeover, grid))
	whole := need.Div(step).Floor().Mul(step)
	if over := need.Sub(whole); !over.IsZero() && whole.IsPositive() {
		return fmt.Sprintf("%s, which is %s over %s: %s", sum, over, whole, book)
	}
	return sum + ": " + book
}
