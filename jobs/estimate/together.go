package estimate

import "github.com/shopspring/decimal"

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
	var s *Sum
	for _, e := range all {
		switch {
		case e == nil:
			return nil
		case s == nil:
			s = &Sum{Currency: e.Currency}
		case e.Currency != s.Currency:
			return nil
		}
		s.CutterMin, s.BenchMin = s.CutterMin.plus(e.CutterMin).rounded(), s.BenchMin.plus(e.BenchMin).rounded()
		s.TotalMinor += e.TotalMinor
		s.TotalText = decimal.New(s.TotalMinor, -e.MinorDigits).StringFixed(e.MinorDigits) + " " + e.Currency
	}
	return s
}
