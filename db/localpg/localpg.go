// Package localpg runs a private PostgreSQL server for one process.
//
// The server comes from the PostgreSQL programs installed on the machine. It
// listens on a Unix socket only, keeps its data in a folder of its own, and
// stops with the process that started it, however that process ends. What an
// owner that was killed left behind is cleared away by the next start.
//
//	DIR/lock        held by the owner; a second one is refused
//	DIR/data        the data folder, mode 0700, of the server's account
//	DIR/run         the socket, where its path is short enough
//	DIR/server.log  what the server says
//
// PostgreSQL refuses to run as root, so root's server runs as the owner of the
// data folder: the account postgres where there is one, else 65534.
package localpg

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// Faults that a caller may want to tell apart; each comes wrapped in a message
// that says what to do.
var (
	ErrNoPrograms  = errors.New("no PostgreSQL programs found")
	ErrInUse       = errors.New("the data folder is in use")
	ErrVersion     = errors.New("the data folder is of another PostgreSQL version")
	ErrUnreachable = errors.New("the data folder cannot be reached")
)

// The one role and the one database of a private server.
const (
	role     = "app"
	database = "knifedesk"
)

// Options say where a server keeps its data and how it runs.
type Options struct {
	// Dir is the server's own folder. It is made where it is missing and
	// survives the server.
	Dir string
	// Bin is the folder of the programs initdb and postgres. Empty: the
	// environment variable KNIFEDESK_PG_BIN, else PATH and the usual folders.
	Bin string
	// Log receives what happens to the server; nil: nothing is logged.
	Log *slog.Logger
	// NoSync gives up durability for speed. It is for tests only.
	NoSync bool
	// MaxConnections bounds the connections; 0: 100.
	MaxConnections int
}

// Server is a running private server.
type Server struct {
	dir    *folder
	socket string
	child  *child
	log    *slog.Logger
	stop   sync.Once
}

// Start starts the server of the folder opts.Dir and returns once it takes
// connections and its database exists. It makes the folder on first use, and
// ends what a killed owner left running. The errors that a person can mend
// wrap ErrNoPrograms, ErrInUse, ErrVersion or ErrUnreachable.
func Start(ctx context.Context, opts Options) (*Server, error) {
	log := opts.Log
	if log == nil {
		log = slog.New(slog.DiscardHandler)
	}
	installed, err := find(searchFrom(opts.Bin))
	if err != nil {
		return nil, err
	}
	dir, err := open(opts.Dir)
	if err != nil {
		return nil, err
	}
	s := &Server{dir: dir, log: log}
	if err := s.start(ctx, installed, opts); err != nil {
		return nil, errors.Join(err, dir.close())
	}
	log.Info("private database started", "folder", dir.path, "pid", s.child.pid())
	return s, nil
}

func (s *Server) start(ctx context.Context, installed []Programs, opts Options) error {
	if err := endOrphans(ctx, s.dir.data(), s.log); err != nil {
		return err
	}
	use, err := choose(installed, s.dir.data())
	if err != nil {
		return err
	}
	if err := s.dir.prepare(ctx, use, opts.NoSync); err != nil {
		return err
	}
	if s.socket, err = s.dir.socketFolder(); err != nil {
		return err
	}
	if err := clearStale(s.dir.data(), s.socket); err != nil {
		return err
	}
	if s.child, err = startServer(use, s.dir, s.socket, opts); err != nil {
		return err
	}
	if err := s.ready(ctx); err != nil {
		s.child.end()
		return err
	}
	return nil
}

// URL returns the connection string of the server's database.
func (s *Server) URL() string { return s.urlOf(database) }

func (s *Server) urlOf(name string) string {
	at := url.URL{Scheme: "postgres", User: url.User(role), Path: "/" + name}
	at.RawQuery = url.Values{"host": {s.socket}, "port": {"5432"}, "sslmode": {"disable"}}.Encode()
	return at.String()
}

// Done is closed when the server has ended, whether it was stopped or not.
func (s *Server) Done() <-chan struct{} { return s.child.done }

// Stop ends the server and waits for it, at most half a minute before it is
// made to end at once. The data stays. Stop may be called more than once.
func (s *Server) Stop() error {
	var err error
	s.stop.Do(func() {
		s.child.end()
		err = s.dir.close()
		if s.socket != s.dir.run() {
			// The server's account may have lost the right to do it.
			if rm := os.Remove(s.socket); rm != nil && !errors.Is(rm, fs.ErrNotExist) {
				s.log.Warn("socket folder left behind", "folder", s.socket, "err", rm)
			}
		}
		s.log.Info("private database stopped", "folder", s.dir.path)
	})
	return err
}

// patience bounds the waits for a server: for a first connection (after a
// crash it replays its log first), and for an end.
const patience = 2 * time.Minute

// ready waits for the first connection and makes the database where it is
// missing.
func (s *Server) ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	for {
		err := ensureDatabase(ctx, s.urlOf("postgres"))
		if err == nil {
			return nil
		}
		select {
		case <-s.child.done:
			return fmt.Errorf("localpg: the server ended while starting: %s", s.dir.logTail())
		case <-ctx.Done():
			return fmt.Errorf("localpg: the server did not answer: %w", errors.Join(ctx.Err(), err))
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func (d *folder) data() string    { return filepath.Join(d.path, "data") }
func (d *folder) run() string     { return filepath.Join(d.path, "run") }
func (d *folder) logFile() string { return filepath.Join(d.path, "server.log") }
