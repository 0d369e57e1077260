package estimate_test

import (
	"testing"

	"knifedesk/jobs/estimate"

	"github.com/google/go-cmp/cmp"
)

// What is one order is added up, and not where a part of it has no price or another
// currency.
func TestTogether(t *testing.T) {
	one := &estimate.Estimate{CutterMin: estimate.Range{Low: 0.1, Likely: 1, High: 2}, BenchMin: estimate.Range{Likely: 3, High: 3.5}, Currency: "credit", MinorDigits: 2, TotalMinor: 380}
	two := &estimate.Estimate{CutterMin: estimate.Range{Low: 0.2, Likely: 4.25, High: 5}, BenchMin: estimate.Range{Low: 1, Likely: 2, High: 6}, Currency: "credit", MinorDigits: 2, TotalMinor: 1125}
	want := &estimate.Sum{
		CutterMin: estimate.Range{Low: 0.3, Likely: 5.25, High: 7}, BenchMin: estimate.Range{Low: 1, Likely: 5, High: 9.5},
		TotalMinor: 1505, Currency: "credit", TotalText: "15.05 credit",
	}
	if diff := cmp.Diff(want, estimate.Together([]*estimate.Estimate{one, two})); diff != "" {
		t.Error(diff)
	}
	other := *two
	other.Currency = "token"
	for name, all := range map[string][]*estimate.Estimate{"none": nil, "one is missing": {one, nil}, "two currencies": {one, &other}} {
		if got := estimate.Together(all); got != nil {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
