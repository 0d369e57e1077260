// Package estimate turns amounts and machine seconds into minutes, slots of
// the booking system, and money. It is pure: the same plan and the same price
// list give the same quote.
package estimate

import (
	"knifedesk/jobs/ask"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// Input is what an estimate is made from: the results of the jobs before it
// and the workshop's prices.
type Input struct {
	Stock  workshop.Stock `json:"stock"`
	Copies int            `json:"copies"`
	// Pieces are how many are pressed, where all that lies on a load is one copy of its
	// map; 0: the copies.
	Pieces int          `json:"pieces,omitempty"`
	Loads  int          `json:"loads"`
	Usage  layout.Usage `json:"usage"`
	// Savings are changes by which less of the stock is taken.
	Savings []layout.Saving `json:"savings,omitempty"`
	Time    passes.Time     `json:"time"`   // of all loads
	CutMM   float64         `json:"cut_mm"` // with overcut and repeats
	Effort  weeding.Effort  `json:"effort"` // of who weeds it
	// Staff is the effort of a practised hand, which is what is priced: that a
	// maker is slower books more time and costs nothing.
	Staff  weeding.Effort     `json:"staff"`
	Prices workshop.PriceList `json:"prices"`
	Spread *Spread            `json:"spread,omitempty"` // nil: DefaultSpread
	// Terms and Slower are what weeding is counted by where it is fitted.
	Terms       weeding.Terms            `json:"terms"`
	Slower      float64                  `json:"slower"`                // factor of who weeds it
	Calibration *calibration.Calibration `json:"calibration,omitempty"` // nil: the start values
}

// Estimate is minutes and money for a whole plan. Money is in whole minor units
// of the currency, as many to one as 10 to the power of MinorDigits.
type Estimate struct {
	CutterMin     Range `json:"cutter_min"`
	BenchMin      Range `json:"bench_min"`
	CutterSlotMin int   `json:"cutter_slot_min"` // of the likely minutes
	BenchSlotMin  int   `json:"bench_slot_min"`
	// How the slots come about, in a line each.
	CutterSlotWhy string `json:"cutter_slot_why,omitempty"`
	BenchSlotWhy  string `json:"bench_slot_why,omitempty"`

	// Loads is what of these minutes falls to each load and its passes; Make leaves it out.
	Loads []LoadTime `json:"loads,omitempty"`

	Lines       []Line `json:"lines"`
	NetMinor    int64  `json:"net_minor"` // before tax
	TaxMinor    int64  `json:"tax_minor"`
	TotalMinor  int64  `json:"total_minor"`
	Currency    string `json:"currency"`
	MinorDigits int32  `json:"minor_digits"`
	TotalText   string `json:"total_text"` // "15.31 credit"

	PriceList        string `json:"price_list"`
	PriceListVersion int    `json:"price_list_version"`
	ValidDays        int    `json:"valid_days"` // from the day of the quote

	// Basis is what the minutes are counted by, for those who fit them to what jobs
	// took; Calibration says what they were counted with.
	Basis       calibration.Basis `json:"basis"`
	Calibration string            `json:"calibration"`

	Cheaper  []Cheaper         `json:"cheaper,omitempty"`
	Findings []finding.Finding `json:"findings,omitempty"`
}

// Range is a time in minutes: likely, and the two ends of Spread.
type Range struct {
	Low    float64 `json:"low"`
	Likely float64 `json:"likely"`
	High   float64 `json:"high"`
}

// LineCode names a cost line.
type LineCode string

// The cost lines, in their order.
const (
	Material LineCode = "material"
	Tape     LineCode = "tape"
	Machine  LineCode = "machine"
	Labour   LineCode = "labour"
	Blade    LineCode = "blade"
	Minimum  LineCode = "minimum" // what the sum lacks of the least charge
	Tax      LineCode = "tax"
)

// Line is one line of the cost: the amount is quantity times rate, rounded
// half up, so that anybody can work it out again.
type Line struct {
	Code     LineCode        `json:"code"`
	Quantity decimal.Decimal `json:"quantity"`
	Unit     string          `json:"unit"` // m, sheet, min, %; empty for the minimum
	Rate     decimal.Decimal `json:"rate"`
	Minor    int64           `json:"amount_minor"`
}

// Outcome lists what the estimate found; it asks nothing.
func (e *Estimate) Outcome() ([]finding.Finding, []ask.Question) { return e.Findings, nil }

// Make works out minutes, slots and cost. A price that the list lacks is a
// finding, and the sum leaves the material out.
func Make(in Input) *Estimate {
	spread := DefaultSpread()
	if in.Spread != nil {
		spread = *in.Spread
	}
	p := in.Prices
	e := &Estimate{
		CutterMin: cutterMinutes(in, spread), BenchMin: benchMinutes(in, spread), Basis: in.basis(), Calibration: in.Calibration.Words(),
		Currency: p.Currency, MinorDigits: p.MinorDigits,
		PriceList: p.ID, PriceListVersion: p.Version, ValidDays: p.QuoteDays,
	}
	e.CutterSlotMin = Slot(e.CutterMin.Likely, p.SlotFactor, p.ChangeoverMin, p.SlotGridMin)
	e.CutterSlotWhy = SlotWhy(e.CutterMin.Likely, p.SlotFactor, p.ChangeoverMin, p.SlotGridMin)
	e.BenchSlotMin = Slot(e.BenchMin.Likely, p.SlotFactor, decimal.Zero, p.SlotGridMin)
	e.BenchSlotWhy = SlotWhy(e.BenchMin.Likely, p.SlotFactor, decimal.Zero, p.SlotGridMin)
	e.cost(in)
	e.cheaper(in)
	return e
}
