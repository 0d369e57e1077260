package queue_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/db/localpg"
)

// After an outage of the database every worker looks dead. A long job that
// ran through it must not be given to another worker.
func TestOutageGivesNoLiveJobAway(t *testing.T) {
	for _, c := range []struct {
		name   string
		outage func(*testing.T, *localpg.Server, localpg.Options) *localpg.Server
	}{
		{"held up", holdUp},
		{"restarted", restart},
	} {
		t.Run(c.name, func(t *testing.T) {
			opts := localpg.Options{Dir: dbtest.Dir(t), NoSync: true}
			pg, err := localpg.Start(t.Context(), opts)
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = pg.Stop() })
			store, err := db.Open(t.Context(), pg.URL())
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(store.Close)
			if err := store.Migrate(t.Context()); err != nil {
				t.Fatal(err)
			}

			goOn := make(chan struct{})
			f := &fakes{during: func(_ context.Context, stage string) {
				if stage == "weeding" {
					<-goOn
				}
			}}
			q := startOn(t, store, f.stages(), quick())
			startOn(t, store, f.stages(), quick())
			startOn(t, store, f.stages(), quick())
			_, p := put(t, store, "plain")
			working(t, store, p, "weeding")
			time.Sleep(quick().Lease) // until all sweep

			pg = c.outage(t, pg, opts)
			time.Sleep(3 * quick().Lease)
			if n := f.sofar("weeding"); n != 1 {
				t.Errorf("the stage was started %d times", n)
			}
			close(goOn)
			matchesLocal(t, store, settled(t, q, p), (&fakes{}).stages(), "plain")
			nothingLeft(t, store)
		})
	}
}

func restart(t *testing.T, pg *localpg.Server, opts localpg.Options) *localpg.Server {
	t.Helper()
	if err := pg.Stop(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(2 * quick().Lease)
	again, err := localpg.Start(t.Context(), opts)
	if err != nil {
		t.Fatal(err)
	}
	return again
}

// holdUp stops every process of the server for a while.
func holdUp(t *testing.T, pg *localpg.Server, opts localpg.Options) *localpg.Server {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(opts.Dir, "data", "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	var first int
	if _, err := fmt.Sscan(string(text), &first); err != nil {
		t.Fatal(err)
	}
	pids := append([]int{first}, sessions(t, pg)...)
	for _, signal := range []syscall.Signal{syscall.SIGSTOP, syscall.SIGCONT} {
		for _, pid := range pids {
			if err := syscall.Kill(pid, signal); err != nil && err != syscall.ESRCH {
				t.Fatal(err)
			}
		}
		if signal == syscall.SIGSTOP {
			time.Sleep(3 * quick().Lease)
		}
	}
	return pg
}

func sessions(t *testing.T, pg *localpg.Server) (pids []int) {
	t.Helper()
	store, err := db.Open(t.Context(), pg.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer store.Close()
	rows, err := store.Pool.Query(t.Context(), `select pid from pg_stat_activity where pid <> pg_backend_pid()`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var pid int
		if err := rows.Scan(&pid); err != nil {
			t.Fatal(err)
		}
		pids = append(pids, pid)
	}
	return pids
}
