package workshop

import (
	"knifedesk/geometry/drawing"

	"github.com/shopspring/decimal"
)

// Example returns the data of the workshop of Orrin Point College, an invented
// place, for the demo, the tests and a first try. Nothing in it was measured:
// settings are start points for a test cut and prices are made up. Every call
// returns a fresh copy.
func Example() Data {
	return Data{
		Stocks:      exampleStocks(),
		Machines:    exampleMachines(),
		Settings:    startSettings(),
		Conventions: []Convention{orrinConvention(), foldingConvention()},
		PriceLists:  []PriceList{orrinPrices()},
	}
}

// exampleMachines are the cutters to start with; those of the college leave the
// offset of the knife to the file.
func exampleMachines() []Machine {
	machines := startMachines()
	for i := range machines {
		machines[i].Compensates = CompensatesNothing
	}
	return machines
}

// orrinConvention is the agreement of the college: a layer's name or a colour
// says what a line is, and the frame on layer PAGE has the size of the sheet.
func orrinConvention() Convention {
	return Convention{
		ID: "orrin", Name: "Orrin Point College", Version: 1,
		Rules: []Rule{
			{Layer: "PAGE", Means: MeansFrame},
			{Layer: "CUT", Means: MeansCut},
			{Layer: "FOLD", Means: MeansScore},
			{Layer: "PERFORATE", Means: MeansPerforate},
			{Layer: "PEN", Means: MeansPen},
			{Layer: "NOTES", Means: MeansNothing},
			{Colour: drawing.RGB(0x00, 0x7C, 0x91), Means: MeansCut},   // teal
			{Colour: drawing.RGB(0x7A, 0x3E, 0xB1), Means: MeansScore}, // violet
			{Colour: drawing.RGB(0x4A, 0x55, 0x68), Means: MeansPen},   // slate
		},
		FrameIsSheet: true,
		ToleranceDE:  2,
		NearDE:       15,
	}
}

// orrinPrices carries the rates of the worked example in the design notes.
func orrinPrices() PriceList {
	hundredths := func(n int64) decimal.Decimal { return decimal.New(n, -2) }
	return PriceList{
		ID: "orrin", Name: "Orrin Point College", Version: 1,
		Currency: "credit", MinorDigits: 2, QuoteDays: 14,
		PerMetre: map[string]decimal.Decimal{
			"film-removable-610": hundredths(420),
			"film-permanent-300": hundredths(310),
			"film-heat-500":      hundredths(980),
		},
		PerSheet: map[string]decimal.Decimal{
			"card-160-a4": hundredths(15),
			"card-160-a3": hundredths(30),
			"card-220-a4": hundredths(22),
			"card-220-a3": hundredths(44),
			"stencil-a3":  hundredths(260),
		},
		TapeMetre:  hundredths(110),
		Machine:    hundredths(20),
		Labour:     hundredths(30),
		BladeMetre: hundredths(2),
		Minimum:    hundredths(150),
		TaxPercent: decimal.NewFromInt(20),

		SlotGridMin:   15,
		SlotFactor:    hundredths(115),
		ChangeoverMin: decimal.NewFromInt(5),
		TapingMin:     decimal.NewFromInt(1),
	}
}
