package db_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"sync"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/uuid"
)

// An erased drawing leaves no byte of it, and not its name, in any table; with
// the same bytes under another drawing those stay, for that one alone.
func TestErasingLeavesNothing(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	file := []byte("0\nSECTION of somebody's sign\n")
	sum := sha256.Sum256(file)
	var drawings []db.Drawing
	for _, client := range []string{"ann", "ben"} {
		d, err := store.AddDrawing(ctx, client, client+"'s sign.dxf", file)
		if err != nil {
			t.Fatal(err)
		}
		drawings = append(drawings, d)
	}
	if err := store.EraseDrawing(ctx, "ben", drawings[0].ID); !errors.Is(err, db.ErrNotFound) {
		t.Errorf("another's drawing: %v", err)
	}
	for i, left := range []map[string]bool{
		{"ann's sign": false, "ben's sign": true, "somebody's sign": true},
		{"ann's sign": false, "ben's sign": false, "somebody's sign": false},
	} {
		if err := store.EraseDrawing(ctx, drawings[i].Client, drawings[i].ID); err != nil {
			t.Fatal(err)
		}
		for text, want := range left {
			if at := dbtest.Holding(t, store.Pool, []byte(text)); (len(at) > 0) != want {
				t.Errorf("after %d were erased %q is in %v", i+1, text, at)
			}
		}
		if _, err := store.Drawing(ctx, drawings[i].Client, drawings[i].ID); !errors.Is(err, db.ErrNotFound) {
			t.Errorf("it is still there: %v", err)
		}
	}
	if at := dbtest.Holding(t, store.Pool, sum[:]); len(at) > 0 {
		t.Errorf("its sum is in %v", at)
	}
}

// raced is what came of a drawing that was erased while a plan was made of it.
type raced struct {
	id             uuid.UUID
	erased, refuse bool
	plan           uuid.UUID // nil where none was made
}

// Drawings with the same bytes are sent and erased, and plans made of them,
// at once. Each call does its work or says why not, none fails of another, and
// the tables are as the answers say.
func TestErasingWhatOthersUse(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	file := []byte("the same")
	all := make([]raced, 8*15)
	var done sync.WaitGroup
	for i := range 8 {
		done.Go(func() {
			for k := range 15 {
				race(t, store, &all[i*15+k], file, i%2 == 1)
			}
		})
	}
	done.Wait()
	left := 0
	for _, r := range all {
		_, err := store.Drawing(ctx, "ann", r.id)
		there := err == nil
		if there == r.erased || r.erased == r.refuse || r.refuse && r.plan == uuid.Nil || r.erased && r.plan != uuid.Nil {
			t.Errorf("%+v: there %v", r, there)
		}
		if there {
			left++
		}
	}
	sum := sha256.Sum256(file)
	got, err := store.File(ctx, sum[:])
	if kept := err == nil && bytes.Equal(got, file); kept != (left > 0) {
		t.Errorf("%d drawings are left, their bytes are %q, %v", left, got, err)
	}
	for _, r := range all {
		if r.refuse {
			if _, err := store.Pool.Exec(ctx, `delete from plans where id = $1`, r.plan); err != nil {
				t.Fatal(err)
			}
			if err := store.EraseDrawing(ctx, "ann", r.id); err != nil {
				t.Errorf("with its plan gone: %v", err)
			}
		}
	}
	if at := dbtest.Holding(t, store.Pool, file); len(at) > 0 {
		t.Errorf("the bytes of %s are in %v", hex.EncodeToString(sum[:4]), at)
	}
}

// race adds a drawing and erases it while a plan is made of it, where that is
// wanted.
func race(t *testing.T, store *db.DB, r *raced, file []byte, planned bool) {
	ctx := t.Context()
	d, err := store.AddDrawing(ctx, "ann", "same.dxf", file)
	if err != nil {
		t.Error(err)
		return
	}
	r.id = d.ID
	var erasing sync.WaitGroup
	erasing.Go(func() {
		switch err := store.EraseDrawing(ctx, "ann", d.ID); {
		case err == nil:
			r.erased = true
		case errors.Is(err, db.ErrInUse):
			r.refuse = true
		default:
			t.Error(err)
		}
	})
	id := uuid.New()
	err = store.InTx(ctx, func(tx db.Tx) error {
		if _, err := tx.Drawing(ctx, "ann", d.ID); err != nil || !planned {
			return err
		}
		return tx.AddPlan(ctx, db.Plan{ID: id, Client: "ann", Drawing: d.ID, Status: "queued", Queue: db.Batch, Request: []byte(`{}`)}, nil)
	})
	if err != nil && !errors.Is(err, db.ErrNotFound) {
		t.Error(err)
	}
	if err == nil && planned {
		r.plan = id
	}
	erasing.Wait()
}

// Who holds a drawing makes a plan of it at the first try; who erases it meanwhile
// waits until then, and says that it is in use.
func TestErasingWaitsForWhoHolds(t *testing.T) {
	store, ctx := db.From(dbtest.New(t)), t.Context()
	d, err := store.AddDrawing(ctx, "ann", "held.dxf", []byte("held"))
	if err != nil {
		t.Fatal(err)
	}
	erased := make(chan error, 1)
	err = store.InTx(ctx, func(tx db.Tx) error {
		if _, err := tx.HoldDrawing(ctx, "ann", d.ID); err != nil {
			return err
		}
		go func() { erased <- store.EraseDrawing(ctx, "ann", d.ID) }()
		for waits := false; !waits; {
			select {
			case err := <-erased:
				t.Fatalf("erasing did not wait: %v", err)
			case <-time.After(time.Millisecond):
			}
			err := tx.Raw.QueryRow(ctx, `select exists (select from pg_locks where not granted and pg_backend_pid() = any(pg_blocking_pids(pid)))`).Scan(&waits)
			if err != nil {
				return err
			}
		}
		return tx.AddPlan(ctx, db.Plan{ID: uuid.New(), Client: "ann", Drawing: d.ID, Status: "queued", Queue: db.Batch, Request: []byte(`{}`)}, nil)
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := <-erased; !errors.Is(err, db.ErrInUse) {
		t.Errorf("erasing what is in use: %v", err)
	}
}
