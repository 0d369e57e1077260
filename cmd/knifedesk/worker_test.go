package main

import (
	"bytes"
	"errors"
	"flag"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"knifedesk/db"
	"knifedesk/db/dbtest"
)

// A worker that was given an address tells how it is, by the rules of the API, and
// serves nothing else; one without an address listens nowhere.
func TestWorkerTellsHowItIs(t *testing.T) {
	store := &database{DB: db.From(dbtest.New(t)), close: func() {}}
	log := slog.New(slog.DiscardHandler)
	s, err := start(t.Context(), serveConfig{role: "worker", workers: 1, memory: 256, requests: -1, listen: "127.0.0.1:0"}, store, log)
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]struct {
		status int
		text   string
	}{
		"/healthz": {200, `"ok"`}, "/readyz": {200, `"workers":1`}, "/metrics": {200, `knifedesk_queue_jobs{queue="batch"} 0`},
		"/v1/plans": {404, ""}, "/": {404, ""}, "/docs": {404, ""},
	} {
		resp, err := http.Get(s.url + path)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil || resp.StatusCode != want.status || !strings.Contains(string(body), want.text) {
			t.Errorf("%s: %s %v", path, resp.Status, err)
		}
	}
	if err := s.stop(); err != nil {
		t.Error(err)
	}
	silent, err := start(t.Context(), serveConfig{role: "worker", workers: 1, memory: 256, requests: -1}, store, log)
	if err != nil {
		t.Fatal(err)
	}
	if silent.url != "" || silent.listener != nil {
		t.Errorf("it listens at %q", silent.url)
	}
	if err := silent.stop(); err != nil {
		t.Error(err)
	}
}

// Every flag of serve has a name in the environment, and what stands there is refused
// as it is behind the flag.
func TestEveryFlagHasAnEnvironmentName(t *testing.T) {
	set := map[string]string{
		"KNIFEDESK_KEEP_DAYS": "365", "KNIFEDESK_WORKERS": "7", "KNIFEDESK_LISTEN": "127.0.0.1:1234", "KNIFEDESK_ROLE": "all", "KNIFEDESK_MEMORY": "2000",
		"KNIFEDESK_REQUESTS": "17", "KNIFEDESK_WEBHOOKS_PRIVATE": "true", "KNIFEDESK_ORIGINS": "https://form.example.org", "KNIFEDESK_PROXIES": "10.1.2.0/24",
	}
	var out bytes.Buffer
	if err := run(t.Context(), []string{"serve", "-h"}, func(name string) string { return set[name] }, &out, &out); !errors.Is(err, flag.ErrHelp) {
		t.Fatal(err)
	}
	for name, value := range set {
		if !strings.Contains(out.String(), "(default "+value+")") && !strings.Contains(out.String(), `(default "`+value+`")`) {
			t.Errorf("%s=%s is not heard:\n%s", name, value, out.String())
		}
	}
	wrong := func(name string) string { return map[string]string{"KNIFEDESK_KEEP_DAYS": "ten"}[name] }
	if err := run(t.Context(), []string{"serve"}, wrong, &out, &out); err == nil || !strings.Contains(err.Error(), "KNIFEDESK_KEEP_DAYS: ") {
		t.Errorf("a number of days that is none: %v", err)
	}
}
