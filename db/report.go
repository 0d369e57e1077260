package db

import (
	"context"
	"time"
)

// StoresFilter picks postings from a time on to before another, and groups them;
// its zero fields pick all.
type StoresFilter struct {
	From, To *time.Time
	Format   string // of a period, as to_char writes it: YYYY-MM
	Stock    string
	CostCode string
}

// StoresAmounts are what moved of one kind of lot of a stock, in the lots' unit.
type StoresAmounts struct {
	Period   string `db:"period"`
	Stock    string `db:"stock"`
	Family   string `db:"family"`
	CostCode string `db:"cost_code"`
	Kind     string `db:"kind"`
	Received int64  `db:"received"`
	Quoted   int64  `db:"quoted"` // reserved when it was handed out
	Used     int64  `db:"used"`
	Spoiled  int64  `db:"spoiled"`
	Returned int64  `db:"returned"`
	Offcuts  int64  `db:"offcuts"`
}

// postingsPicked is the condition on postings p of a StoresFilter.
const postingsPicked = `($1::timestamptz is null or p.created >= $1) and ($2::timestamptz is null or p.created < $2) and ($5 = '' or p.cost_code = $5)`

// StoresAmounts adds the movements up by period, stock, cost code and kind of lot.
// What moved back counts against it.
func (q ledgerTable) StoresAmounts(ctx context.Context, f StoresFilter) ([]StoresAmounts, error) {
	return all[StoresAmounts](ctx, q.on, "add the movements up", `
		select * from (
			select to_char(p.created at time zone 'UTC', $3) as period, l.stock, l.family, p.cost_code, l.kind,
				sum(case when m.kind <> 'receipt' then 0 when m.target = 'free' then m.amount else -m.amount end)::bigint as received,
				sum(case when m.kind <> 'issue' then 0 when m.source = 'reserved' then m.amount when m.target = 'reserved' then -m.amount else 0 end)::bigint as quoted,
				sum(case 'used' when m.target then m.amount when m.source then -m.amount else 0 end)::bigint as used,
				sum(case 'spoiled' when m.target then m.amount when m.source then -m.amount else 0 end)::bigint as spoiled,
				sum(case when m.kind <> 'return' then 0 when m.target = 'free' then m.amount else -m.amount end)::bigint as returned,
				sum(case when m.kind <> 'offcut' then 0 when m.target = 'free' then m.amount else -m.amount end)::bigint as offcuts
			from postings p join movements m on m.posting = p.id join lots l on l.code = m.lot
			where `+postingsPicked+` and ($4 = '' or l.stock = $4)
			group by 1, 2, 3, 4, 5
		) a where (received, quoted, used, spoiled, returned, offcuts) <> (0, 0, 0, 0, 0, 0)
		order by period, stock, cost_code, kind`, f.From, f.To, f.Format, f.Stock, f.CostCode)
}

// StoresWork is what was reported of plans on one stock.
type StoresWork struct {
	Period     string `db:"period"`
	Stock      string `db:"stock"`
	Family     string `db:"family"`
	CostCode   string `db:"cost_code"`
	Plans      int64  `db:"plans"`
	CutterS    int64  `db:"cutter_s"`
	BenchS     int64  `db:"bench_s"`
	PriceMinor int64  `db:"price_minor"`
}

// StoresWork adds the outcomes up by period, stock and cost code, less those that
// were taken back.
func (q ledgerTable) StoresWork(ctx context.Context, f StoresFilter) ([]StoresWork, error) {
	return all[StoresWork](ctx, q.on, "add the outcomes up", `
		select to_char(p.created at time zone 'UTC', $3) as period, p.stock, p.family, p.cost_code,
			sum(case p.kind when 'outcome' then 1 else -1 end)::bigint as plans,
			sum(p.cutter_s)::bigint as cutter_s, sum(p.bench_s)::bigint as bench_s, sum(p.price_minor)::bigint as price_minor
		from postings p
		where p.acceptance is not null and p.kind in ('outcome', 'reversal') and `+postingsPicked+` and ($4 = '' or p.stock = $4)
		group by 1, 2, 3, 4 order by 1, 2, 4`, f.From, f.To, f.Format, f.Stock, f.CostCode)
}
