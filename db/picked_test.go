package db_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

// listed is a row of a list as it is to be picked: what is asked of it, and when it was
// made. Several were made at once.
type listed struct {
	id                                 uuid.UUID
	client, reference, status, booking string
	planned                            bool
	created                            time.Time
}

// pages reads a list by pages of some rows up to its end.
func pages(t *testing.T, page func(before *db.Cursor) ([]db.Cursor, error)) (ids []uuid.UUID) {
	t.Helper()
	var before *db.Cursor
	for {
		rows, err := page(before)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) == 0 {
			return ids
		}
		for _, r := range rows {
			ids = append(ids, r.ID)
		}
		if before = &rows[len(rows)-1]; len(ids) > 1000 {
			t.Fatal("the list does not end")
		}
	}
}

// wanted are the rows that a condition picks, the newest first.
func wanted(all []listed, picks func(l *listed) bool) (ids []uuid.UUID) {
	all = slices.Clone(all)
	slices.SortFunc(all, func(a, b listed) int {
		if c := b.created.Compare(a.created); c != 0 {
			return c
		}
		return slices.Compare(b.id[:], a.id[:])
	})
	for i := range all {
		if picks(&all[i]) {
			ids = append(ids, all[i].id)
		}
	}
	return ids
}

// Lists of plans, drawings and acceptances hold what was asked for and nothing else, page
// by page, the newest first, also of those that were made at the same moment. Source: the
// conditions, asked of each row by themselves.
func TestListsHoldWhatIsPicked(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	var plans, drawings, taken []listed
	day := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	for i := range 24 {
		client, reference := []string{"ann", "ben"}[i%2], []string{"", "group 1", "group 2"}[i/2%3]
		made := day.Add(time.Duration(i/3) * time.Hour)
		p := addPlan(t, store, client, reference)
		status := []string{"ready", "asking"}[i/4%2]
		b.run(`update plans set status = $2, created = $3 where id = $1`, p.ID, status, made)
		b.run(`update drawings set created = $2 where id = $1`, p.Drawing, made)
		plans = append(plans, listed{id: p.ID, client: client, reference: reference, status: status, created: made})
		drawings = append(drawings, listed{id: p.Drawing, client: client, reference: reference, planned: true, created: made})
		if i%4 == 0 {
			d, err := store.AddDrawing(ctx, client, "alone.dxf", []byte("alone"))
			if err != nil {
				t.Fatal(err)
			}
			b.run(`update drawings set created = $2 where id = $1`, d.ID, made)
			drawings = append(drawings, listed{id: d.ID, client: client, created: made})
		}
		a := listed{id: uuid.New(), client: client, reference: reference, status: []string{"held", "issued", "closed"}[i%5%3], booking: []string{"", "b1"}[i%7%2], created: made}
		b.run(`insert into acceptances (id, plan, state, total_minor, total_text, price_until, held_until, booking_reference, created)
			values ($1, $2, $3, 100, '', now(), now(), $4, $5)`, a.id, p.ID, a.status, a.booking, made)
		taken = append(taken, a)
	}
	yes, no := true, false
	for _, client := range []string{"ann", "ben", "nobody", db.AnyClient} {
		mine := func(l *listed) bool { return client == db.AnyClient || l.client == client }
		for _, reference := range []string{"", "group 1", "group 3"} {
			referred := func(l *listed) bool { return mine(l) && (reference == "" || l.reference == reference) }
			for _, status := range []string{"", "ready", "held", "issued"} {
				of := fmt.Sprintf("of %s, %q, %q", client, reference, status)
				got := pages(t, func(before *db.Cursor) (rows []db.Cursor, err error) {
					list, err := store.PlanViews(ctx, db.PlanFilter{Client: client, Status: status, ClientReference: reference, Before: before, Limit: 5})
					for _, p := range list {
						rows = append(rows, db.Cursor{Created: p.Created, ID: p.ID})
					}
					return rows, err
				})
				if diff := cmp.Diff(wanted(plans, func(l *listed) bool { return referred(l) && (status == "" || l.status == status) }), got); diff != "" {
					t.Errorf("plans %s:\n%s", of, diff)
				}
				for _, booking := range []string{"", "b1"} {
					got := pages(t, func(before *db.Cursor) (rows []db.Cursor, err error) {
						list, err := store.AcceptanceHeads(ctx, db.AcceptanceFilter{Client: client, ClientReference: reference, BookingReference: booking, State: status, Before: before, Limit: 5})
						for _, a := range list {
							rows = append(rows, db.Cursor{Created: a.Created, ID: a.ID})
						}
						return rows, err
					})
					if diff := cmp.Diff(wanted(taken, func(l *listed) bool {
						return referred(l) && (status == "" || l.status == status) && (booking == "" || l.booking == booking)
					}), got); diff != "" {
						t.Errorf("acceptances %s, %q:\n%s", of, booking, diff)
					}
				}
			}
			for _, planned := range []*bool{nil, &yes, &no} {
				got := pages(t, func(before *db.Cursor) (rows []db.Cursor, err error) {
					list, err := store.DrawingHeads(ctx, db.DrawingFilter{Client: client, ClientReference: reference, Planned: planned, Before: before, Limit: 5})
					for _, d := range list {
						if one := slices.IndexFunc(drawings, func(l listed) bool { return l.id == d.ID }); (d.Plans == 1) != drawings[one].planned {
							t.Errorf("%d plans of a drawing, planned: %v", d.Plans, drawings[one].planned)
						}
						rows = append(rows, db.Cursor{Created: d.Created, ID: d.ID})
					}
					return rows, err
				})
				if diff := cmp.Diff(wanted(drawings, func(l *listed) bool { return referred(l) && (planned == nil || *planned == l.planned) }), got); diff != "" {
					t.Errorf("drawings of %s, %q:\n%s", client, reference, diff)
				}
			}
		}
	}
}

// How a plan stands is told to its client and to who sees all; that it is worked on is
// noted of the plans named, and counts as a change where it was not known.
func TestStandingIsTheClients(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	waits, works, other := addPlan(t, store, "ann", ""), addPlan(t, store, "ann", ""), addPlan(t, store, "ann", "")
	b.run(`update plans set status = 'working', version = 7 where id = $1`, works.ID)
	standing := func(client string, id uuid.UUID) string {
		t.Helper()
		s, err := store.PlanStanding(ctx, client, id)
		if err != nil {
			return "none"
		}
		return fmt.Sprintf("%s %d", s.Status, s.Version)
	}
	before := []string{standing("ann", waits.ID), standing("ann", works.ID), standing("ann", other.ID)}
	if err := store.SetWorking(ctx, []uuid.UUID{waits.ID, works.ID}); err != nil {
		t.Fatal(err)
	}
	var version int
	if _, err := fmt.Sscanf(before[0], "queued %d", &version); err != nil {
		t.Fatal(before[0], err)
	}
	for _, c := range []struct {
		client string
		id     uuid.UUID
		want   string
	}{
		{"ann", waits.ID, fmt.Sprintf("working %d", version+1)}, {"ann", works.ID, "working 7"}, {"ann", other.ID, before[2]},
		{db.AnyClient, other.ID, before[2]}, {"ben", other.ID, "none"}, {"ann", uuid.New(), "none"},
	} {
		if got := standing(c.client, c.id); got != c.want {
			t.Errorf("%s sees of %s %q, want %q", c.client, c.id, got, c.want)
		}
	}
}
