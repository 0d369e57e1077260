package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/google/uuid"

	"knifedesk/api/access"
	"knifedesk/api/keyring"
	"knifedesk/db"
)

// keysSynopsis is the command line of keys.
const keysSynopsis = "keys create|list|rotate ID|revoke ID [flags]"

// keyFlags are what the keys commands are told.
type keyFlags struct {
	data   string
	order  keyring.Order
	scopes string
	lasts  int // days; 0: for ever
	first  bool
	grace  time.Duration
}

// manageKeys makes, lists, rotates and revokes keys, in the database that serve
// would use.
func manageKeys(ctx context.Context, args []string, getenv func(string) string, stdout, stderr io.Writer) error {
	verb := ""
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		verb, args = args[0], args[1:]
	}
	id := ""
	if len(args) > 0 && (verb == "rotate" || verb == "revoke") && !strings.HasPrefix(args[0], "-") {
		id, args = args[0], args[1:]
	}
	var k keyFlags
	if err := parse(k.flags(getenv), args, keysSynopsis, 0, stdout); err != nil {
		return err
	}
	do, err := k.command(verb, id)
	if err != nil {
		return err
	}
	url := getenv("DATABASE_URL")
	if err := checkData(url, k.data); err != nil {
		return usageError(err.Error())
	}
	store, err := openDatabase(ctx, url, k.data, slog.New(slog.NewTextHandler(stderr, &slog.HandlerOptions{Level: slog.LevelWarn})))
	if err != nil {
		return err
	}
	defer store.close()
	return do(ctx, store.DB, stdout)
}

func (k *keyFlags) flags(getenv func(string) string) *flag.FlagSet {
	flags := flag.NewFlagSet("keys", flag.ContinueOnError)
	dataFlag(flags, &k.data, getenv)
	flags.BoolVar(&k.first, "first", false, "create: the first key, which manages; nothing is done where there is one")
	flags.StringVar(&k.order.Owner, "owner", "", "create: the client whose drawings and plans it makes and sees (with --first: workshop)")
	flags.StringVar(&k.scopes, "scopes", "", "create: submit, read, manage, with commas between (with --first: manage)")
	flags.StringVar(&k.order.Name, "name", "", "create: what it is for")
	flags.IntVar(&k.lasts, "days", 0, "create: how long it lasts; 0: for ever")
	flags.StringVar(&k.order.Stock, "stock", "", "create: the stock of plans that name none")
	flags.StringVar(&k.order.Convention, "convention", "", "create: the convention of plans that name none")
	flags.StringVar(&k.order.Frame, "frame", "", "create: the frame of plans that say nothing of the size, such as A4")
	flags.IntVar(&k.order.PerMinute, "requests", 0, "create: requests in a minute; 0: as many as the service allows")
	flags.DurationVar(&k.grace, "grace", 24*time.Hour, "rotate: how long the key before is taken too")
	return flags
}

// command returns what a verb does.
func (k *keyFlags) command(verb, id string) (func(context.Context, *db.DB, io.Writer) error, error) {
	switch verb {
	case "create":
		return k.create, nil
	case "list":
		return listKeys, nil
	case "rotate", "revoke":
		parsed, err := uuid.Parse(id)
		if err != nil {
			return nil, usageError(fmt.Sprintf("%q is no id of a key; knifedesk keys list shows them", id))
		}
		if verb == "revoke" {
			return func(ctx context.Context, store *db.DB, out io.Writer) error {
				return revokeKey(ctx, store, parsed, out)
			}, nil
		}
		if k.grace < 0 {
			return nil, usageError("--grace is below 0")
		}
		return func(ctx context.Context, store *db.DB, out io.Writer) error { return k.rotate(ctx, store, parsed, out) }, nil
	}
	return nil, usageError("write knifedesk " + keysSynopsis)
}

func (k *keyFlags) create(ctx context.Context, store *db.DB, stdout io.Writer) error {
	o, make := k.order, keyring.Create
	if k.first {
		make = keyring.CreateFirst
		if o.Owner == "" {
			o.Owner = "workshop"
		}
		if k.scopes == "" {
			k.scopes = string(access.Manage)
		}
	}
	if k.lasts < 0 {
		return usageError("--days is below 0")
	}
	if k.lasts > 0 {
		until := time.Now().AddDate(0, 0, k.lasts)
		o.Expires = &until
	}
	o.Scopes = strings.FieldsFunc(k.scopes, func(r rune) bool { return r == ',' })
	made, text, err := make(ctx, store, o)
	var bad *keyring.FieldError
	if errors.As(err, &bad) {
		return usageError(bad.Error())
	}
	if err != nil {
		return err
	}
	tellKey(stdout, made, text)
	return nil
}

// tellKey prints a new key. It is the last line, and the only one of that form,
// so that a script can take it.
func tellKey(stdout io.Writer, k db.Key, text string) {
	fmt.Fprintf(stdout, "key %s of %s, for %s. It is shown this once; send it as Authorization: Bearer …\n%s\n",
		k.ID, k.Owner, strings.Join(k.Scopes, " and "), text)
}

func listKeys(ctx context.Context, store *db.DB, stdout io.Writer) error {
	all, err := store.Keys(ctx)
	if err != nil {
		return err
	}
	w := tabwriter.NewWriter(stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "id\towner\tscopes\tstate\tused\tname")
	for _, k := range all {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", k.ID, k.Owner, strings.Join(k.Scopes, ","), stateOf(k), day(k.Used, "never"), k.Name)
	}
	return w.Flush()
}

func stateOf(k db.Key) string {
	switch {
	case k.Revoked != nil:
		return "revoked " + day(k.Revoked, "")
	case k.Expires != nil && !time.Now().Before(*k.Expires):
		return "expired " + day(k.Expires, "")
	case k.Expires != nil:
		return "until " + day(k.Expires, "")
	}
	return "in use"
}

func day(t *time.Time, none string) string {
	if t == nil {
		return none
	}
	return t.UTC().Format(time.DateOnly)
}

func (k *keyFlags) rotate(ctx context.Context, store *db.DB, id uuid.UUID, stdout io.Writer) error {
	made, text, err := keyring.Rotate(ctx, store, id, k.grace)
	if errors.Is(err, db.ErrNotFound) {
		return fmt.Errorf("there is no key %s that is in use", id)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "the one before is taken until %s\n", made.OldUntil.UTC().Format("2006-01-02 15:04 UTC"))
	tellKey(stdout, made, text)
	return nil
}

func revokeKey(ctx context.Context, store *db.DB, id uuid.UUID, stdout io.Writer) error {
	if err := store.RevokeKey(ctx, id); errors.Is(err, db.ErrNotFound) {
		return fmt.Errorf("there is no key %s", id)
	} else if err != nil {
		return err
	}
	fmt.Fprintf(stdout, "key %s is revoked, and the tokens that it made\n", id)
	return nil
}
