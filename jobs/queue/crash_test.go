package queue_test

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/db/localpg"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"

	"github.com/prometheus/client_golang/prometheus"
)

// The parts that this test binary plays as another process.
const (
	partVariable = "KNIFEDESK_TEST_PART"
	partOwner    = "owner"  // private database, workers and ten plans
	partHang     = "hang"   // workers only, whose weeding stage never ends
	partSlow     = "slow"   // workers only, whose weeding stage takes a while
	partPoison   = "poison" // workers only, which the weeding stage ends
	partShared   = "shared" // workers only, for whom what members share never ends
	atVariable   = "KNIFEDESK_TEST_AT"
)

// play starts this test binary as another process.
func play(t *testing.T, part, at string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), partVariable+"="+part, atVariable+"="+at)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { kill(cmd) })
	return cmd
}

// kill ends a process as kill -9 does. One that has ended is left alone.
func kill(cmd *exec.Cmd) {
	if cmd.ProcessState == nil && cmd.Process.Kill() == nil {
		_ = cmd.Wait() // it says that it was killed
	}
}

const runsFile = "runs"

// ten are the drawings of the ten plans; two pairs of them are equal.
func ten() []string {
	return []string{"plain 1", "plain 2", "plain 3", "plain 4", "plain 5", "plain 6", "ask 7", "block 8", "plain 1", "plain 2"}
}

// ownAndWork is what a served process does in the embedded mode. It submits
// ten plans and works on them until it is killed.
func ownAndWork() int {
	ctx := context.Background()
	if err := owner(ctx, os.Getenv(atVariable)); err != nil {
		fmt.Fprintln(os.Stderr, "owner:", err)
		return 1
	}
	select {}
}

func owner(ctx context.Context, dir string) error {
	pg, err := localpg.Start(ctx, localpg.Options{Dir: dir})
	if err != nil {
		return err
	}
	store, err := db.Open(ctx, pg.URL())
	if err != nil {
		return err
	}
	if err := store.Migrate(ctx); err != nil {
		return err
	}
	runs, err := os.OpenFile(filepath.Join(dir, runsFile), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	// Each run takes so long that what it comes to is handed in at once.
	f := &fakes{pause: 200 * time.Millisecond, log: runs}
	q, err := queue.New(store, f.stages(), quick())
	if err != nil {
		return err
	}
	if err := q.Start(ctx); err != nil {
		return err
	}
	for i, file := range ten() {
		_, err := q.Submit(ctx, queue.SubmitParams{Client: fmt.Sprint("client ", i), File: []byte(file), Request: request(1),
			Queue: []db.Queue{db.Interactive, db.Batch}[i%2]})
		if err != nil {
			return err
		}
	}
	return nil
}

// The whole process is killed, database and all, in the middle of ten plans.
func TestKilledProcessLosesNothing(t *testing.T) {
	dir := dbtest.Dir(t)
	cmd := play(t, partOwner, dir)
	lines := func() []string { return runLines(t, dir) }
	await(t, "the middle of the ten plans", func() bool { return len(lines()) >= 20 })
	kill(cmd)
	before := lines()

	pg, err := localpg.Start(t.Context(), localpg.Options{Dir: dir})
	if err != nil {
		t.Fatalf("the next start: %v", err)
	}
	t.Cleanup(func() { _ = pg.Stop() })
	store, err := db.Open(t.Context(), pg.URL())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(store.Close)
	left := unsettled(t, store)
	if left == 0 || len(ids(t, store)) != 10 {
		t.Fatalf("%d of %d plans were under way", left, len(ids(t, store)))
	}

	registry := prometheus.NewRegistry()
	cfg := quick()
	cfg.Registry = registry
	var after bytes.Buffer
	f := &fakes{log: &lockedWriter{w: &after}}
	q := startOn(t, store, f.stages(), cfg)
	for _, p := range ids(t, store) {
		p = settled(t, q, p)
		file, err := store.File(t.Context(), p.Hash)
		if err != nil {
			t.Fatal(err)
		}
		matchesLocal(t, store, p, (&fakes{}).stages(), string(file))
	}
	nothingLeft(t, store)
	// The last are counted a moment after the database tells of them.
	await(t, "the plans that ended to be counted", func() bool { return ends(t, registry) >= left })
	if n := ends(t, registry); n != left {
		t.Errorf("%d plans ended after the restart, want %d: each ends once", n, left)
	}
	checkRepeats(t, before, strings.Split(strings.TrimSpace(after.String()), "\n"))
}

// checkRepeats checks that no run was repeated but those the kill cut short:
// at most one for each worker.
func checkRepeats(t *testing.T, before, after []string) {
	t.Helper()
	ran := map[string]int{}
	for _, line := range before {
		ran[line]++
	}
	for line, n := range ran {
		if n > 1 {
			t.Errorf("%s ran %d times before the kill", line, n)
		}
	}
	repeated := 0
	for _, line := range after {
		if ran[line]++; ran[line] > 1 {
			repeated++
		}
	}
	workers := quick().Interactive + quick().Batch
	t.Logf("%d runs before the kill, %d after, %d repeated", len(before), len(after), repeated)
	if repeated > workers {
		t.Errorf("%d runs were repeated, with %d workers", repeated, workers)
	}
}

func runLines(t *testing.T, dir string) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, runsFile))
	if os.IsNotExist(err) {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSpace(string(text)), "\n")
}

func ids(t *testing.T, store *db.DB) []queue.Plan {
	t.Helper()
	var plans []queue.Plan
	for i := range ten() {
		client := fmt.Sprint("client ", i)
		mine, err := store.PlanViews(t.Context(), db.PlanFilter{Client: client, Limit: 10})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range mine {
			p, err := store.Plan(t.Context(), client, v.ID)
			if err != nil {
				t.Fatal(err)
			}
			plans = append(plans, queue.Plan{Plan: p, Status: plan.Status(p.Status)})
		}
	}
	return plans
}

func unsettled(t *testing.T, store *db.DB) int {
	t.Helper()
	n := 0
	for _, p := range ids(t, store) {
		if !p.Status.Settled() {
			n++
		}
	}
	return n
}

func ends(t *testing.T, from prometheus.Gatherer) int {
	t.Helper()
	families, err := from.Gather()
	if err != nil {
		t.Fatal(err)
	}
	n := 0.0
	for _, f := range families {
		if f.GetName() == "knifedesk_plans_settled_total" {
			for _, m := range f.GetMetric() {
				n += m.GetCounter().GetValue()
			}
		}
	}
	return int(n)
}

// workUntilKilled works on the jobs of a database that another process owns.
func workUntilKilled() int {
	ctx := context.Background()
	store, err := db.Open(ctx, os.Getenv(atVariable))
	if err != nil {
		slog.Error("worker", "err", err)
		return 1
	}
	part := os.Getenv(partVariable)
	f := &fakes{during: func(_ context.Context, stage string) {
		if stage == "share" && part == partShared {
			select {}
		}
		if stage != "weeding" {
			return
		}
		switch part {
		case partHang:
			select {}
		case partSlow:
			time.Sleep(500 * time.Millisecond)
		case partPoison:
			_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
		}
	}}
	cfg := quick()
	if part == partSlow {
		cfg = unhurried()
	}
	rows, sharing := sharedBy(f)
	cfg.Sharing = sharing
	q, err := queue.New(store, rows, cfg)
	if err == nil {
		err = q.Start(ctx)
	}
	if err != nil {
		slog.Error("worker", "err", err)
		return 1
	}
	select {}
}
