package main

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// The log of a service tells that its workshop is not set up, and only then.
func TestServeTellsOfAnEmptyWorkshop(t *testing.T) {
	store := db.From(dbtest.New(t))
	told := func() string {
		var log bytes.Buffer
		s, err := start(t.Context(), loopback(), &database{DB: store, close: func() {}}, slog.New(slog.NewTextHandler(&log, nil)))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.stop(); err != nil {
			t.Error(err)
		}
		return log.String()
	}
	const want = "lists no stock yet: run knifedesk init"
	if log := told(); !strings.Contains(log, want) {
		t.Errorf("empty: %s", log)
	}
	if err := queue.Seed(t.Context(), store, workshop.Neutral()); err != nil {
		t.Fatal(err)
	}
	if log := told(); strings.Contains(log, want) {
		t.Errorf("set up: %s", log)
	}
}

// A service that can no longer be reached must not live on: whoever watches the
// process would take it for well.
func TestServeEndsWithItsListener(t *testing.T) {
	store := &database{DB: db.From(dbtest.New(t)), close: func() {}}
	log := slog.New(slog.DiscardHandler)
	s, err := start(t.Context(), loopback(), store, log)
	if err != nil {
		t.Fatal(err)
	}
	taken := loopback()
	taken.listen = s.listener.open.Addr().String()
	if second, err := start(t.Context(), taken, store, log); err == nil || !strings.Contains(err.Error(), "--listen takes another address") {
		t.Errorf("a port in use: %v, %v", second, err)
	}
	ended := make(chan error, 1)
	ctx, cancel := context.WithCancel(t.Context())
	go func() { ended <- s.wait(ctx) }()
	select {
	case err := <-ended:
		t.Fatalf("ended while all is well: %v", err)
	case <-time.After(100 * time.Millisecond):
	}
	s.listener.open.Close()
	if err := <-ended; err == nil || !strings.Contains(err.Error(), "no longer listens") {
		t.Errorf("its listener closed: %v", err)
	}
	cancel()
	if err := s.stop(); err != nil {
		t.Error(err)
	}
}

func TestServeEndsWellWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s, err := start(ctx, loopback(), &database{DB: db.From(dbtest.New(t)), close: func() {}}, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if err := errors.Join(s.wait(ctx), s.stop()); err != nil {
		t.Error(err)
	}
}

// A private Postgres ends with the service, and only then is told to be lost.
func TestPrivatePostgresEndsWithItsUser(t *testing.T) {
	d, err := openDatabase(t.Context(), "", filepath.Join(dbtest.Dir(t), "data"), slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	var one int
	if err := d.Pool.QueryRow(t.Context(), `select 1`).Scan(&one); err != nil {
		t.Error(err)
	}
	select {
	case <-d.lost:
		t.Error("it is lost while it serves")
	default:
	}
	d.Pool.Close()
	d.close()
	select {
	case <-d.lost:
	case <-time.After(time.Minute):
		t.Error("it is left running")
	}
}

// loopback is a service on a free port.
func loopback() serveConfig {
	return serveConfig{listen: "127.0.0.1:0", role: "all", workers: 1, requests: -1}
}
