package api

import (
	"github.com/shopspring/decimal"

	"knifedesk/jobs/workshop"
)

func showPriceList(p workshop.PriceList) PriceList {
	return PriceList{
		ID: p.ID, Name: p.Name, Version: p.Version,
		Currency: p.Currency, MinorDigits: int(p.MinorDigits), QuoteDays: p.QuoteDays,
		PerMetre: showRates(p.PerMetre), PerSheet: showRates(p.PerSheet),
		TapePerMetre: p.TapeMetre.String(), MachinePerMinute: p.Machine.String(), LabourPerMinute: p.Labour.String(),
		BladePerMetre: p.BladeMetre.String(), Minimum: p.Minimum.String(), TaxPercent: p.TaxPercent.String(),
		TapePerM2: p.TapeArea.String(), SlotGridMin: p.SlotGridMin, SlotFactor: p.SlotFactor.String(),
		ChangeoverMin: p.ChangeoverMin.String(), TapingMin: p.TapingMin.String(),
	}
}

func readPriceList(p PriceList) (workshop.PriceList, error) {
	var rates rateReader
	return workshop.PriceList{
		ID: p.ID, Name: p.Name, Version: p.Version,
		Currency: p.Currency, MinorDigits: int32(p.MinorDigits), QuoteDays: p.QuoteDays,
		PerMetre: rates.readAll("per_metre", p.PerMetre), PerSheet: rates.readAll("per_sheet", p.PerSheet),
		TapeMetre:  rates.read("tape_per_metre", p.TapePerMetre),
		TapeArea:   rates.readIf("tape_per_m2", p.TapePerM2),
		Machine:    rates.read("machine_per_minute", p.MachinePerMinute),
		Labour:     rates.read("labour_per_minute", p.LabourPerMinute),
		BladeMetre: rates.read("blade_per_metre", p.BladePerMetre),
		Minimum:    rates.read("minimum", p.Minimum), TaxPercent: rates.read("tax_percent", p.TaxPercent),
		SlotGridMin: p.SlotGridMin, SlotFactor: rates.read("slot_factor", p.SlotFactor),
		ChangeoverMin: rates.read("changeover_min", p.ChangeoverMin), TapingMin: rates.read("taping_min", p.TapingMin),
	}, rates.err
}

func showRates(rates map[string]decimal.Decimal) map[string]Rate {
	out := make(map[string]Rate, len(rates))
	for stock, rate := range rates {
		out[stock] = rate.String()
	}
	return out
}

// rateReader reads decimal numbers, and keeps the first error.
type rateReader struct{ err error }

func (r *rateReader) read(field string, text Rate) decimal.Decimal {
	d, err := decimal.NewFromString(text)
	if err != nil && r.err == nil {
		r.err = unprocessable(field, "invalid_body", "The text has a form that is not taken here.", `Write a decimal number in quotes, such as "0.25".`)
	}
	return d
}

// readIf reads a number that may be left out.
func (r *rateReader) readIf(field string, text Rate) decimal.Decimal {
	if text == "" {
		return decimal.Decimal{}
	}
	return r.read(field, text)
}

func (r *rateReader) readAll(field string, texts map[string]Rate) map[string]decimal.Decimal {
	out := make(map[string]decimal.Decimal, len(texts))
	for stock, text := range texts {
		out[stock] = r.read(field, text)
	}
	return out
}
