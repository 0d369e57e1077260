package db

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// Posting is what happened in the stores at once.
type Posting struct {
	ID         uuid.UUID  `db:"id"`
	Kind       string     `db:"kind"`
	Acceptance *uuid.UUID `db:"acceptance"` // whose plan it is about; nil: none
	Reverses   *uuid.UUID `db:"reverses"`   // the posting that it takes back
	Stock      string     `db:"stock"`      // of the plan
	Family     string     `db:"family"`
	CostCode   string     `db:"cost_code"`
	PriceMinor int64      `db:"price_minor"`
	CutterS    int64      `db:"cutter_s"`
	BenchS     int64      `db:"bench_s"`
	Created    time.Time  `db:"created"`
	ReportedBy string     `db:"reported_by"` // erased with the plan, like Remark
	Remark     string     `db:"remark"`
}

// Movement takes an amount of a lot from one account to another: outside the
// stores, free, reserved, issued, used or spoiled.
type Movement struct {
	Kind   string `db:"kind"`
	Lot    string `db:"lot"`
	Source string `db:"source"`
	Target string `db:"target"`
	Amount int64  `db:"amount"` // above 0
}

// Post adds a posting with its movements, and brings the amounts of the lots in
// line, which the caller has locked.
func (q ledgerTable) Post(ctx context.Context, p Posting, moves ...Movement) error {
	n := len(moves)
	kinds, lots, sources, targets, amounts := make([]string, n), make([]string, n), make([]string, n), make([]string, n), make([]int64, n)
	for i, m := range moves {
		kinds[i], lots[i], sources[i], targets[i], amounts[i] = m.Kind, m.Lot, m.Source, m.Target, m.Amount
	}
	var b pgx.Batch
	b.Queue(`
		insert into postings (id, kind, acceptance, reverses, stock, family, cost_code, price_minor, cutter_s, bench_s)
		values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		p.ID, p.Kind, p.Acceptance, p.Reverses, p.Stock, p.Family, p.CostCode, p.PriceMinor, p.CutterS, p.BenchS)
	b.Queue(`
		insert into movements (posting, kind, lot, source, target, amount)
		select $1, m.kind, m.lot, m.source, m.target, m.amount
		from unnest($2::text[], $3::text[], $4::text[], $5::text[], $6::bigint[])
			with ordinality m (kind, lot, source, target, amount, place) order by m.place`,
		p.ID, kinds, lots, sources, targets, amounts)
	b.Queue(`
		update lots l set free = l.free + d.free, reserved = l.reserved + d.reserved, issued = l.issued + d.issued
		from (
			select m.lot,
				sum(case 'free' when m.target then m.amount when m.source then -m.amount else 0 end) as free,
				sum(case 'reserved' when m.target then m.amount when m.source then -m.amount else 0 end) as reserved,
				sum(case 'issued' when m.target then m.amount when m.source then -m.amount else 0 end) as issued
			from movements m where m.posting = $1 group by m.lot
		) d where l.code = d.lot`, p.ID)
	if p.ReportedBy != "" || p.Remark != "" {
		b.Queue(`insert into posting_notes (posting, reported_by, remark) values ($1, $2, $3)`, p.ID, p.ReportedBy, p.Remark)
	}
	return q.send(ctx, "post to the ledger", &b)
}

const postingColumns = `p.id, p.kind, p.acceptance, p.reverses, p.stock, p.family, p.cost_code, p.price_minor, p.cutter_s, p.bench_s, p.created,
	coalesce(n.reported_by, '') as reported_by, coalesce(n.remark, '') as remark`

// Posting returns a posting.
func (q ledgerTable) Posting(ctx context.Context, id uuid.UUID) (Posting, error) {
	return one[Posting](ctx, q.on, "read a posting",
		`select `+postingColumns+` from postings p left join posting_notes n on n.posting = p.id where p.id = $1`, id)
}

// Reserving returns the posting that reserved stock for an acceptance.
func (q ledgerTable) Reserving(ctx context.Context, acceptance uuid.UUID) (Posting, error) {
	return one[Posting](ctx, q.on, "read a posting", `
		select `+postingColumns+` from postings p left join posting_notes n on n.posting = p.id
		where p.acceptance = $1 and p.kind = 'reserve'`, acceptance)
}

// OutcomeOf returns the posting that says what became of an acceptance; ErrNotFound
// where there is none, or it was taken back.
func (q ledgerTable) OutcomeOf(ctx context.Context, acceptance uuid.UUID) (Posting, error) {
	return one[Posting](ctx, q.on, "read an outcome", `
		select `+postingColumns+` from postings p left join posting_notes n on n.posting = p.id
		where p.acceptance = $1 and p.kind = 'outcome' and not exists (select from postings r where r.reverses = p.id)`, acceptance)
}

// IsReversed says whether another posting takes this one back.
func (q ledgerTable) IsReversed(ctx context.Context, id uuid.UUID) (bool, error) {
	found, err := column[bool](ctx, q.on, "look for a reversal", `select true from postings where reverses = $1`, id)
	return len(found) > 0, err
}

// Movements returns what a posting moved, in order.
func (q ledgerTable) Movements(ctx context.Context, posting uuid.UUID) ([]Movement, error) {
	return all[Movement](ctx, q.on, "read movements",
		`select kind, lot, source, target, amount from movements where posting = $1 order by id`, posting)
}

// Holding is how much of a lot is reserved and issued for an acceptance.
type Holding struct {
	Lot      string `db:"code"`
	Kind     string `db:"kind"`
	Item     string `db:"item"`
	WidthMM  int64  `db:"width_mm"`
	Counted  bool   `db:"counted"`
	Reserved int64  `db:"reserved"`
	Issued   int64  `db:"issued"`
}

// Holdings returns what is reserved and issued for an acceptance, by lot.
func (q ledgerTable) Holdings(ctx context.Context, acceptance uuid.UUID) ([]Holding, error) {
	return all[Holding](ctx, q.on, "read what is held", `
		select l.code, l.kind, l.item, l.width_mm, l.counted, h.reserved, h.issued
		from (
			select m.lot,
				sum(case 'reserved' when m.target then m.amount when m.source then -m.amount else 0 end)::bigint as reserved,
				sum(case 'issued' when m.target then m.amount when m.source then -m.amount else 0 end)::bigint as issued
			from postings p join movements m on m.posting = p.id
			where p.acceptance = $1 group by m.lot
		) h join lots l on l.code = h.lot
		where h.reserved <> 0 or h.issued <> 0 order by l.code`, acceptance)
}

// Unbalanced returns the codes of the lots whose amounts are not what their
// movements come to; there are none unless the tables were changed by hand.
func (q ledgerTable) Unbalanced(ctx context.Context) ([]string, error) {
	return column[string](ctx, q.on, "check the ledger", `
		select l.code from lots l left join (
			select m.lot,
				sum(case 'free' when m.target then m.amount when m.source then -m.amount else 0 end) as free,
				sum(case 'reserved' when m.target then m.amount when m.source then -m.amount else 0 end) as reserved,
				sum(case 'issued' when m.target then m.amount when m.source then -m.amount else 0 end) as issued
			from movements m group by m.lot
		) d on d.lot = l.code
		where (l.free, l.reserved, l.issued) <> (coalesce(d.free, 0), coalesce(d.reserved, 0), coalesce(d.issued, 0))
		order by l.code`)
}
