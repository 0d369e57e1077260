package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"

	"knifedesk/db"
	"knifedesk/db/localpg"
)

// database is an open store.
type database struct {
	*db.DB
	close func()
	lost  <-chan struct{} // closed when a private server ended by itself
}

// openDatabase connects to the Postgres of DATABASE_URL, or starts a private
// one in the data folder, and brings it up to date.
func openDatabase(ctx context.Context, url, data string, log *slog.Logger) (*database, error) {
	d := &database{close: func() {}}
	if url == "" {
		server, err := localpg.Start(ctx, localpg.Options{Dir: data, Log: log})
		if err != nil {
			return nil, err
		}
		url, d.lost = server.URL(), server.Done()
		d.close = func() {
			if err := server.Stop(); err != nil {
				log.Error("private Postgres did not stop well", "error", err)
			}
		}
	}
	store, err := prepare(ctx, url)
	if err != nil {
		d.close()
		return nil, err
	}
	d.DB = store
	stop := d.close
	d.close = func() { store.Close(); stop() }
	return d, nil
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
	return store, nil
}

// migrate brings the database of DATABASE_URL up to date.
func migrate(ctx context.Context, args []string, getenv func(string) string, stdout, _ io.Writer) error {
	flags := flag.NewFlagSet("migrate", flag.ContinueOnError)
	if err := parse(flags, args, "migrate, with DATABASE_URL set", 0, stdout); err != nil {
		return err
	}
	url := getenv("DATABASE_URL")
	if url == "" {
		return usageError("set DATABASE_URL to the database to migrate; a private one is migrated whenever it starts")
	}
	store, err := prepare(ctx, url)
	if err != nil {
		return err
	}
	store.Close()
	fmt.Fprintln(stdout, "the database is up to date")
	return nil
}

// dataFlag adds the flag that names the folder of a private Postgres.
func dataFlag(flags *flag.FlagSet, into *string, getenv func(string) string) {
	flags.StringVar(into, "data", dataFolder(getenv), "folder of the private Postgres, used without DATABASE_URL")
}

// checkData says that neither a database nor a folder for a private one is
// named.
func checkData(url, folder string) error {
	if url == "" && folder == "" {
		return errors.New("--data is empty; name the folder of the private Postgres, or set DATABASE_URL")
	}
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
