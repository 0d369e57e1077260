package workshop

import "github.com/shopspring/decimal"

// PriceList is one version of a workshop's prices. Rates are decimal numbers
// of the currency; jobs/estimate rounds each line to its minor unit.
type PriceList struct {
	ID          string                     `json:"id"`
	Name        string                     `json:"name"`
	Version     int                        `json:"version"`
	Currency    string                     `json:"currency"`     // the workshop's own word, such as "credit"
	MinorDigits int32                      `json:"minor_digits"` // 2: hundredths
	QuoteDays   int                        `json:"quote_days"`   // how long a quote stands
	PerMetre    map[string]decimal.Decimal `json:"per_metre"`    // roll stock by stock ID
	PerSheet    map[string]decimal.Decimal `json:"per_sheet"`    // sheet stock by stock ID
	TapeMetre   decimal.Decimal            `json:"tape_per_metre"`
	TapeArea    decimal.Decimal            `json:"tape_per_m2"` // takes the place of the price by the metre; 0: there is none
	Machine     decimal.Decimal            `json:"machine_per_minute"`
	Labour      decimal.Decimal            `json:"labour_per_minute"`
	BladeMetre  decimal.Decimal            `json:"blade_per_metre"`
	Minimum     decimal.Decimal            `json:"minimum"` // of the sum before tax
	TaxPercent  decimal.Decimal            `json:"tax_percent"`
	// Slots of the booking system: minutes are raised by SlotFactor, the
	// changeover is added, and the sum rounded up to the grid.
	SlotGridMin   int             `json:"slot_grid_min"`
	SlotFactor    decimal.Decimal `json:"slot_factor"`
	ChangeoverMin decimal.Decimal `json:"changeover_min"`
	TapingMin     decimal.Decimal `json:"taping_min"` // pressing one copy, or taping one on 0.2 m of tape 0.12 m wide
}
