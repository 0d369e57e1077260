package estimate

import (
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"

	"github.com/shopspring/decimal"
)

// cost fills in the lines and their sums. Each line is rounded half up to the
// minor unit; the least charge is reached before tax.
func (e *Estimate) cost(in Input) {
	p := in.Prices
	e.material(in)
	e.tape(in)
	e.line(Machine, hundredths(e.CutterMin.Likely), "min", p.Machine)
	e.line(Labour, hundredths(staffS(in)/60), "min", p.Labour)
	e.line(Blade, metres(in.CutMM), "m", p.BladeMetre)
	least := minor(p.Minimum, p.MinorDigits)
	if lack := least - e.NetMinor; lack > 0 {
		e.Lines = append(e.Lines, Line{Code: Minimum, Quantity: decimal.NewFromInt(1), Rate: p.Minimum, Minor: lack})
		e.NetMinor = least
	}
	e.tax(p)
	total := decimal.New(e.TotalMinor, -p.MinorDigits)
	e.TotalText = total.StringFixed(p.MinorDigits) + " " + p.Currency
}

// tape charges transfer tape by its area where the price list has a price for that,
// so that a wide strip costs more than a narrow one, and else by the metre.
func (e *Estimate) tape(in Input) {
	switch u, p := in.Usage, in.Prices; {
	case u.TapeM == 0:
	case !p.TapeArea.IsZero():
		e.line(Tape, decimal.NewFromFloat(u.TapeMM2).Round(0).Shift(-6), "m²", p.TapeArea)
	default:
		e.line(Tape, metres(1000*u.TapeM), "m", p.TapeMetre)
	}
}

func (e *Estimate) tax(p workshop.PriceList) {
	net := decimal.New(e.NetMinor, -p.MinorDigits)
	e.TaxMinor = minor(net.Mul(p.TaxPercent).Shift(-2), p.MinorDigits)
	e.TotalMinor = e.NetMinor + e.TaxMinor
	if !p.TaxPercent.IsZero() {
		e.Lines = append(e.Lines, Line{Code: Tax, Quantity: p.TaxPercent, Unit: "%", Rate: net, Minor: e.TaxMinor})
	}
}

// material charges the roll by the metre drawn and sheets by the piece. An
// offcut is left over from stock already charged and costs nothing.
func (e *Estimate) material(in Input) {
	p, s := in.Prices, in.Stock
	rates, unit, amount := p.PerSheet, "sheet", decimal.NewFromInt(int64(in.Usage.Sheets))
	switch s.Form {
	case workshop.Offcut:
		return
	case workshop.Roll:
		rates, unit, amount = p.PerMetre, "m", metres(in.Usage.RollMM)
	}
	rate, ok := rates[s.ID]
	if !ok {
		e.Findings = append(e.Findings, finding.New(finding.PriceMissing, 1, finding.Values{
			"stock": finding.Text(s.Name), "price_list": finding.Text(p.ID), "version": finding.Int(p.Version),
		}))
		return
	}
	e.line(Material, amount, unit, rate)
}

func (e *Estimate) line(code LineCode, amount decimal.Decimal, unit string, rate decimal.Decimal) {
	l := Line{Code: code, Quantity: amount, Unit: unit, Rate: rate}
	l.Minor = minor(amount.Mul(rate), e.MinorDigits)
	e.Lines = append(e.Lines, l)
	e.NetMinor += l.Minor
}

// metres turns mm into metres, to the millimetre.
func metres(mm float64) decimal.Decimal { return decimal.NewFromFloat(mm).Round(6).Round(0).Shift(-3) }

// minor rounds an amount half up to whole minor units. Amounts are never
// negative here, so half away from nought is half up.
func minor(amount decimal.Decimal, digits int32) int64 {
	return amount.Shift(digits).Round(0).IntPart()
}
