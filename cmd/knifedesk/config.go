package main

import (
	"errors"
	"fmt"
	"net"
)

// serveConfig is how a service runs. Flags win over the environment.
type serveConfig struct {
	listen   string
	role     string // all, api or worker
	database string // empty: a private Postgres
	data     string // folder of the private Postgres
	workers  int    // jobs of each queue at a time
	memory   int    // MB that all runs may need together
	requests int    // of one address in a minute; below 0: any number
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
	if c.requests == 0 {
		return errors.New("--requests is 0; it takes 1 or more, or -1 for any number")
	}
	host, _, err := net.SplitHostPort(c.listen)
	if err != nil {
		return fmt.Errorf("--listen is %q; write host:port, such as 127.0.0.1:8080", c.listen)
	}
	if ip := net.ParseIP(host); c.database == "" && host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("--listen is %q: with a private database the service has no keys and stays on the loopback interface", c.listen)
	}
	return nil
}
