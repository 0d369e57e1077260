package localpg_test

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"knifedesk/db/localpg"
)

// own starts a process that owns a server, and returns its connection string.
func own(t *testing.T, dir string) (*exec.Cmd, string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), ownerVariable+"="+dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if cmd.ProcessState == nil {
			_, _ = cmd.Process.Kill(), cmd.Wait()
		}
	})
	var url string
	if _, err := fmt.Fscanln(out, &url); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(url, "postgres://") {
		t.Fatalf("the owner says %s", url)
	}
	return cmd, url
}

func TestKilledOwnerLosesNothing(t *testing.T) {
	dir := folder(t)
	for round := range 4 {
		owner, url := own(t, dir)
		conn := connect(t, url)
		run(t, conn, "create table if not exists kept (round int)")
		run(t, conn, "insert into kept values (1)")
		run(t, conn, "begin")
		run(t, conn, "insert into kept select 2 from generate_series(1, 100000)") // never committed
		if n := row[int](t, connect(t, url), "select count(*) from kept"); n != round+1 {
			t.Fatalf("round %d: %d rows are kept", round, n)
		}
		if round%2 == 1 { // without it the next start meets a server that is just stopping
			waitFor(t, "the server to end with its owner", func() bool {
				_, err := os.Stat(filepath.Join(dir, "data", "postmaster.pid"))
				if err == nil && owner.ProcessState == nil {
					_, _ = owner.Process.Kill(), owner.Wait()
				}
				return os.IsNotExist(err)
			})
		} else {
			_, _ = owner.Process.Kill(), owner.Wait()
		}
	}
	server := start(t, localpg.Options{Dir: dir})
	if n := row[int](t, connect(t, server.URL()), "select count(*) from kept"); n != 4 {
		t.Errorf("%d rows are kept, want 4", n)
	}
}

func waitFor(t *testing.T, what string, is func() bool) {
	t.Helper()
	for range 500 {
		if is() {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("waited in vain for %s", what)
}

func TestServerThatOutlivedItsOwnerIsEnded(t *testing.T) {
	dir := folder(t)
	opts := localpg.Options{Dir: dir, NoSync: true}
	pid, err := localpg.StartOrphan(t.Context(), opts)
	if err != nil {
		t.Fatal(err)
	}
	mark := filepath.Join(dir, "data", "postmaster.pid")
	waitFor(t, "the orphan to run", func() bool {
		text, err := os.ReadFile(mark)
		return err == nil && strings.Contains(string(text), "ready")
	})
	server := start(t, opts)
	row[int](t, connect(t, server.URL()), "select 1")
	if err := syscall.Kill(pid, 0); !errors.Is(err, syscall.ESRCH) {
		t.Errorf("the orphan %d still runs: %v", pid, err)
	}
}

// After a kill the mark names a process, and by now that may be another one.
func TestStaleMarkOfALiveProcessIsIgnored(t *testing.T) {
	dir := folder(t)
	opts := localpg.Options{Dir: dir, NoSync: true}
	server, err := localpg.Start(t.Context(), opts)
	if err != nil {
		t.Fatal(err)
	}
	mark := filepath.Join(dir, "data", "postmaster.pid")
	text, err := os.ReadFile(mark)
	if err != nil {
		t.Fatal(err)
	}
	if err := server.Stop(); err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitN(string(text), "\n", 2)
	other := exec.Command("sleep", "600")
	if err := other.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _, _ = other.Process.Kill(), other.Wait() })
	stale := fmt.Sprintf("%d\n%s", other.Process.Pid, lines[1])
	for _, path := range []string{mark, filepath.Join(dir, "run", ".s.PGSQL.5432.lock")} {
		if err := os.WriteFile(path, []byte(stale), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	again := start(t, opts)
	row[int](t, connect(t, again.URL()), "select 1")
	if err := syscall.Kill(other.Process.Pid, 0); err != nil {
		t.Errorf("the other process was ended: %v", err)
	}
}

func TestEndOfTheServerIsNoticed(t *testing.T) {
	dir := folder(t)
	server := start(t, localpg.Options{Dir: dir, NoSync: true})
	text, err := os.ReadFile(filepath.Join(dir, "data", "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	var pid int
	if _, err := fmt.Sscan(string(text), &pid); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	select {
	case <-server.Done():
	case <-time.After(10 * time.Second):
		t.Fatal("the end of the server went unnoticed")
	}
	if err := server.Stop(); err != nil {
		t.Fatal(err)
	}
	again := start(t, localpg.Options{Dir: dir, NoSync: true})
	row[int](t, connect(t, again.URL()), "select 1")
}
