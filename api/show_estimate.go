package api

import "knifedesk/jobs/estimate"

func showEstimate(e *estimate.Estimate) Estimate {
	return Estimate{
		CutterMin: showMinutes(e.CutterMin), BenchMin: showMinutes(e.BenchMin),
		CutterSlotMin: e.CutterSlotMin, BenchSlotMin: e.BenchSlotMin, CutterSlotWhy: e.CutterSlotWhy, BenchSlotWhy: e.BenchSlotWhy,
		Loads: each(e.Loads, showLoadMinutes), Lines: each(e.Lines, showCostLine), NetMinor: e.NetMinor, TaxMinor: e.TaxMinor, TotalMinor: e.TotalMinor,
		Currency: e.Currency, MinorDigits: int(e.MinorDigits), TotalText: e.TotalText,
		PriceList: e.PriceList, PriceListVersion: e.PriceListVersion, ValidDays: e.ValidDays,
		Calibration: e.Calibration, Cheaper: each(e.Cheaper, showCheaper),
		Findings: showFindings(e.Findings),
	}
}

func showCheaper(c estimate.Cheaper) Cheaper {
	return Cheaper{
		Text: c.Text, NarrowerMM: c.NarrowerMM, ShorterMM: c.ShorterMM, Fewer: c.Fewer, Across: c.Across,
		Sheets: c.Sheets, RollMM: c.RollMM, SavedMinor: c.Minor,
	}
}

func showLoadMinutes(l estimate.LoadTime) LoadMinutes {
	return LoadMinutes{
		Number: l.Number, Prepare: showMinutes(l.Prepare), Test: showMinutes(l.Test), Passes: each(l.Passes, showPassMinutes),
		Cut: showMinutes(l.Cut), Unload: showMinutes(l.Unload), Bench: showMinutes(l.Bench),
	}
}

func showPassMinutes(p estimate.PassTime) PassMinutes {
	return PassMinutes{Number: p.Number, Minutes: showMinutes(p.Minutes)}
}

func showMinutes(r estimate.Range) Minutes {
	return Minutes{Low: r.Low, Likely: r.Likely, High: r.High}
}

func showCostLine(l estimate.Line) CostLine {
	return CostLine{
		Code: CostLineCode(l.Code), Quantity: l.Quantity.String(), Unit: l.Unit, Rate: l.Rate.String(), AmountMinor: l.Minor,
	}
}
