package db_test

import (
	"os"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Run(m)) }

// The size of the pool is that of the connection string where it is set there,
// and not where its name only stands in another setting.
func TestOpenSizesThePool(t *testing.T) {
	url := dbtest.URL(dbtest.New(t))
	for setting, want := range map[string]int32{
		"":                                     20,
		" pool_max_conns=3":                    3,
		" application_name=pool_max_conns":     20,
		" application_name='pool_max_conns=3'": 20,
	} {
		store, err := db.Open(t.Context(), url+setting)
		if err != nil {
			t.Errorf("%q: %v", setting, err)
			continue
		}
		if got := store.Pool.Config().MaxConns; got != want {
			t.Errorf("%q: a pool of %d, want %d", setting, got, want)
		}
		store.Close()
	}
}
