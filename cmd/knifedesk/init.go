package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"

	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// initialise gives an empty workshop its first data, in the database that serve
// would use.
func initialise(ctx context.Context, args []string, getenv func(string) string, stdout, stderr io.Writer) error {
	flags := flag.NewFlagSet("init", flag.ContinueOnError)
	example := flags.Bool("example", false, "take the data of an invented college, with made-up prices")
	var data string
	dataFlag(flags, &data, getenv)
	if err := parse(flags, args, "init [flags]", 0, stdout); err != nil {
		return err
	}
	url := getenv("DATABASE_URL")
	if err := checkData(url, data); err != nil {
		return usageError(err.Error())
	}
	set := workshop.Neutral()
	if *example {
		set = workshop.Example()
	}
	log := slog.New(slog.NewTextHandler(stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	store, err := openDatabase(ctx, url, data, log)
	if err != nil {
		return err
	}
	defer store.close()
	if err := queue.Seed(ctx, store.DB, set); errors.Is(err, queue.ErrSeeded) {
		return fmt.Errorf("%w, and stays as it is: init sets up an empty one only; the API changes stocks, machines, settings, conventions and prices", err)
	} else if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "the workshop has %d stocks, %d machines, %d settings, a convention and a price list to start from\n",
		len(set.Stocks), len(set.Machines), len(set.Settings))
	if !*example {
		fmt.Fprintln(stdout, "the price list is empty: enter prices before you quote any")
	}
	return nil
}
