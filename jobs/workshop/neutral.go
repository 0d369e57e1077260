package workshop

import "github.com/shopspring/decimal"

// Neutral returns what a workshop starts from: stock of the common sizes, a
// narrow and a wide cutter, start points for test cuts, a convention by layer
// names alone, and a price list without a price. All of it is common practice
// without a source, to be edited. Every call returns a fresh copy.
func Neutral() Data {
	return Data{
		Stocks:      neutralStocks(),
		Machines:    startMachines(),
		Settings:    startSettings(),
		Conventions: []Convention{layerConvention(), foldingConvention()},
		PriceLists:  []PriceList{unpriced()},
	}
}

// layerConvention gives meaning to layers and to no colour. It does not claim
// that a frame is the sheet: a size that is not sure is asked for.
func layerConvention() Convention {
	return Convention{
		ID: "layers", Name: "By the names of layers", Version: 1,
		Rules: []Rule{
			{Layer: "PAGE", Means: MeansFrame},
			{Layer: "CUT", Means: MeansCut},
			{Layer: "FOLD", Means: MeansScore},
			{Layer: "PERFORATE", Means: MeansPerforate},
			{Layer: "PEN", Means: MeansPen},
			{Layer: "NOTES", Means: MeansNothing},
		},
		ToleranceDE: 2,
		NearDE:      15,
	}
}

// foldingConvention is layerConvention for folded work, with a layer for each side that a
// fold can go to, and one for folds that do not say.
func foldingConvention() Convention {
	c := layerConvention()
	c.ID, c.Name = "paper-folding", "Folded work: ridges and valleys on layers of their own"
	c.Rules = append([]Rule{
		{Layer: "MOUNTAIN", Means: MeansScore, Fold: Mountain},
		{Layer: "VALLEY", Means: MeansScore, Fold: Valley},
	}, c.Rules...)
	return c
}

// unpriced holds no rate, so that every estimate says that the material's price
// is missing; its currency says the same beside each sum. What is booked does not
// wait for prices: slots of 15 minutes, 15 % more than the likely minutes, and 5
// minutes between two jobs.
func unpriced() PriceList {
	return PriceList{
		ID: "prices", Name: "Prices to be entered", Version: 1,
		Currency: "unpriced", MinorDigits: 2, QuoteDays: 0,
		PerMetre: map[string]decimal.Decimal{},
		PerSheet: map[string]decimal.Decimal{},

		SlotGridMin:   15,
		SlotFactor:    decimal.New(115, -2),
		ChangeoverMin: decimal.NewFromInt(5),
		TapingMin:     decimal.NewFromInt(1),
	}
}
