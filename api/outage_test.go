package api_test

import (
	"context"
	"fmt"
	"net/http"
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
