package trials

import (
	"context"
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// Report is what became of a sheet.
type Report struct {
	Sheet    string                // its code
	Verdicts map[int]trial.Verdict // by the number of the cell, from 1; of the others: Failed
	Batch    string
	Blade    string // the individual blade; empty: the one that was put in last
	Marks    *trial.Marks
	Tester   string
	Day      string // ISO 8601; empty: today
	Proof    string
}

// Code names the sheet that is to be cut now, so that none is reported for another.
func (b *Bench) Code() string {
	next := b.Next()
	text, _ := json.Marshal(struct { // which cannot fail
		Subject trial.Subject
		Cells   []trial.Cell
		Before  int
	}{b.Subject(), next.Cells, len(b.Records)})
	sum := sha256.Sum256(text)
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:]))[:6]
}

// Record keeps what became of the sheet that was to be cut. Where that settles force
// and speed, they are written into the setting of this stock and machine, which is
// made where the setting was one for several. It fails with a *LackError and with
// ErrOther. with, where set, runs in the same transaction.
func (b Book) Record(ctx context.Context, asked Asked, r Report, with func(db.Tx, uuid.UUID) error) (id uuid.UUID, err error) {
	err = b.store.InTx(ctx, func(tx db.Tx) error {
		bench, err := benchOf(ctx, tx.Queries, asked)
		if err != nil {
			return err
		}
		if err := tx.LockTrials(ctx, bench.Stock.ID, bench.Machine.ID); err != nil {
			return err
		}
		if bench, err = benchOf(ctx, tx.Queries, asked); err != nil { // another may have been quicker
			return err
		}
		next := bench.Next()
		if r.Sheet != bench.Code() || len(next.Cells) == 0 {
			return ErrOther
		}
		kept, err := add(ctx, tx, bench, r, next)
		if err != nil {
			return err
		}
		id = kept.ID
		bench.Kept = append(bench.Kept, kept)
		if err := bench.adopt(ctx, tx, r); err != nil || with == nil {
			return err
		}
		return with(tx, id)
	})
	return id, err
}

// Measure keeps the marks of a test cut as they were measured, without its cells: plans
// on this stock and machine take them into account. It fails with a *LackError. with,
// where set, runs in the same transaction.
func (b Book) Measure(ctx context.Context, asked Asked, marks trial.Marks, with func(db.Tx, uuid.UUID) error) error {
	return b.store.InTx(ctx, func(tx db.Tx) error {
		bench, err := benchOf(ctx, tx.Queries, asked)
		if err != nil {
			return err
		}
		if err := tx.LockTrials(ctx, bench.Stock.ID, bench.Machine.ID); err != nil {
			return err
		}
		kept, err := keep(ctx, tx, bench, trial.Kept{
			Subject: bench.Subject(), Hold: bench.Stock.Hold, Marks: &marks,
			Record: trial.Record{Aim: trial.Lengths, Day: time.Now().UTC().Format(time.DateOnly)},
		})
		if err != nil || with == nil {
			return err
		}
		return with(tx, kept.ID)
	})
}

// add keeps the cells of a sheet with what became of them.
func add(ctx context.Context, tx db.Tx, b *Bench, r Report, next trial.Next) (Kept, error) {
	if r.Day == "" {
		r.Day = time.Now().UTC().Format(time.DateOnly)
	}
	if r.Blade == "" {
		r.Blade = b.Blade.Fitted
	}
	k := trial.Kept{
		Subject: b.Subject(), Hold: b.Stock.Hold, Marks: r.Marks, Tester: r.Tester, Proof: r.Proof,
		Record: trial.Record{Aim: next.Aim, Day: r.Day, Batch: r.Batch, Blade: r.Blade},
	}
	for i, c := range next.Cells {
		c.Verdict = trial.Failed
		if v, ok := r.Verdicts[i+1]; ok {
			c.Verdict = v
		}
		k.Cells = append(k.Cells, c)
	}
	return keep(ctx, tx, b, k)
}

// keep writes a test cut.
func keep(ctx context.Context, tx db.Tx, b *Bench, k trial.Kept) (Kept, error) {
	doc, err := json.Marshal(k)
	if err != nil {
		return Kept{}, fmt.Errorf("trials: %w", err)
	}
	row, err := tx.AddTrial(ctx, db.Trial{Setting: b.Listed.ID, Stock: b.Stock.ID, Machine: b.Machine.ID, Doc: doc})
	if err != nil {
		return Kept{}, err
	}
	return read(row)
}

// adopt writes what was found into the setting.
func (b *Bench) adopt(ctx context.Context, tx db.Tx, r Report) error {
	again := *b
	again.Records = again.Subject().Records(plain(b.Kept), b.Setting)
	found := again.Next().Found
	last := b.Kept[len(b.Kept)-1]
	if found == nil || last.Aim == trial.Again {
		return nil
	}
	set := b.Listed
	set.ID, set.StockID, set.MachineID, set.Family = ownID(b.Listed, b.Stock, b.Machine), b.Stock.ID, b.Machine.ID, b.Stock.Family
	set.ForceGF, set.SpeedMMS = found.ForceGF, found.SpeedMMS
	set.TestedBy, set.TestedOn, set.Batch = r.Tester, last.Day, r.Batch
	return replace(ctx, tx, set)
}

// replace writes the newest version of a setting.
func replace(ctx context.Context, tx db.Tx, set workshop.Setting) error {
	shelf := queue.Settings(tx.Queries)
	old, err := shelf.Newest(ctx, set.ID)
	if err != nil && !errors.Is(err, db.ErrNotFound) {
		return err
	}
	_, err = shelf.Put(ctx, set.ID, old.Version, set)
	return err
}

// own reports whether a setting is that of one stock and one machine.
func own(s workshop.Setting) bool { return s.StockID != "" && s.MachineID != "" }

// ownID names the setting of a stock and a machine that is found from one, which may
// be for several.
func ownID(s workshop.Setting, stock workshop.Stock, m workshop.Machine) string {
	if own(s) {
		return s.ID
	}
	const longest = 63
	name := fmt.Sprintf("%s.%s.%s", stock.ID, s.Operation, m.ID)
	if len(name) > longest {
		sum := sha256.Sum256([]byte(name))
		name = name[:longest-7] + "-" + strings.ToLower(base32.StdEncoding.EncodeToString(sum[:]))[:6]
	}
	return name
}

// Result returns a test cut, with the setting that it was about as it stands now.
func (b Book) Result(ctx context.Context, id uuid.UUID) (*Bench, Kept, error) {
	row, err := b.store.Trial(ctx, id)
	if err != nil {
		return nil, Kept{}, err
	}
	kept, err := read(row)
	if err != nil {
		return nil, kept, err
	}
	bench, err := b.Bench(ctx, Asked{Setting: row.Setting, Stock: row.Stock, Machine: row.Machine})
	return bench, kept, err
}
