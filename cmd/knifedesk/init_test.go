package main

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
)

// initOn runs init on a database and returns what it printed and told.
func initOn(t *testing.T, url string, flags ...string) (printed string, err error) {
	t.Helper()
	var out bytes.Buffer
	getenv := func(name string) string { return map[string]string{"DATABASE_URL": url}[name] }
	err = run(t.Context(), append([]string{"init"}, flags...), getenv, &out, &out)
	return out.String(), err
}

func TestInitSetsAWorkshopUpOnce(t *testing.T) {
	for _, tt := range []struct {
		flags   []string
		list    string // the price list that it brings
		printed string
	}{
		{nil, "prices", "enter prices before you quote any"},
		{[]string{"--example"}, "orrin", "8 stocks, 2 machines"},
	} {
		pool := dbtest.New(t)
		url := dbtest.URL(pool)
		printed, err := initOn(t, url, tt.flags...)
		if err != nil || !strings.Contains(printed, tt.printed) {
			t.Errorf("init %v: %v, printed %q", tt.flags, err, printed)
		}
		for _, again := range [][]string{nil, {"--example"}} {
			printed, err := initOn(t, url, again...)
			if !errors.Is(err, queue.ErrSeeded) || exitCode(err) != exitFault || printed != "" || !strings.Contains(err.Error(), "stays as it is") {
				t.Errorf("init %v, then init %v: %v, printed %q", tt.flags, again, err, printed)
			}
		}
		data, err := queue.Workshop(t.Context(), db.From(pool).Queries)
		if err != nil || len(data.PriceLists) != 1 || data.PriceLists[0].ID != tt.list {
			t.Errorf("init %v: %+v, %v", tt.flags, data.PriceLists, err)
		}
	}
}
