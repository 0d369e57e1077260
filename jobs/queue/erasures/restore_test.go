package erasures_test

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue/erasures"
)

// told notes what it is told to erase, of whom and how, in order. Of one thing it knows
// nothing, and one it cannot reach.
type told struct {
	all          []string
	lost, broken uuid.UUID
}

func (e *told) note(what string, id uuid.UUID) error {
	e.all = append(e.all, what)
	switch id {
	case e.lost:
		return db.ErrNotFound
	case e.broken:
		return errors.New("no answer")
	}
	return nil
}

func (e *told) Erase(_ context.Context, client string, id uuid.UUID) error {
	return e.note("plan of "+client, id)
}

func (e *told) EraseClassSet(_ context.Context, client string, id uuid.UUID) error {
	return e.note("class set of "+client, id)
}

func (e *told) EraseDrawing(_ context.Context, client string, id uuid.UUID, plans bool) error {
	return e.note(fmt.Sprintf("drawing of %s, with its plans %v", client, plans), id)
}

// listed is a list of what was erased, in a file.
func listed(t *testing.T, lines ...string) (*erasures.Journal, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "erased")
	if err := os.WriteFile(path, []byte(heading+strings.Join(lines, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	journal, err := erasures.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return journal, path
}

// classSet is a set of a client with two names on its roster.
func classSet(t *testing.T, store *db.DB, client string) uuid.UUID {
	t.Helper()
	set, err := store.AddClassSet(t.Context(), db.ClassSet{Client: client, Terms: []byte("{}")})
	if err == nil {
		_, err = store.Pool.Exec(t.Context(), `insert into class_roster values ($1, 'ada'), ($1, 'bea')`, set.ID)
	}
	if err != nil {
		t.Fatal(err)
	}
	return set.ID
}

// Whatever kind of thing is on the list is erased again of all clients, plans before the
// sets and drawings that they stand on, and noted; what is gone by itself counts as erased;
// what cannot be erased, or has no name that is one, is left on the list. A key is revoked
// and not forgotten, and a reference goes off the rosters of its client, or of all.
func TestEachKindIsErasedAgain(t *testing.T) {
	store := db.From(dbtest.New(t))
	key, err := store.AddKey(t.Context(), db.Key{ID: uuid.New(), Owner: "west", Name: "n", Scopes: []string{"read"}, Hash: make([]byte, 32)})
	if err != nil {
		t.Fatal(err)
	}
	east, west := classSet(t, store, "east"), classSet(t, store, "west")
	e := &told{lost: uuid.New(), broken: uuid.New()}
	const at = "2031-07-04T09:30:00Z "
	sums := []string{erasures.NewSum("east", "ada"), erasures.NewSum(db.AnyClient, "bea"), erasures.NewSum("south", "ada")}
	lines := []string{"key " + key.ID.String(), "reference " + sums[0], "reference " + sums[1], "reference " + sums[2], "drawing " + uuid.NewString(), "class_set " + uuid.NewString(), "plan " + e.lost.String()}
	left := []string{"plan " + e.broken.String(), "drawing nothing", "boat " + uuid.NewString()}
	var all []string
	for _, line := range append(lines, left...) {
		all = append(all, at+line)
	}
	journal, _ := listed(t, all...)
	k := erasures.Keeper{Journal: journal, Store: store, Eraser: e, Log: slog.New(slog.DiscardHandler)}
	if err := k.Restore(t.Context()); err != nil {
		t.Fatal(err)
	}
	want := []string{"plan of *", "plan of *", "class set of *", "drawing of *, with its plans false"}
	if diff := cmp.Diff(want, e.all); diff != "" {
		t.Errorf("erased is %s", diff)
	}
	if now, err := store.Key(t.Context(), key.ID); err != nil || now.Revoked == nil {
		t.Errorf("the key is in use: %+v, %v", now, err)
	}
	for id, want := range map[uuid.UUID]string{east: "[]", west: "[ada]"} {
		if roster, err := store.ClassRoster(t.Context(), id); err != nil || fmt.Sprint(roster) != want {
			t.Errorf("a roster is %v, want %s; %v", roster, want, err)
		}
	}
	e.all = nil
	if err := k.Restore(t.Context()); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"plan of *"}, e.all); diff != "" {
		t.Errorf("erased once more is %s", diff)
	}
}

// What was erased while the list could not be written comes to it later, whole, under its
// heading, once, and for nobody else to read; what was noted before the newest on it comes
// too, as a transaction may take its time.
func TestWhatCouldNotBeWrittenComesLater(t *testing.T) {
	store := db.From(dbtest.New(t))
	note := func(time string) string {
		t.Helper()
		id := uuid.NewString()
		if _, err := store.Pool.Exec(t.Context(), `insert into erasures values ('plan', $1, $2)`, id, time); err != nil {
			t.Fatal(err)
		}
		return time + " plan " + id + "\n"
	}
	folder := filepath.Join(t.TempDir(), "lists")
	path := filepath.Join(folder, "erased")
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	journal, err := erasures.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	k := erasures.Keeper{Journal: journal, Store: store, Eraser: &told{}, Log: slog.New(slog.DiscardHandler)}
	if err := k.Copy(t.Context()); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("with nothing to list there is a list")
	}
	want := heading + note("2031-07-04T09:33:00Z")
	if err := os.Remove(folder); err != nil {
		t.Fatal(err)
	}
	if err := k.Copy(t.Context()); err == nil {
		t.Error("the list is written to a folder that is not there")
	}
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	hold := func() {
		t.Helper()
		for range 2 {
			if err := k.Copy(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
		text, err := os.ReadFile(path)
		if diff := cmp.Diff(want, string(text)); err != nil || diff != "" {
			t.Errorf("%v, the list is another: %s", err, diff)
		}
	}
	hold()
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the list may be read by others: %v, %v", info, err)
	}
	want += note("2031-07-04T09:24:00Z")
	hold()
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	want += note("2031-07-04T09:34:00.5Z")
	k.Keep(ended) // which writes the rest when it ends
	hold()
	again, err := erasures.Open(path)
	if err != nil || again.Skipped != 0 {
		t.Errorf("the list does not read back: %v", err)
	}
}

// Lines that nobody can read are counted, and the others are taken.
func TestUnreadableLinesAreCounted(t *testing.T) {
	plan := "plan " + uuid.NewString()
	journal, path := listed(t, "2031-07-04T09:30:00Z "+plan, "yesterday "+plan, "2031-07-04T09:30:00Z plan", "2031-07-04T09:30:00Z "+plan+" whole", "", "2031-07-04T09:31:00Z "+plan)
	if journal.Skipped != 3 {
		t.Errorf("%d lines are passed over, want 3", journal.Skipped)
	}
	if err := os.WriteFile(path, []byte(heading), 0o600); err != nil {
		t.Fatal(err)
	}
	if empty, err := erasures.Open(path); err != nil || empty.Skipped != 0 {
		t.Errorf("a list of nothing: %v", err)
	}
}
