package api

import (
	"math"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"
)

func showAcceptance(a ledger.Acceptance) Acceptance {
	return Acceptance{
		ID: a.ID, PlanID: a.Plan, State: AcceptanceState(a.State), LapsesSoon: a.LapsesSoon(),
		TotalMinor: a.TotalMinor, TotalText: a.TotalText, PriceUntil: a.PriceUntil.UTC(), HeldUntil: a.HeldUntil.UTC(),
		BookingReference: a.BookingReference, BookingEnds: maybe(a.BookingEnds, time.Time.UTC), CostCode: a.CostCode,
		Holding: each(a.Holding, showHolding), CreatedAt: a.Created.UTC(), UpdatedAt: a.Updated.UTC(),
	}
}

func showAcceptanceHead(h db.AcceptanceHead) AcceptanceHead {
	a := ledger.Acceptance{Acceptance: h.Acceptance, State: ledger.State(h.State)}
	return AcceptanceHead{
		ID: a.ID, PlanID: a.Plan, Owner: h.Client, ClientReference: h.ClientReference, State: AcceptanceState(a.State), LapsesSoon: a.LapsesSoon(),
		TotalMinor: a.TotalMinor, TotalText: a.TotalText, PriceUntil: a.PriceUntil.UTC(), HeldUntil: a.HeldUntil.UTC(),
		BookingReference: a.BookingReference, BookingEnds: maybe(a.BookingEnds, time.Time.UTC), CostCode: a.CostCode,
		CreatedAt: a.Created.UTC(), UpdatedAt: a.Updated.UTC(),
	}
}

func showHolding(h db.Holding) Holding {
	return Holding{
		Lot: h.Lot, Item: h.Item, Kind: LotKind(h.Kind), Amount: h.Reserved + h.Issued,
		Unit: StoreUnit(stores.Kind(h.Kind).Unit()), Counted: h.Counted,
	}
}

func showLevel(l ledger.Level) Level {
	return Level{
		Item: l.Item, Name: l.Name, Kind: LotKind(l.Kind), Unit: StoreUnit(l.Kind.Unit()), Counted: l.Counted,
		Free: l.Free, Reserved: l.Reserved, Issued: l.Issued, ReorderAt: l.ReorderAt, Low: l.Low(), Lots: each(l.Lots, showLot),
	}
}

func showLot(l stores.Lot) Lot {
	return Lot{
		Code: l.Code, Kind: LotKind(l.Kind), Item: l.Item, Unit: StoreUnit(l.Kind.Unit()), Batch: l.Batch,
		WidthMM: l.WidthMM, LengthMM: l.LengthMM, Free: l.Free, Reserved: l.Reserved, Issued: l.Issued, CreatedAt: l.Created.UTC(),
	}
}

func showPosting(p ledger.Posting) Posting {
	return Posting{
		ID: p.ID, Kind: PostingKind(p.Kind), Reverses: p.Reverses, AcceptanceID: p.Acceptance, StockID: p.Stock, Family: p.Family,
		CostCode: p.CostCode, PriceMinor: p.PriceMinor, CutterMin: minutes(p.CutterS), BenchMin: minutes(p.BenchS),
		ReportedBy: p.ReportedBy, Remark: p.Remark, CreatedAt: p.Created.UTC(), Movements: each(p.Moves, showMovement),
	}
}

// minutes turns whole seconds into minutes, to the hundredth.
func minutes(s int64) float64 { return math.Round(float64(s)/0.6) / 100 }

func showMovement(m db.Movement) Movement {
	return Movement{Kind: MovementKind(m.Kind), Lot: m.Lot, From: Account(m.Source), To: Account(m.Target), Amount: m.Amount}
}

func showStoreRules(r stores.Rules) StoreRules {
	return StoreRules{HoldH: r.HoldH, AfterBookingH: r.AfterBookingH, WarnH: r.WarnH, LeastRollerMM: r.LeastRollerMM}
}

func showOffcut(o ledger.Offcut) Offcut {
	out := Offcut{
		Code: o.Code, FromStockID: o.Lot.Stock, Family: Family(o.Family), WidthMM: o.WidthMM, LengthMM: o.LengthMM,
		State: OffcutStateFree, CreatedAt: o.Created.UTC(),
	}
	switch {
	case o.Reserved > 0:
		out.State = OffcutStateReserved
	case o.Issued > 0:
		out.State = OffcutStateIssued
	}
	if o.Offered {
		out.StockID, out.Hold = o.Item, OffcutHold(o.Stock.Hold)
	}
	return out
}

func showStoresRow(r ledger.Row) StoresRow {
	return StoresRow{
		Period: r.Period, StockID: r.Stock, Family: r.Family, CostCode: r.CostCode, Kind: StoresRowKind(r.Kind), Unit: StoreUnit(stores.Kind(r.Kind).Unit()),
		Received: r.Received, Quoted: r.Quoted, Used: r.Used, Spoiled: r.Spoiled, Returned: r.Returned, Offcuts: r.Offcuts,
		Plans: r.Work.Plans, CutterMin: minutes(r.Work.CutterS), BenchMin: minutes(r.Work.BenchS), PriceMinor: r.Work.PriceMinor,
	}
}
