package main

import (
	"bytes"
	"errors"
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"knifedesk/api/keyring"
	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// A service that others can reach refuses to start as long as it would let
// nobody in, says what to do, and starts once that is done.
func TestServeWithoutKeysStaysAtHome(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	env := func(name string) string {
		if name == "DATABASE_URL" {
			return dbtest.URL(pool)
		}
		return ""
	}
	shared, open := loopback(), loopback()
	shared.database = dbtest.URL(pool)
	open.listen = "0.0.0.0:0"
	log := slog.New(slog.DiscardHandler)
	for what, cfg := range map[string]serveConfig{"a database of its own": shared, "an address that others reach": open} {
		_, err := start(t.Context(), cfg, &database{DB: store, close: func() {}}, log)
		why := map[bool]string{true: "it has the database of DATABASE_URL", false: "--listen=0.0.0.0:0 is an address"}[cfg.database != ""]
		if err == nil || !strings.Contains(err.Error(), "knifedesk keys create --first") || !strings.Contains(err.Error(), why) {
			t.Errorf("%s: %v", what, err)
		}
	}
	key := lastLine(t, env, "keys", "create", "--first")
	s, err := start(t.Context(), shared, &database{DB: store, close: func() {}}, log)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.stop(); err != nil {
			t.Error(err)
		}
	}()
	for bearer, want := range map[string]int{"": 401, "Bearer " + key: 200} {
		req, err := http.NewRequestWithContext(t.Context(), "GET", s.url+"/v1/levels", nil)
		if err != nil {
			t.Fatal(err)
		}
		if bearer != "" {
			req.Header.Set("Authorization", bearer)
		}
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		if resp.StatusCode != want {
			t.Errorf("with %.12q: %d, want %d", bearer, resp.StatusCode, want)
		}
	}
}

func TestKeysCommands(t *testing.T) {
	pool := dbtest.New(t)
	if err := queue.Seed(t.Context(), db.From(pool), workshop.Example()); err != nil {
		t.Fatal(err)
	}
	env := func(name string) string {
		if name == "DATABASE_URL" {
			return dbtest.URL(pool)
		}
		return ""
	}
	first := lastLine(t, env, "keys", "create", "--first")
	if !strings.HasPrefix(first, "kdk_") || len(first) != 68 {
		t.Errorf("the first key is %q", first)
	}
	var out bytes.Buffer
	if err := run(t.Context(), []string{"keys", "create", "--first"}, env, &out, &out); !errors.Is(err, keyring.ErrFirst) {
		t.Errorf("a second first key: %v", err)
	}
	second := lastLine(t, env, "keys", "create", "--owner=course-print", "--scopes=submit,read", "--days=30", "--stock=card-220-a4", "--frame=A4", "--name=the form")
	list := func() string {
		var out bytes.Buffer
		if err := run(t.Context(), []string{"keys", "list"}, env, &out, &out); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	shown := list()
	for _, want := range []string{"workshop", "manage", "course-print", "submit,read", "until 20", "never", "the form"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the list lacks %q:\n%s", want, shown)
		}
	}
	if strings.Contains(shown, second[10:]) {
		t.Error("the list shows a key")
	}
	id, _, _ := strings.Cut(strings.Split(shown, "\n")[1], " ") // the newest
	if turned := lastLine(t, env, "keys", "rotate", id, "--grace=1h"); turned == second || !strings.HasPrefix(turned, "kdk_") {
		t.Errorf("rotated to %q", turned)
	}
	lastLine(t, env, "keys", "revoke", id)
	if shown := list(); !strings.Contains(shown, "revoked 20") {
		t.Errorf("after revoking:\n%s", shown)
	}
	if err := run(t.Context(), []string{"keys", "rotate", id}, env, &out, &out); err == nil {
		t.Error("a revoked key is rotated")
	}
	for line, want := range map[string]string{
		"keys create --owner=Print --scopes=read":             "small letters",
		"keys create --owner=print":                           "submit, read",
		"keys create --owner=print --scopes=all":              "no scope",
		"keys create --owner=print --scopes=read --stock=tin": `no "tin"`,
		"keys create --owner=print --scopes=read --days=-1":   "below 0",
		"keys revoke 0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5":    "there is no key",
		"keys rotate 0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5":    "there is no key",
	} {
		if err := run(t.Context(), strings.Fields(line), env, &out, &out); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", line, err, want)
		}
	}
}

// lastLine runs a command and returns the last line that it prints.
func lastLine(t *testing.T, env func(string) string, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if err := run(t.Context(), args, env, &stdout, &stderr); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
	lines := strings.Split(strings.TrimSpace(stdout.String()), "\n")
	return lines[len(lines)-1]
}

func TestEraseCommand(t *testing.T) {
	pool := dbtest.New(t)
	store := db.From(pool)
	env := func(name string) string {
		if name == "DATABASE_URL" {
			return dbtest.URL(pool)
		}
		return ""
	}
	for _, owner := range []string{"print", "paint"} {
		if _, err := store.AddDrawing(t.Context(), owner, "a.svg", []byte("<svg/>")); err != nil {
			t.Fatal(err)
		}
	}
	for _, tt := range [][]string{
		{"would erase 0 plans and 1 drawings, and the results that nobody else reaches", "--owner=print", "--dry-run"},
		{"erased 0 plans, 1 drawings and 0 results", "--owner=print"},
		{"erased 0 plans, 0 drawings and 0 results", "--owner=print"},
		{"would erase 0 plans and 0 drawings, and the results that nobody else reaches", "--older-than-days=1", "--dry-run"},
	} {
		if got := lastLine(t, env, append([]string{"erase"}, tt[1:]...)...); got != tt[0] {
			t.Errorf("%v: %q, want %q", tt[1:], got, tt[0])
		}
	}
}
