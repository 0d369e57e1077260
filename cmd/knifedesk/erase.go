package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// eraseFlags say what is to be erased.
type eraseFlags struct {
	owner, reference string
	list             string // file outside the database
	olderDays        int
	dry              bool
}

// picked is what the flags pick.
func (e eraseFlags) picked(now time.Time) (db.Erasable, error) {
	if e.owner == "" && e.reference == "" && e.olderDays == 0 {
		return db.Erasable{}, usageError("say what: --owner, --client-reference or --older-than-days, or several of them")
	}
	if e.olderDays < 0 {
		return db.Erasable{}, usageError("--older-than-days is below 0")
	}
	p := db.Erasable{Client: e.owner, Reference: plan.Reference(e.reference)}
	if p.Client == "" {
		p.Client = db.AnyClient
	}
	if e.olderDays > 0 {
		p.Before = now.AddDate(0, 0, -e.olderDays)
	}
	return p, nil
}

// erase removes plans, drawings and results, in the database that serve would use.
func erase(ctx context.Context, args []string, getenv func(string) string, stdout, stderr io.Writer) error {
	flags := flag.NewFlagSet("erase", flag.ContinueOnError)
	var e eraseFlags
	var data string
	dataFlag(flags, &data, getenv)
	erasedFlag(flags, &e.list)
	flags.StringVar(&e.owner, "owner", "", "of this client alone")
	flags.StringVar(&e.reference, "client-reference", "", "with this reference alone")
	flags.IntVar(&e.olderDays, "older-than-days", 0, "what has not changed for so long alone; never what is held or handed out")
	flags.BoolVar(&e.dry, "dry-run", false, "only count")
	if list := getenv("KNIFEDESK_ERASED"); list != "" {
		e.list = list
	}
	if err := parse(flags, args, "erase [flags]", 0, stdout); err != nil {
		return err
	}
	what, err := e.picked(time.Now())
	if err != nil {
		return err
	}
	url := getenv("DATABASE_URL")
	if err := checkData(url, data); err != nil {
		return usageError(err.Error())
	}
	log := slog.New(slog.NewTextHandler(stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	store, err := openDatabase(ctx, url, data, log)
	if err != nil {
		return err
	}
	defer store.close()
	list := jobs.NewList()
	q, err := queue.New(store.DB, list.Rows, queue.Config{Log: log, Sharing: queue.SharingOf(list)})
	if err != nil {
		return err
	}
	gone, err := q.EraseAll(ctx, what, e.dry)
	if err != nil {
		return err
	}
	tellErased(stdout, gone, e.dry)
	kept, err := keepErasures(ctx, erasedFile(e.list, url, data), store.DB, q, log)
	if err == nil {
		kept()
	}
	return err
}

func tellErased(stdout io.Writer, gone queue.Erased, dry bool) {
	if dry {
		fmt.Fprintf(stdout, "would erase %d plans and %d drawings, and the results that nobody else reaches\n", gone.Plans, gone.Drawings)
		return
	}
	fmt.Fprintf(stdout, "erased %d plans, %d drawings and %d results\n", gone.Plans, gone.Drawings, gone.Results)
	for _, id := range gone.Kept {
		fmt.Fprintf(stdout, "kept %s: its stock is handed out; report first what became of it\n", id)
	}
}
