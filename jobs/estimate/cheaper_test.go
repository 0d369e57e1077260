package estimate_test

import (
	"testing"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// The money of a hint is the difference of two estimates; what saves no money is left
// out where the price is known, and told without money where it is not.
func TestCheaper(t *testing.T) {
	film := workshop.Stock{ID: "film", Form: workshop.Roll, Family: workshop.RemovableFilm}
	prices := workshop.PriceList{Currency: "credit", MinorDigits: 2, PerMetre: map[string]decimal.Decimal{"film": decimal.RequireFromString("4.67")}}
	in := estimate.Input{
		Stock: film, Copies: 6, Loads: 1, Usage: layout.Usage{RollMM: 600}, Prices: prices,
		Savings: []layout.Saving{{NarrowerMM: 4, Across: 3, RollMM: 90}},
	}
	e := estimate.Make(in)
	if len(e.Cheaper) != 1 || e.Cheaper[0].Text != "4 mm narrower: 3 side by side, saves 90 mm of film, 0.42 credit" || e.Cheaper[0].Minor != 42 {
		t.Errorf("%+v", e.Cheaper)
	}
	less := in
	less.Usage.RollMM -= 90
	if got := e.TotalMinor - estimate.Make(less).TotalMinor; got != e.Cheaper[0].Minor {
		t.Errorf("it saves %d", got)
	}
	in.Prices.Minimum = decimal.NewFromInt(50)
	if e := estimate.Make(in); len(e.Cheaper) != 0 {
		t.Errorf("the least charge is due all the same: %+v", e.Cheaper)
	}
	in.Prices = workshop.PriceList{Currency: "credit", MinorDigits: 2}
	in.Savings = []layout.Saving{{Fewer: 1, Sheets: 1}}
	if e := estimate.Make(in); len(e.Cheaper) != 1 || e.Cheaper[0].Text != "1 copy less, saves 1 sheet" {
		t.Errorf("without a price: %+v", e.Cheaper)
	}
}
