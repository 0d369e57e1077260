package ledger

import (
	"context"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/stores"
)

// Period is how long the periods of a report are.
type Period string

// The periods.
const (
	Day   Period = "day"
	Month Period = "month"
	Year  Period = "year"
)

// ReportFilter picks what a report tells; zero fields pick all, by month.
type ReportFilter struct {
	From, To time.Time // from the beginning of one day to the end of another
	By       Period
	Stock    string
	CostCode string
}

// Row is what moved of one kind of lot of a stock for a cost code in a period, with
// the work on that stock.
type Row struct {
	db.StoresAmounts
	Work db.StoresWork
}

// Report adds up what the ledger says, and checks that it balances.
func (b Book) Report(ctx context.Context, f ReportFilter) (rows []Row, balanced bool, err error) {
	in := db.StoresFilter{Format: map[Period]string{Day: "YYYY-MM-DD", Year: "YYYY"}[f.By], Stock: f.Stock, CostCode: f.CostCode}
	if in.Format == "" {
		in.Format = "YYYY-MM"
	}
	if !f.From.IsZero() {
		in.From = &f.From
	}
	if !f.To.IsZero() {
		end := f.To.AddDate(0, 0, 1)
		in.To = &end
	}
	amounts, err := b.store.StoresAmounts(ctx, in)
	if err != nil {
		return nil, false, err
	}
	work, err := b.store.StoresWork(ctx, in)
	if err != nil {
		return nil, false, err
	}
	off, err := b.store.Unbalanced(ctx)
	return rowsOf(amounts, work), len(off) == 0, err
}

// rowsOf gives each row of amounts the work on its stock: the first where a stock
// has several, as it came off the roll and from offcuts of it.
func rowsOf(amounts []db.StoresAmounts, work []db.StoresWork) []Row {
	rows := make([]Row, len(amounts))
	for i, a := range amounts {
		rows[i].StoresAmounts = a
		at := slices.IndexFunc(work, func(w db.StoresWork) bool {
			return a.Kind != string(stores.Tape) && w.Period == a.Period && w.Stock == a.Stock && w.CostCode == a.CostCode
		})
		if at >= 0 {
			rows[i].Work = work[at]
			work = slices.Delete(work, at, at+1)
		}
	}
	for _, w := range work { // of stock that came back whole
		rows = append(rows, Row{db.StoresAmounts{Period: w.Period, Stock: w.Stock, Family: w.Family, CostCode: w.CostCode, Kind: string(stores.Sheets)}, w})
	}
	return rows
}
