// Command knifedesk plans the cutting of card and film: it serves the API,
// works on the queue, or computes one plan from a file.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
)

const usage = `knifedesk plans the cutting of card and film on a drag-knife cutter.

  knifedesk init        give an empty workshop its first data
  knifedesk serve       serve the API and work on the queue
  knifedesk plan FILE   compute one plan from a file, without a database
  knifedesk demo        show the whole flow on the drawings of an invented exhibition
  knifedesk keys        make, list, rotate and revoke keys: keys create|list|rotate|revoke
  knifedesk erase       erase plans, drawings and results of a client, a reference or an age
  knifedesk migrate     bring the database that DATABASE_URL names up to date
  knifedesk health URL  ask a running service whether it is ready

Each takes -h. demo, and init, serve, keys and erase without DATABASE_URL, start a private
Postgres from the programs installed on this machine.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	err := run(ctx, os.Args[1:], os.Getenv, os.Stdout, os.Stderr)
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "knifedesk:", err)
	}
	os.Exit(exitCode(err))
}

// run carries out one command line. What it reads and writes is passed in.
func run(ctx context.Context, args []string, getenv func(string) string, stdout, stderr io.Writer) error {
	commands := map[string]func(context.Context, []string, func(string) string, io.Writer, io.Writer) error{
		"init": initialise, "serve": serve, "plan": planFile, "demo": demo, "keys": manageKeys, "erase": erase, "migrate": migrate, "health": health,
	}
	if len(args) == 0 || args[0] == "-h" || args[0] == "--help" || args[0] == "help" {
		fmt.Fprint(stdout, usage)
		return nil
	}
	command, ok := commands[args[0]]
	if !ok {
		return usageError(fmt.Sprintf("there is no command %q; run knifedesk help", args[0]))
	}
	return command(ctx, args[1:], getenv, stdout, stderr)
}
