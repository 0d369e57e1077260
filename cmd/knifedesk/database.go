package main

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"

	"knifedesk/db"
	"knifedesk/db/localpg"
	"knifedesk/geometry/workshop"
)

// openDatabase connects to the Postgres of DATABASE_URL, or starts a private
// one in the data folder. It returns the store, migrated and seeded, and how
// to close it.
func openDatabase(ctx context.Context, url, data string, log *slog.Logger) (*db.DB, func(), error) {
	stop := func() {}
	if url == "" {
		server, err := localpg.Start(ctx, localpg.Options{Dir: data, Log: log})
		if err != nil {
			return nil, nil, err
		}
		url = server.URL()
		stop = func() {
			if err := server.Stop(); err != nil {
				log.Error("private Postgres did not stop well", "error", err)
			}
		}
	}
	store, err := prepare(ctx, url)
	if err != nil {
		stop()
		return nil, nil, err
	}
	return store, func() { store.Close(); stop() }, nil
}

// prepare opens the store and brings it up to date.
func prepare(ctx context.Context, url string) (*db.DB, error) {
	store, err := db.Open(ctx, url)
	if err != nil {
		return nil, err
	}
	if err := store.Migrate(ctx); err != nil {
		store.Close()
		return nil, err
	}
	if err := store.Seed(ctx, workshop.Starter()); err != nil {
		store.Close()
		return nil, err
	}
	return store, nil
}

// migrate brings the database of DATABASE_URL up to date.
func migrate(ctx context.Context, _ []string, getenv func(string) string, stdout, _ io.Writer) error {
	url := getenv("DATABASE_URL")
	if url == "" {
		return fmt.Errorf("set DATABASE_URL to the database to migrate; a private one is migrated whenever it starts")
	}
	store, err := prepare(ctx, url)
	if err != nil {
		return err
	}
	store.Close()
	fmt.Fprintln(stdout, "the database is up to date")
	return nil
}

// dataFolder returns where a private Postgres keeps its data unless the
// command line says otherwise. Root's is outside /root, which the account that
// the server runs under could not reach.
func dataFolder(getenv func(string) string) string {
	if dir := getenv("KNIFEDESK_DATA"); dir != "" {
		return dir
	}
	if os.Geteuid() == 0 {
		return "/var/lib/knifedesk"
	}
	if dir := getenv("XDG_STATE_HOME"); dir != "" {
		return filepath.Join(dir, "knifedesk")
	}
	return filepath.Join(getenv("HOME"), ".local", "state", "knifedesk")
}
