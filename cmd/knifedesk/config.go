package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"net"
	"net/netip"
	"net/url"
	"strings"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/jobs/queue/webhook"
)

// serveConfig is how a service runs. Flags win over the environment.
type serveConfig struct {
	listen   string    // empty: nowhere
	role     string    // all, api or worker
	database string    // empty: a private Postgres
	data     string    // folder of the private Postgres
	erased   string    // file outside the database that lists what was erased; empty: none
	workers  int       // jobs of each queue at a time
	memory   int       // MB that all runs may need together
	requests int       // of one key or address in a minute; below 0: any number
	private  bool      // webhooks may reach private addresses
	keepDays int       // how long what is settled is kept; 0: for ever
	origins  string    // of pages that may call from a browser, with commas between
	proxies  string    // networks whose X-Forwarded-For says who calls, likewise
	waiting  api.Bound // requests that are held open until a plan settles
	streams  api.Bound // event streams
	queued   api.Bound // plans that are queued or worked on
}

// keyless says whether who calls from this machine needs no key: with a private
// database, on a loopback address.
func (c serveConfig) keyless() bool {
	host, _, err := net.SplitHostPort(c.listen)
	ip := net.ParseIP(host)
	return err == nil && c.database == "" && (host == "localhost" || ip != nil && ip.IsLoopback())
}

// webhooks says which receivers of events may be named and reached.
func (c serveConfig) webhooks() webhook.Config { return webhook.Config{Private: c.private} }

// checkKeys refuses to serve what nobody could use: a service that others can
// reach lets in who has a key, and there is none.
func (c serveConfig) checkKeys(ctx context.Context, store *db.DB) error {
	if c.role == "worker" || c.keyless() {
		return nil
	}
	there, err := store.KeyInUse(ctx, "")
	if err != nil || there {
		return err
	}
	why := "--listen=" + c.listen + " is an address that others reach"
	if c.database != "" {
		why = "it has the database of DATABASE_URL"
	}
	return fmt.Errorf("there is no key yet, and without one only a service with a private database on a loopback address can be used (here %s): make the first key with \"knifedesk keys create --first\" on the same database, and start again", why)
}

// leastMemory is what a drawing of some megabytes needs on its way, in MB.
const leastMemory = 128

// check says what cannot be served.
func (c serveConfig) check() error {
	switch c.role {
	case "all", "api", "worker":
	default:
		return fmt.Errorf("--role is %q; it takes all, api or worker", c.role)
	}
	if c.role != "all" && c.database == "" {
		return errors.New("--role=api and --role=worker share a database: set DATABASE_URL")
	}
	if err := checkData(c.database, c.data); err != nil {
		return err
	}
	if c.workers < 1 || c.workers > 64 {
		return fmt.Errorf("--workers is %d; it takes 1 to 64", c.workers)
	}
	if c.memory < leastMemory {
		return fmt.Errorf("--memory is %d; it takes %d or more", c.memory, leastMemory)
	}
	if c.keepDays < 0 {
		return errors.New("--keep-days is below 0; it takes days, or 0 for ever")
	}
	if c.requests == 0 {
		return errors.New("--requests is 0; it takes 1 or more, or -1 for any number")
	}
	if _, _, err := net.SplitHostPort(c.listen); err != nil && c.listen != "" {
		return fmt.Errorf("--listen is %q; write host:port, such as 127.0.0.1:8080", c.listen)
	}
	if _, err := readOrigins(c.origins); err != nil {
		return err
	}
	_, err := readProxies(c.proxies)
	return err
}

// boundFlags adds the flags of what is bounded by client and in all.
func boundFlags(flags *flag.FlagSet, c *serveConfig) {
	flags.TextVar(&c.waiting, "waiting", api.DefaultWaiting(), "requests that may wait for plans at a time, of one client and of all")
	flags.TextVar(&c.streams, "streams", api.DefaultStreams(), "event streams that may be open at a time, of one client and of all")
	flags.TextVar(&c.queued, "queued", api.DefaultQueued(), "plans that may be queued or worked on at a time, of one client and of all")
}

// listed returns the parts of a text with commas between.
func listed(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' })
}

// readOrigins reads the origins of pages, and returns them as browsers write them: in
// small letters, and without the port that the scheme has anyway (RFC 6454, 6.2).
func readOrigins(text string) ([]string, error) {
	all, usual := listed(text), map[string]string{"http": ":80", "https": ":443"}
	for i, origin := range all {
		u, err := url.Parse(strings.ToLower(origin))
		if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.String() != u.Scheme+"://"+u.Host {
			return nil, fmt.Errorf("--origins has %q; write scheme://host, such as https://form.example.org, with commas between", origin)
		}
		u.Host = strings.TrimSuffix(strings.TrimSuffix(u.Host, usual[u.Scheme]), ":")
		all[i] = u.String()
	}
	return all, nil
}

// readProxies reads the networks of proxies.
func readProxies(text string) (all []netip.Prefix, err error) {
	for _, part := range listed(text) {
		network, err := netip.ParsePrefix(part)
		if err != nil {
			return nil, fmt.Errorf("--proxies has %q; write networks such as 10.0.0.0/8 or 192.0.2.7/32, with commas between", part)
		}
		all = append(all, network)
	}
	return all, nil
}
