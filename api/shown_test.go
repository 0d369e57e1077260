package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"knifedesk/api"
	"knifedesk/db/dbtest"
)

// The list gives every plan once, the newest first, page after page, and the
// last page names none after it.
func TestListOfPlansPageByPage(t *testing.T) {
	d := open(t)
	var want []uuid.UUID
	for i := range 5 {
		p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-160-a4", "client_reference", fmt.Sprint("order ", i))
		want = append([]uuid.UUID{p.ID}, want...)
	}
	for limit, pages := range map[int]int{2: 3, 5: 1, 4: 2, 100: 1} {
		var got []uuid.UUID
		next, n := "", 0
		for ; n == 0 || next != ""; n++ {
			var page struct {
				Plans      []api.PlanHead `json:"plans"`
				NextCursor string         `json:"next_cursor"`
			}
			d.call(t, http.MethodGet, fmt.Sprintf("/v1/plans?limit=%d&cursor=%s", limit, next), nil).json(t, &page)
			for _, p := range page.Plans {
				got = append(got, p.ID)
			}
			if next = page.NextCursor; n > len(want) {
				t.Fatalf("limit %d: the list does not end", limit)
			}
		}
		if n != pages || !slices.Equal(got, want) {
			t.Errorf("limit %d: %d pages with %v, want %d with %v", limit, n, got, pages, want)
		}
	}
}

// Every load has its pictures and files, each its own, and there is none past
// the last.
func TestEveryLoadIsShown(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-160-a4", "copies", "14")
	if p.Status != "ready" || p.Layout == nil || p.Layout.Loads != 2 {
		t.Fatalf("%s, layout %+v", p.Status, p.Layout)
	}
	for _, path := range []string{
		"/previews/layout.svg?load=%d", "/previews/layout.png?load=%d", "/previews/passes.svg?load=%d", "/previews/passes.png?load=%d",
		"/files/load-%d.dxf", "/files/load-%d.svg", "/files/load-%d.plt",
	} {
		var bodies [3][]byte
		for load := 1; load <= 3; load++ {
			a := d.call(t, http.MethodGet, p.Links["self"]+fmt.Sprintf(path, load), nil)
			if want := map[bool]int{true: http.StatusOK, false: http.StatusNotFound}[load <= 2]; a.status != want {
				t.Errorf(path+" answers %d: %.200s", load, a.status, a.body)
			}
			bodies[load-1] = a.body
		}
		if bytes.Equal(bodies[0], bodies[1]) {
			t.Errorf(path+" is that of load 1", 2)
		}
	}
}

// An erased drawing is gone with its bytes and its name from all tables, also
// where it was read and shown before.
func TestErasedDrawingIsNowhere(t *testing.T) {
	d := open(t)
	file := []byte(strings.Replace(plate, "<g ", "<!-- somebody's own --><g ", 1))
	var sent api.Drawing
	a := d.call(t, http.MethodPost, "/v1/drawings?name=somebodys.svg", file, "Content-Type", "image/svg+xml")
	a.json(t, &sent)
	where := a.header.Get("Location")
	for _, path := range []string{where, where + "/preview.svg"} {
		if a := d.call(t, http.MethodGet, path, nil); a.status != http.StatusOK {
			t.Fatalf("%s: %d", path, a.status)
		}
	}
	marks := []string{"somebody's own", "somebodys.svg", sent.ID.String()}
	for _, mark := range marks {
		if len(dbtest.Holding(t, d.store.Pool, []byte(mark))) == 0 {
			t.Fatalf("%q is nowhere before", mark)
		}
	}
	if a := d.call(t, http.MethodDelete, where, nil); a.status != http.StatusNoContent {
		t.Fatalf("%d %s", a.status, a.body)
	}
	for _, mark := range marks {
		at := dbtest.Holding(t, d.store.Pool, []byte(mark))
		if mark == sent.ID.String() { // by which it is erased again after a restore
			at = slices.DeleteFunc(at, func(table string) bool { return table == "public.erasures" })
		}
		if len(at) > 0 {
			t.Errorf("%q is still in %v", mark, at)
		}
	}
	for _, path := range []string{where, where + "/preview.svg", where + "/preview.png"} {
		if a := d.call(t, http.MethodGet, path, nil); a.status != http.StatusNotFound {
			t.Errorf("%s answers %d", path, a.status)
		}
	}
}

// A cancelled plan shows no stage at work or about to be, neither at once nor
// later, and what it had begun is stopped.
func TestCancelledPlanWorksNoMore(t *testing.T) {
	d := open(t)
	body, kind := form(t, "rings.svg", dense(3000), "stock", "film-removable-610")
	var p api.Plan
	d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind).json(t, &p)
	for d.plan(t, p.ID.String()).Status == "queued" {
		time.Sleep(5 * time.Millisecond)
	}
	d.call(t, http.MethodDelete, p.Links["self"], nil).json(t, &p)
	if p.Status != "cancelled" {
		t.Fatalf("it was too quick to cancel: %s", p.Status)
	}
	d.eventually(t, `select not exists (select from work) and not exists (select from waiters)`)
	for _, now := range []api.Plan{p, d.plan(t, p.ID.String())} {
		if len(now.Progress) == 0 || now.Status != "cancelled" {
			t.Errorf("%s, progress %v", now.Status, now.Progress)
		}
		for _, s := range now.Progress {
			if s.State != "done" && s.State != "waiting" {
				t.Errorf("%s is %s", s.Stage, s.State)
			}
		}
	}
	stages, err := d.store.Stages(t.Context(), p.ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range stages {
		if s.State != "done" && s.State != "waiting" {
			t.Errorf("in the table %s is %s", s.Stage, s.State)
		}
	}
}

// eventually waits until a query is true.
func (d *desk) eventually(t *testing.T, query string) {
	t.Helper()
	for range 500 {
		var is bool
		if err := d.store.Pool.QueryRow(t.Context(), query).Scan(&is); err != nil {
			t.Fatal(err)
		}
		if is {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("waited in vain for: %s", query)
}
