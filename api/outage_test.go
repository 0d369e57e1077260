package api_test

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"knifedesk/api"
)

// While the database is gone each answer says so, and when to come again; the
// service itself lives.
func TestTheDatabaseIsGone(t *testing.T) {
	d := open(t)
	var r api.Readiness
	a := d.call(t, "GET", "/readyz", nil)
	if a.json(t, &r); a.status != http.StatusOK || r.Workers != 1 || r.Schema < 13 {
		t.Errorf("before: %d %s", a.status, a.body)
	}
	behind := `update goose_db_version set is_applied = false where version_id = (select max(version_id) from goose_db_version)`
	if _, err := d.store.Pool.Exec(t.Context(), behind); err != nil {
		t.Fatal(err)
	}
	d.call(t, "GET", "/readyz", nil).wants(t, "an older database", http.StatusServiceUnavailable, "schema_behind")
	var name string
	if err := d.store.Pool.QueryRow(t.Context(), `select current_database()`).Scan(&name); err != nil {
		t.Fatal(err)
	}
	d.cutOff(t, name)
	for _, call := range [][2]string{{"GET", "/readyz"}, {"GET", "/v1/plans"}, {"GET", "/v1/stocks"}, {"POST", "/v1/drawings"}, {"GET", "/v1/plans/" + someID}} {
		a := d.call(t, call[0], call[1], []byte(plate), "Content-Type", "image/svg+xml")
		a.wants(t, call[0]+" "+call[1], http.StatusServiceUnavailable, "database_unreachable")
		if a.header.Get("Retry-After") == "" {
			t.Errorf("%s %s does not say when to come again", call[0], call[1])
		}
	}
	d.call(t, "GET", "/healthz", nil).wants(t, "health", http.StatusOK, "")
}

// cutOff closes a database, and breaks all connections to it, until the test ends.
func (d *desk) cutOff(t *testing.T, name string) {
	t.Helper()
	cfg := d.store.Pool.Config().ConnConfig.Copy()
	cfg.Database = "postgres"
	beside, err := pgx.ConnectConfig(t.Context(), cfg)
	if err != nil {
		t.Fatal(err)
	}
	allow := func(yes bool) {
		if _, err := beside.Exec(context.Background(), fmt.Sprintf(`alter database %s with allow_connections %t`, name, yes)); err != nil {
			t.Error(err)
		}
	}
	allow(false)
	t.Cleanup(func() {
		allow(true)
		beside.Close(context.Background())
	})
	if _, err := beside.Exec(t.Context(), `select pg_terminate_backend(pid) from pg_stat_activity where datname = $1`, name); err != nil {
		t.Fatal(err)
	}
}

// Where others are quicker each time that a change is tried, it is refused in words that say
// so, nothing of it is done, and sent again, by the same key, it goes through.
func TestOthersAreQuickerEachTime(t *testing.T) {
	d := open(t)
	const path = "/v1/plans/"
	body, kind := form(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	p := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	lose := func(how string) {
		t.Helper()
		if _, err := d.store.Pool.Exec(t.Context(), how); err != nil {
			t.Fatal(err)
		}
	}
	answer := []byte(`{"answers":{"artwork/operation:score":{"answer":"nothing"}}}`)
	calls := []struct {
		what, method, path, kind string
		body                     []byte
		want                     int
	}{
		{"an order", "POST", "/v1/plans", kind, body, http.StatusAccepted},
		{"an answer", "POST", path + p.ID.String() + "/answers", "application/json", answer, http.StatusAccepted},
		{"cancelling", "DELETE", path + p.ID.String(), "", nil, http.StatusOK},
		{"erasing", "DELETE", path + p.ID.String() + "?erase=true", "", nil, http.StatusNoContent},
	}
	for _, code := range []string{"40001", "40P01"} { // a serialization failure, a deadlock
		lose(fmt.Sprintf(`create or replace function lose() returns trigger language plpgsql as $$ begin raise exception using errcode = '%s', message = 'canary'; end $$;
			drop trigger if exists lose on plans; create trigger lose before insert or update or delete on plans for each row execute function lose()`, code))
		for _, c := range calls {
			a := d.call(t, c.method, c.path, c.body, "Content-Type", c.kind, "Idempotency-Key", c.what)
			a.wants(t, c.what+" that loses by "+code, http.StatusServiceUnavailable, "busy")
			if a.header.Get("Retry-After") == "" || strings.Contains(string(a.body), "canary") {
				t.Errorf("%s: Retry-After %q, %s", c.what, a.header.Get("Retry-After"), a.body)
			}
		}
	}
	lose(`drop trigger lose on plans`)
	for _, c := range calls {
		if a := d.call(t, c.method, c.path, c.body, "Content-Type", c.kind, "Idempotency-Key", c.what); a.status != c.want {
			t.Errorf("%s, sent again: %d %s", c.what, a.status, a.body)
		}
	}
}
