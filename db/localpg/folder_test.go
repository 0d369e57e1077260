package localpg_test

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"knifedesk/db/dbtest"
	"knifedesk/db/localpg"
	"knifedesk/geometry/geometrytest/reference"
)

func TestMissingProgramsSayWhatToDo(t *testing.T) {
	empty := t.TempDir()
	_, err := localpg.Find([]string{empty}, []string{filepath.Join(empty, "*")})
	if !errors.Is(err, localpg.ErrNoPrograms) {
		t.Fatal(err)
	}
	for _, part := range []string{"apt-get install postgresql", "KNIFEDESK_PG_BIN", "DATABASE_URL"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("%q does not say %q", err, part)
		}
	}
	_, err = localpg.Start(t.Context(), localpg.Options{Dir: dbtest.Dir(t), Bin: empty})
	if !errors.Is(err, localpg.ErrNoPrograms) || !strings.Contains(err.Error(), empty) {
		t.Errorf("with a folder named: %v", err)
	}
}

// script writes a program.
func script(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\n"+text+"\n"), 0o755); err != nil {
		t.Fatal(err)
	}
}

func TestProgramsInPath(t *testing.T) {
	usual, err := localpg.Find(filepath.SplitList(os.Getenv("PATH")), []string{"/usr/lib/postgresql/*/bin"})
	if err != nil {
		t.Fatal(err)
	}
	real := usual[0]

	linked := t.TempDir()
	if err := os.Symlink(filepath.Join(real.Dir, "postgres"), filepath.Join(linked, "postgres")); err != nil {
		t.Fatal(err)
	}
	wrapped := t.TempDir() // scripts in front of the programs
	script(t, wrapped, "postgres", "exit 1")
	script(t, wrapped, "initdb", "exit 1")
	script(t, wrapped, "pg_config", "echo "+real.Dir)
	for name, path := range map[string]string{"a link": linked, "a script": wrapped} {
		found, err := localpg.Find([]string{path}, nil)
		if err != nil || len(found) != 1 || found[0] != real {
			t.Errorf("%s: %v, %v, want %v", name, found, err, real)
		}
	}

	old := t.TempDir()
	script(t, old, "initdb", "exit 0")
	script(t, old, "postgres", `echo "postgres (PostgreSQL) 13.4"`)
	newer := t.TempDir()
	script(t, newer, "initdb", "exit 0")
	script(t, newer, "postgres", `echo "postgres (PostgreSQL) 99beta1"`)
	found, err := localpg.Find(nil, []string{old, real.Dir, newer})
	if err != nil || len(found) != 2 || found[0].Major != 99 || found[1] != real {
		t.Errorf("old, real and newer: %v, %v", found, err)
	}
	if _, err := localpg.Find(nil, []string{old}); !errors.Is(err, localpg.ErrNoPrograms) || !strings.Contains(err.Error(), "14 or later") {
		t.Errorf("old alone: %v", err)
	}
}

func TestFolderOfAnotherVersionIsRefused(t *testing.T) {
	dir := dbtest.Dir(t)
	data := filepath.Join(dir, "data")
	if err := os.Mkdir(data, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("13\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := localpg.Start(t.Context(), localpg.Options{Dir: dir})
	if !errors.Is(err, localpg.ErrVersion) || !strings.Contains(err.Error(), "made by PostgreSQL 13") ||
		!strings.Contains(err.Error(), "Install PostgreSQL 13") {
		t.Errorf("another version: %v", err)
	}
}

// The path of a socket is short; that of a folder need not be.
func TestFolderWithALongOrOddPath(t *testing.T) {
	for _, name := range []string{strings.Repeat("long", 30), "with a space, and a comma"} {
		dir := filepath.Join(dbtest.Dir(t), name)
		server := start(t, localpg.Options{Dir: dir, NoSync: true})
		socket := row[string](t, connect(t, server.URL()), "show unix_socket_directories")
		if err := server.Stop(); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(socket); !os.IsNotExist(err) {
			t.Errorf("the socket's folder %s stayed: %v", socket, err)
		}
	}
}

func TestHalfMadeFolderIsMadeAnew(t *testing.T) {
	dir := dbtest.Dir(t)
	half := filepath.Join(dir, "init-123")
	if err := os.MkdirAll(filepath.Join(half, "base"), 0o700); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := localpg.Start(ctx, localpg.Options{Dir: dir}); err == nil {
		t.Error("it started though there was no time")
	}
	start(t, localpg.Options{Dir: dir, NoSync: true})
	if left, err := filepath.Glob(filepath.Join(dir, "init-*")); err != nil || len(left) != 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func TestRootsServerIsNotRoots(t *testing.T) {
	if os.Geteuid() != 0 {
		reference.Skip(t, "this is for root")
	}
	dir := folder(t)
	server := start(t, localpg.Options{Dir: dir, NoSync: true})
	conn := connect(t, server.URL())
	at, err := os.Stat(filepath.Join(dir, "data"))
	if err != nil {
		t.Fatal(err)
	}
	owner := at.Sys().(*syscall.Stat_t).Uid
	if owner == 0 || at.Mode().Perm() != 0o700 {
		t.Errorf("the data folder is user %d's with mode %o", owner, at.Mode().Perm())
	}
	pid := row[string](t, conn, "select pg_backend_pid()::text")
	process, err := os.Stat("/proc/" + pid)
	if err != nil {
		t.Fatal(err)
	}
	if uid := process.Sys().(*syscall.Stat_t).Uid; uid != owner {
		t.Errorf("the server runs as user %d, its data is user %d's", uid, owner)
	}

	closed := t.TempDir() // its parent is open to root alone
	_, err = localpg.Start(t.Context(), localpg.Options{Dir: filepath.Join(closed, "pg")})
	if !errors.Is(err, localpg.ErrUnreachable) || !strings.Contains(err.Error(), filepath.Dir(closed)) ||
		!strings.Contains(err.Error(), "Choose a data folder elsewhere") {
		t.Errorf("in a closed folder: %v", err)
	}
}

// Root also plays the ordinary user.
func TestOrdinaryUser(t *testing.T) {
	if os.Geteuid() != 0 {
		reference.Skip(t, "this needs root, who plays the ordinary user; every other test is run by one")
	}
	const user = 65534 // initdb wants one that has a name
	dir := dbtest.Dir(t)
	program := filepath.Join(dir, "program")
	text, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.WriteFile(program, text, 0o755), os.Chmod(dir, 0o777)); err != nil {
		t.Fatal(err)
	}
	ordinary := func(args ...string) ([]byte, error) {
		cmd := exec.Command(program, args...)
		cmd.Env = append(os.Environ(), "TMPDIR="+dir, "HOME="+dir)
		cmd.Dir = dir
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: user, Gid: user}}
		return cmd.CombinedOutput()
	}
	out, err := ordinary("-test.run=TestStartStopAndKeep|TestSecondOwner|TestKilledOwner", "-test.v")
	if err != nil || strings.Count(string(out), "--- PASS") != 3 {
		t.Errorf("as an ordinary user: %v\n%s", err, out)
	}

	// A folder that root's server made is another user's.
	roots := folder(t)
	if err := start(t, localpg.Options{Dir: roots, NoSync: true}).Stop(); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(filepath.Join(roots, "lock"), 0o666); err != nil {
		t.Fatal(err)
	}
	t.Setenv(ownerVariable, roots)
	if out, err := ordinary(); err == nil || !strings.Contains(string(out), "Run as its owner or as root") {
		t.Errorf("in another's folder: %v, %s", err, out)
	}
}
