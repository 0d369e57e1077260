package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Trial is a test cut that was looked at.
type Trial struct {
	ID        uuid.UUID `db:"id"`
	Setting   string    `db:"setting"` // for which it was posted
	Stock     string    `db:"stock"`
	Machine   string    `db:"machine"`
	Doc       []byte    `db:"doc"` // JSON
	Withdrawn bool      `db:"withdrawn"`
	Created   time.Time `db:"created"`
}

const trialColumns = `id, setting, stock, machine, doc::text::bytea as doc, withdrawn, created`

// AddTrial keeps a test cut. Of t it reads Setting, Stock, Machine and Doc.
func (q trialTables) AddTrial(ctx context.Context, t Trial) (Trial, error) {
	return one[Trial](ctx, q.on, "add a trial",
		`insert into trials (setting, stock, machine, doc) values ($1, $2, $3, $4) returning `+trialColumns, t.Setting, t.Stock, t.Machine, string(t.Doc))
}

// Trials lists the test cuts of a stock on a machine that are not withdrawn, oldest
// first.
func (q trialTables) Trials(ctx context.Context, stock, machine string) ([]Trial, error) {
	return all[Trial](ctx, q.on, "list trials",
		`select `+trialColumns+` from trials where machine = $1 and stock = $2 and not withdrawn order by place`, machine, stock)
}

// Trial returns a test cut, withdrawn or not.
func (q trialTables) Trial(ctx context.Context, id uuid.UUID) (Trial, error) {
	return one[Trial](ctx, q.on, "read a trial", `select `+trialColumns+` from trials where id = $1`, id)
}

// WithdrawTrial takes a test cut off the list.
func (q trialTables) WithdrawTrial(ctx context.Context, id uuid.UUID) error {
	return q.touch(ctx, "withdraw a trial", `update trials set withdrawn = true where id = $1`, id)
}

// LockTrials keeps others from adding test cuts of a stock on a machine until the
// transaction ends.
func (t Tx) LockTrials(ctx context.Context, stock, machine string) error {
	_, err := (on{t.Raw}).exec(ctx, "lock trials", `select pg_advisory_xact_lock(hashtextextended($1, 15))`, machine+"\n"+stock)
	return err
}

// Wear is how far a blade has cut stock of a family.
type Wear struct {
	Blade   string `db:"blade"` // the one that was put in, or its kind where nobody said which
	Machine string `db:"machine"`
	Family  string `db:"family"`
	CutMM   int64  `db:"cut_mm"`
}

// AddWear notes how far blades have cut by an outcome.
func (q trialTables) AddWear(ctx context.Context, posting uuid.UUID, wear []Wear) error {
	for _, w := range wear {
		if _, err := q.exec(ctx, "note the wear of a blade", `insert into blade_wear (posting, blade, machine, family, cut_mm)
			values ($1, $2, $3, $4, $5)`, posting, w.Blade, w.Machine, w.Family, w.CutMM); err != nil {
			return err
		}
	}
	return nil
}

// Worn returns how far all blades have cut, by machine, blade and family, without
// outcomes that were taken back.
func (q trialTables) Worn(ctx context.Context) ([]Wear, error) {
	return all[Wear](ctx, q.on, "add up the wear of blades", `
		select blade, machine, family, sum(cut_mm)::bigint as cut_mm from blade_wear w
		where not exists (select from postings r where r.reverses = w.posting)
		group by machine, blade, family order by machine, blade, family`)
}
