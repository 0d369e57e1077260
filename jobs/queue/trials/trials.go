// Package trials keeps test cuts: which sheet is to be cut for a setting, and what
// became of it.
package trials

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"

	"github.com/google/uuid"
)

// Book keeps the test cuts of a store. Its methods may be called from several
// goroutines and processes.
type Book struct{ store *db.DB }

// Open returns the test cuts of a store, which must be migrated.
func Open(store *db.DB) Book { return Book{store} }

// LackError says what is missing to know which test cut is meant.
type LackError struct {
	Field   string // setting, stock_id or machine_id
	General bool   // the setting does not name one, and nobody else did
}

func (e *LackError) Error() string { return "trials: no " + e.Field }

// Asked is which test cut is meant. A setting that names its stock or its machine
// needs neither.
type Asked struct {
	Setting, Stock, Machine string
	Compensates             workshop.Compensation // where the machine's data do not say; empty: not known
}

// Bench is a setting with its test cuts, beside those of other settings of the stock
// and the machine.
type Bench struct {
	testcut.Bench
	Listed workshop.Setting // as the workshop lists it
	Kept   []Kept
}

// Kept is a test cut with its number in the store.
type Kept struct {
	trial.Kept
	ID      uuid.UUID
	Setting string // for which it was posted
	Created time.Time
}

// Bench returns what is known of a setting on a stock and a machine. It fails with a
// *LackError.
func (b Book) Bench(ctx context.Context, asked Asked) (*Bench, error) {
	return benchOf(ctx, b.store.Queries, asked)
}

func benchOf(ctx context.Context, q db.Queries, asked Asked) (*Bench, error) {
	data, err := queue.Workshop(ctx, q)
	if err != nil {
		return nil, err
	}
	at := slices.IndexFunc(data.Settings, func(s workshop.Setting) bool { return s.ID == asked.Setting })
	if at < 0 {
		return nil, &LackError{Field: "setting"}
	}
	set := data.Settings[at]
	stock, okStock := data.Stock(named(set.StockID, asked.Stock))
	machine, okMachine := data.Machine(named(set.MachineID, asked.Machine))
	switch {
	case !okStock:
		return nil, &LackError{"stock_id", set.StockID+asked.Stock == ""}
	case !okMachine:
		return nil, &LackError{"machine_id", set.MachineID+asked.Machine == ""}
	case !passes.MayApply(set, stock, machine):
		return nil, &LackError{Field: "stock_id"}
	}
	if own := slices.IndexFunc(data.Settings, func(s workshop.Setting) bool { return s.ID == ownID(set, stock, machine) }); own >= 0 {
		set = data.Settings[own] // found by test cuts of one for several
	}
	machine = machine.With(data.Blades, stock.Work())
	if machine.Compensates == "" {
		machine.Compensates = asked.Compensates
	}
	kept, err := keptOf(ctx, q, stock.ID, machine.ID)
	if err != nil {
		return nil, err
	}
	req := passes.Request{Stock: stock, Machine: machine, Settings: data.Settings}
	return &Bench{Bench: testcut.BenchOf(set, req, plain(kept)), Listed: set, Kept: kept}, nil
}

func named(own, asked string) string {
	if own != "" {
		return own
	}
	return asked
}

func keptOf(ctx context.Context, q db.Queries, stock, machine string) ([]Kept, error) {
	rows, err := q.Trials(ctx, stock, machine)
	if err != nil {
		return nil, err
	}
	all := make([]Kept, len(rows))
	for i, row := range rows {
		if all[i], err = read(row); err != nil {
			return nil, err
		}
	}
	return all, nil
}

func read(row db.Trial) (Kept, error) {
	k := Kept{ID: row.ID, Setting: row.Setting, Created: row.Created}
	if err := json.Unmarshal(row.Doc, &k.Kept); err != nil {
		return k, fmt.Errorf("trials: %s: %w", row.ID, err)
	}
	return k, nil
}

func plain(all []Kept) []trial.Kept {
	out := make([]trial.Kept, len(all))
	for i, k := range all {
		out[i] = k.Kept
	}
	return out
}

// Own returns those of the test cuts that are about the setting.
func (b *Bench) Own() []Kept {
	return slices.DeleteFunc(slices.Clone(b.Kept), func(k Kept) bool { return k.Subject != b.Subject() })
}

// Of returns the test cuts of a stock on a machine, oldest first.
func Of(ctx context.Context, q db.Queries, stock, machine string) ([]trial.Kept, error) {
	kept, err := keptOf(ctx, q, stock, machine)
	return plain(kept), err
}

// Withdraw takes a test cut back that was entered wrongly. A setting that was found by
// it stays as it is, but that it was tested is no longer said there. db.ErrNotFound:
// there is none.
func (b Book) Withdraw(ctx context.Context, id uuid.UUID) error {
	return b.store.InTx(ctx, func(tx db.Tx) error {
		row, err := tx.Trial(ctx, id)
		if err != nil {
			return err
		}
		if err := tx.LockTrials(ctx, row.Stock, row.Machine); err != nil {
			return err
		}
		if err := tx.WithdrawTrial(ctx, id); err != nil {
			return err
		}
		kept, err := read(row)
		if err != nil {
			return err
		}
		bench, err := benchOf(ctx, tx.Queries, Asked{Setting: row.Setting, Stock: row.Stock, Machine: row.Machine})
		if lack := (*LackError)(nil); errors.As(err, &lack) {
			return nil // the setting is gone, or is for another stock by now
		}
		if err != nil {
			return err
		}
		return bench.disown(ctx, tx, kept)
	})
}

// disown takes out of the setting that it was tested, where adopt wrote that of the test
// cut.
func (b *Bench) disown(ctx context.Context, tx db.Tx, k Kept) error {
	set := b.Listed
	if !own(set) || k.Aim == trial.Again || k.Aim == trial.Lengths || set.TestedBy != k.Tester || set.TestedOn != k.Day || set.Batch != k.Batch {
		return nil
	}
	set.TestedBy, set.TestedOn, set.Batch = "", "", ""
	return replace(ctx, tx, set)
}

// ErrOther says that another sheet is to be cut than the one that is reported.
var ErrOther = errors.New("trials: it is another sheet")
