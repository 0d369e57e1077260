package localpg_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"knifedesk/db/dbtest"
	"knifedesk/db/localpg"

	"github.com/jackc/pgx/v5"
	"go.uber.org/goleak"
)

// ownerVariable names the folder in a process that a test starts to own a
// server and to be killed.
const ownerVariable = "KNIFEDESK_TEST_OWNER"

func TestMain(m *testing.M) {
	dir := os.Getenv(ownerVariable)
	if dir == "" {
		os.Exit(runAndClear(m))
	}
	server, err := localpg.Start(context.Background(), localpg.Options{Dir: dir})
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	fmt.Println(server.URL())
	select {}
}

func runAndClear(m *testing.M) int {
	var err error
	if preparedDir, err = os.MkdirTemp("", "knifedesk-prepared-"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(preparedDir)
	return m.Run()
}

// preparedDir holds a data folder for the tests that do not care how it came
// about: a copy is quicker than initdb. The first who wants it makes it.
var preparedDir string

var prepare = sync.OnceValue(func() error {
	server, err := localpg.Start(context.Background(), localpg.Options{Dir: preparedDir, NoSync: true})
	if err != nil {
		return err
	}
	return server.Stop()
})

// folder returns a folder whose data folder is made already.
func folder(t *testing.T) string {
	t.Helper()
	if err := prepare(); err != nil {
		t.Fatal(err)
	}
	dir := dbtest.Dir(t)
	if out, err := exec.Command("cp", "-a", filepath.Join(preparedDir, "data"), dir).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return dir
}

func start(t *testing.T, opts localpg.Options) *localpg.Server {
	t.Helper()
	server, err := localpg.Start(t.Context(), opts)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := server.Stop(); err != nil {
			t.Error(err)
		}
	})
	return server
}

func connect(t *testing.T, url string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close(context.Background()) })
	return conn
}

// row reads one value.
func row[T any](t *testing.T, conn *pgx.Conn, sql string) (v T) {
	t.Helper()
	if err := conn.QueryRow(t.Context(), sql).Scan(&v); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
	return v
}

func run(t *testing.T, conn *pgx.Conn, sql string) {
	t.Helper()
	if _, err := conn.Exec(t.Context(), sql); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
}

func TestStartStopAndKeep(t *testing.T) {
	dir := dbtest.Dir(t)
	leaks := goleak.IgnoreCurrent()
	for round := range 3 {
		server, err := localpg.Start(t.Context(), localpg.Options{Dir: dir})
		if err != nil {
			t.Fatal(err)
		}
		conn := connect(t, server.URL())
		run(t, conn, "create table if not exists kept (round int)")
		if n := row[int](t, conn, "select count(*) from kept"); n != round {
			t.Errorf("round %d finds %d rows", round, n)
		}
		run(t, conn, "insert into kept values (1)")
		for setting, want := range map[string]string{
			"listen_addresses": "", "fsync": "on", "server_encoding": "UTF8", "lc_collate": "C", "unix_socket_permissions": "0700",
		} {
			if got := row[string](t, conn, "show "+setting); got != want {
				t.Errorf("%s is %q, want %q", setting, got, want)
			}
		}
		if err := errors.Join(server.Stop(), server.Stop()); err != nil {
			t.Fatal(err)
		}
		select {
		case <-server.Done():
		default:
			t.Error("not done after the stop")
		}
	}
	goleak.VerifyNone(t, leaks)
}

func TestSecondOwnerIsRefused(t *testing.T) {
	dir := folder(t)
	start(t, localpg.Options{Dir: dir, NoSync: true})
	_, err := localpg.Start(t.Context(), localpg.Options{Dir: dir})
	if !errors.Is(err, localpg.ErrInUse) {
		t.Fatalf("a second owner: %v", err)
	}
	for _, part := range []string{dir, fmt.Sprint(os.Getpid()), "Stop that process, or choose another folder"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("%q does not say %q", err, part)
		}
	}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), ownerVariable+"="+dir)
	if out, err := cmd.Output(); err == nil || !strings.Contains(string(out), "belongs to process") {
		t.Errorf("a second owner in another process: %v, %s", err, out)
	}
}
