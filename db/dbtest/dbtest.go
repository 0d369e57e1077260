// Package dbtest gives tests databases of a real Postgres: one private server
// a test binary, started by the same launcher as the product's, and on it a
// fresh migrated database for each test.
//
//	func TestMain(m *testing.M) { os.Exit(dbtest.Run(m)) }
//
//	func TestPlans(t *testing.T) {
//		pool := dbtest.New(t)
//		…
//	}
//
// A test never skips for want of Postgres: it fails and says what to install.
package dbtest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/localpg"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// shared is the server of this test binary. It starts with the first New, so
// that binaries whose tests need none pay nothing.
var shared struct {
	running atomic.Bool // within Run
	start   sync.Once
	server  *server
	err     error
}

type server struct {
	pg     *localpg.Server
	folder string
	admin  *pgxpool.Pool
	made   atomic.Int64
}

// Run runs the tests of a package and then ends the server that they used. It
// returns the code to exit with.
func Run(m *testing.M) int {
	shared.running.Store(true)
	code := m.Run()
	if shared.server == nil {
		return code
	}
	if err := shared.server.stop(); err != nil {
		fmt.Fprintln(os.Stderr, "dbtest:", err)
		return max(code, 1)
	}
	return code
}

// New returns a pool on a fresh database with the schema and no data. Both are
// gone after the test.
func New(t testing.TB) *pgxpool.Pool {
	t.Helper()
	if !shared.running.Load() {
		t.Fatal("dbtest: the package's tests need func TestMain(m *testing.M) { os.Exit(dbtest.Run(m)) }")
	}
	shared.start.Do(func() { shared.server, shared.err = start() })
	if shared.err != nil {
		t.Fatalf("dbtest: a private Postgres is needed for this test: %v", shared.err)
	}
	pool, err := shared.server.fresh(t)
	if err != nil {
		t.Fatalf("dbtest: %v", err)
	}
	return pool
}

// URL returns the connection string of a database from New, for a test that
// starts another process on it.
func URL(pool *pgxpool.Pool) string { return pool.Config().ConnString() }

// Dir returns an empty folder for a test that starts a server of its own. Other
// than t.TempDir it can be reached by the account that root's server runs as.
func Dir(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", folders)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(dir); err != nil {
			t.Error(err)
		}
	})
	return dir
}

const (
	folders  = "knifedesk-dbtest-"
	template = "template_knifedesk"
)

// start starts the server and prepares the database that the others are
// copies of.
func start() (*server, error) {
	ctx := context.Background()
	clearLeft(time.Now())
	folder, err := os.MkdirTemp("", folders)
	if err != nil {
		return nil, err
	}
	pg, err := localpg.Start(ctx, localpg.Options{Dir: folder, NoSync: true, MaxConnections: 400})
	if err != nil {
		return nil, errors.Join(err, os.RemoveAll(folder))
	}
	s := &server{pg: pg, folder: folder}
	if err := s.prepare(ctx); err != nil {
		return nil, errors.Join(err, s.stop())
	}
	return s, nil
}

func (s *server) prepare(ctx context.Context) (err error) {
	if s.admin, err = pgxpool.New(ctx, s.pg.URL()); err != nil {
		return err
	}
	if _, err := s.admin.Exec(ctx, "create database "+template); err != nil {
		return err
	}
	store, err := db.Open(ctx, s.urlOf(template))
	if err != nil {
		return err
	}
	defer store.Close()
	return store.Migrate(ctx)
}

func (s *server) stop() error {
	if s.admin != nil {
		s.admin.Close()
	}
	return errors.Join(s.pg.Stop(), os.RemoveAll(s.folder))
}

// fresh copies the prepared database for one test.
func (s *server) fresh(t testing.TB) (*pgxpool.Pool, error) {
	ctx := context.Background()
	name := fmt.Sprintf("test_%d", s.made.Add(1))
	if _, err := s.admin.Exec(ctx, "create database "+name+" template "+template); err != nil {
		return nil, err
	}
	t.Cleanup(func() {
		if _, err := s.admin.Exec(ctx, "drop database "+name+" with (force)"); err != nil {
			t.Errorf("dbtest: %v", err)
		}
	})
	store, err := db.Open(ctx, s.urlOf(name))
	if err != nil {
		return nil, err
	}
	t.Cleanup(store.Close)
	return store.Pool, nil
}

// urlOf names another database of the same server.
func (s *server) urlOf(name string) string {
	cfg, err := pgx.ParseConfig(s.pg.URL())
	if err != nil {
		panic("dbtest: the launcher's own connection string: " + err.Error())
	}
	return fmt.Sprintf("host=%s port=%d user=%s dbname=%s sslmode=disable", cfg.Host, cfg.Port, cfg.User, name)
}

// clearLeft removes the folders of test binaries that were killed long ago.
// Their servers ended with them.
func clearLeft(now time.Time) {
	left, err := filepath.Glob(filepath.Join(os.TempDir(), folders+"*"))
	if err != nil {
		return
	}
	for _, dir := range left {
		if at, err := os.Stat(dir); err == nil && now.Sub(at.ModTime()) > 6*time.Hour {
			_ = os.RemoveAll(dir) // another user's stay
		}
	}
}
