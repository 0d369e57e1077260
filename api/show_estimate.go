package api

import "knifedesk/jobs/estimate"

func showEstimate(e *estimate.Estimate) Estimate {
	return Estimate{
		CutterMin: showMinutes(e.CutterMin), BenchMin: showMinutes(e.BenchMin),
		CutterSlotMin: e.CutterSlotMin, BenchSlotMin: e.BenchSlotMin, CutterSlotWhy: e.CutterSlotWhy, BenchSlotWhy: e.BenchSlotWhy,
		Lines: each(e.Lines, showCostLine), NetMinor: e.NetMinor, TaxMinor: e.TaxMinor, TotalMinor: e.TotalMinor,
		Currency: e.Currency, MinorDigits: int(e.MinorDigits), TotalText: e.TotalText,
		PriceList: e.PriceList, PriceListVersion: e.PriceListVersion, ValidDays: e.ValidDays,
		Findings: showFindings(e.Findings),
	}
}

func showMinutes(r estimate.Range) Minutes {
	return Minutes{Low: r.Low, Likely: r.Likely, High: r.High}
}

func showCostLine(l estimate.Line) CostLine {
	return CostLine{
		Code: CostLineCode(l.Code), Quantity: l.Quantity.String(), Unit: l.Unit, Rate: l.Rate.String(), AmountMinor: l.Minor,
	}
}
