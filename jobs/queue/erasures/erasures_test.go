package erasures_test

import (
	"context"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue/erasures"

	"github.com/google/uuid"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Run(m)) }

// erased notes what it is told to erase, and cannot erase what is in use.
type erased struct {
	plans []uuid.UUID
	inUse uuid.UUID
}

func (e *erased) Erase(_ context.Context, _ string, plan uuid.UUID) error {
	if plan == e.inUse {
		return db.ErrInUse
	}
	e.plans = append(e.plans, plan)
	return nil
}
func (*erased) EraseClassSet(context.Context, string, uuid.UUID) error      { return db.ErrNotFound }
func (*erased) EraseDrawing(context.Context, string, uuid.UUID, bool) error { return db.ErrNotFound }

const heading = "# knifedesk: what was erased, to be erased again after a restore\n"

// What is on the list is erased once in a database that does not know of it, what
// cannot go is tried again, and what the database notes comes to the list, also behind
// a line that a crash cut short.
func TestListAndDatabaseAreKeptAlike(t *testing.T) {
	path := filepath.Join(t.TempDir(), "erased")
	known, lost, used := uuid.New(), uuid.New(), uuid.New()
	text := heading + "2031-07-04T09:30:00Z plan " + lost.String() + "\n2031-07-04T09:31:00.5Z plan " + used.String() +
		"\n2031-07-04T09:32:00Z class_set " + uuid.NewString() + "\n2031-07-04T09:3"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	journal, err := erasures.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	e := &erased{inUse: used}
	k := erasures.Keeper{Journal: journal, Store: db.From(dbtest.New(t)), Eraser: e, Log: slog.New(slog.DiscardHandler)}
	if _, err := k.Store.Pool.Exec(t.Context(), `insert into erasures values ('plan', $1, '2031-07-04T09:33:00Z')`, known.String()); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := k.Restore(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	if len(e.plans) != 1 || e.plans[0] != lost {
		t.Errorf("erased %v, want %v once", e.plans, lost)
	}
	e.inUse = uuid.Nil
	if err := k.Restore(t.Context()); err != nil || len(e.plans) != 2 || e.plans[1] != used {
		t.Errorf("what was in use: %v, %v", e.plans, err)
	}
	for range 2 {
		if err := k.Copy(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	now, err := os.ReadFile(path)
	if want := "\n2031-07-04T09:33:00Z plan " + known.String() + "\n"; err != nil || strings.TrimPrefix(string(now), text) != want {
		t.Errorf("%v, added %q, want %q", err, strings.TrimPrefix(string(now), text), want)
	}
	if again, err := erasures.Open(path); err != nil || again.Skipped != 1 {
		t.Errorf("a line that was cut short, with others behind it: %v", err)
	}
}

// A file of another kind is not written to.
func TestOtherFilesAreRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "copy")
	for _, text := range []string{"PGDMP", "2031-07-04T09:30:00Z plan x\n", "\n", heading[:9]} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := erasures.Open(path); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}
