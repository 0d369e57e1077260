package main

import (
	"context"
	"flag"
	"log/slog"
	"sync"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/erasures"
)

// erasedFlag adds the flag that names the list of what was erased.
func erasedFlag(flags *flag.FlagSet, into *string) {
	flags.StringVar(into, "erased", "", "file outside the database that lists what was erased, so that a restored copy does not bring it back; with a private Postgres beside its folder")
}

// erasedFile is where the list is kept: beside the folder of a private Postgres, so
// that it stays where the folder is replaced by an older copy. With a database
// elsewhere there is none unless one is named.
func erasedFile(said, url, data string) string {
	if said == "" && url == "" {
		return data + ".erased"
	}
	return said
}

// keepErasures erases again what the list in a file says and the database does not
// know of, and goes on writing what is erased there. The function that it returns ends
// that once all is written.
func keepErasures(ctx context.Context, file string, store *db.DB, queue *queue.Queue, log *slog.Logger) (stop func(), err error) {
	if file == "" {
		return func() {}, nil
	}
	journal, err := erasures.Open(file)
	if err != nil {
		return nil, err
	}
	if journal.Skipped > 0 {
		log.Warn("lines of the list of what was erased cannot be read", "file", file, "lines", journal.Skipped)
	}
	k := erasures.Keeper{Journal: journal, Store: store, Eraser: queue, Log: log}
	if err := k.Restore(ctx); err != nil {
		return nil, err
	}
	ctx, cancel := context.WithCancel(context.WithoutCancel(ctx))
	var running sync.WaitGroup
	running.Go(func() { k.Keep(ctx) })
	return func() { cancel(); running.Wait() }, nil
}
