package estimate

import (
	"slices"

	"github.com/shopspring/decimal"
)

// Sum is what several plans that are one order take together.
type Sum struct {
	CutterMin, BenchMin Range
	TotalMinor          int64
	Currency            string
	TotalText           string // "15.31 credit"
}

// Together adds up estimates. It is nil where there is none, one is missing, or they are in
// several currencies.
func Together(all []*Estimate) *Sum {
	if len(all) == 0 || slices.Contains(all, nil) {
		return nil
	}
	first := all[0]
	s := &Sum{Currency: first.Currency}
	for _, e := range all {
		if e.Currency != s.Currency {
			return nil
		}
		s.CutterMin, s.BenchMin = s.CutterMin.plus(e.CutterMin), s.BenchMin.plus(e.BenchMin)
		s.TotalMinor += e.TotalMinor
	}
	s.CutterMin, s.BenchMin = s.CutterMin.rounded(), s.BenchMin.rounded()
	s.TotalText = decimal.New(s.TotalMinor, -first.MinorDigits).StringFixed(first.MinorDigits) + " " + s.Currency
	return s
}
