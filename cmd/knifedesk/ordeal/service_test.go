// Package ordeal holds what is too large for a test of one part: the service as it
// runs in earnest, as processes with a Postgres of their own, under kills and load.
//
//	bash .ci/crash [-n PLANS]   kills and restarts at random moments
//	bash .ci/load               fairness and cost under load
package ordeal

import (
	"context"
	"fmt"
	"log/slog"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"knifedesk/api/keyring"
	"knifedesk/db"
	"knifedesk/db/localpg"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// service is a Postgres and the processes that work on it, which whoever watches over
// them starts again when they have ended, as a supervisor does.
type service struct {
	t    testing.TB
	bin  string
	dir  string
	url  string // of the API
	base string // of the database

	mu       sync.Mutex
	pg       *localpg.Server
	running  map[string]*exec.Cmd
	starts   map[string]int
	stopping bool
	watched  sync.WaitGroup
}

// open starts Postgres with an empty example workshop, without a process.
func open(t testing.TB) *service {
	t.Helper()
	dir, err := os.MkdirTemp("", "knifedesk-ordeal-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o711); err != nil { // the account of Postgres has to reach its folder
		t.Fatal(err)
	}
	s := &service{t: t, dir: dir, bin: filepath.Join(dir, "knifedesk"), running: map[string]*exec.Cmd{}, starts: map[string]int{}}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if out, err := exec.Command("go", "build", "-o", s.bin, "knifedesk/cmd/knifedesk").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	s.startPostgres()
	s.base = s.pg.URL()
	t.Cleanup(s.close)
	store := s.store()
	if err := store.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := queue.Seed(t.Context(), store, workshop.Example()); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *service) startPostgres() {
	s.t.Helper()
	pg, err := localpg.Start(context.Background(), localpg.Options{Dir: filepath.Join(s.dir, "postgres"), MaxConnections: 200})
	if err != nil {
		s.t.Errorf("postgres does not come up: %v", err)
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.pg = pg
}

// restartPostgres ends Postgres, by its own will or as a crash does, and starts it again.
func (s *service) restartPostgres(crash bool) {
	s.mu.Lock()
	pg := s.pg
	s.mu.Unlock()
	if crash {
		if pid := s.postmaster(); pid > 1 {
			_ = syscall.Kill(pid, syscall.SIGQUIT) // ends at once and recovers from its log
			<-pg.Done()
		}
	}
	if err := pg.Stop(); err != nil && !crash {
		s.t.Errorf("postgres does not end well: %v", err)
	}
	s.startPostgres()
}

// postmaster is the number of the process of Postgres, 0 where it does not run.
func (s *service) postmaster() (pid int) {
	text, err := os.ReadFile(filepath.Join(s.dir, "postgres", "data", "postmaster.pid"))
	if err == nil {
		_, err = fmt.Sscan(string(text), &pid)
	}
	if err != nil {
		return 0
	}
	return pid
}

// store opens the database for the test itself.
func (s *service) store() *db.DB {
	s.t.Helper()
	store, err := db.Open(s.t.Context(), s.base)
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(store.Close)
	return store
}

// key makes a key of a client.
func (s *service) key(store *db.DB, owner string, scopes ...string) string {
	s.t.Helper()
	_, text, err := keyring.Create(s.t.Context(), store, keyring.Order{Owner: owner, Scopes: scopes, PerMinute: 100_000})
	if err != nil {
		s.t.Fatal(err)
	}
	return text
}

// watch keeps a process running until close, whatever becomes of it.
func (s *service) watch(name string, args ...string) {
	log, err := os.OpenFile(filepath.Join(s.dir, name+".log"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		s.t.Fatal(err)
	}
	s.watched.Go(func() {
		defer log.Close()
		runtime.LockOSThread() // the process ends with this thread, also where the test is killed
		for s.run(name, log, args) {
			time.Sleep(150 * time.Millisecond)
		}
	})
}

// run runs a process once, and says whether it is to be run again.
func (s *service) run(name string, log *os.File, args []string) bool {
	cmd := exec.Command(s.bin, append([]string{"serve"}, args...)...)
	cmd.Env = append(os.Environ(), "DATABASE_URL="+s.base)
	cmd.Stdout, cmd.Stderr = log, log
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	localpg.DieWithOwner(cmd.SysProcAttr)
	s.mu.Lock()
	if s.stopping {
		s.mu.Unlock()
		return false
	}
	err := cmd.Start()
	if err == nil {
		s.running[name] = cmd
		s.starts[name]++
	}
	s.mu.Unlock()
	if err != nil {
		s.t.Error(err)
		return false
	}
	_ = cmd.Wait() // it is killed, or ends as the database was away
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.running, name)
	return !s.stopping
}

// kill ends a process as kill -9 does, and says whether it ran.
func (s *service) kill(name string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	cmd := s.running[name]
	return cmd != nil && cmd.Process.Kill() == nil
}

// freeAddress is a loopback address at which nobody listens.
func freeAddress(t testing.TB) string {
	t.Helper()
	port, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer port.Close()
	return port.Addr().String()
}

// serve has an API and workers running.
func (s *service) serve(workers int, flags ...string) {
	s.t.Helper()
	address := freeAddress(s.t)
	s.url = "http://" + address
	s.watch("api", append([]string{"--role=api", "--listen=" + address}, flags...)...)
	for n := range workers {
		s.watch(fmt.Sprint("worker ", n+1), append([]string{"--role=worker"}, flags...)...)
	}
}

// close asks all processes to end, then Postgres. The logs are shown where the test
// has failed.
func (s *service) close() {
	s.mu.Lock()
	s.stopping = true
	for _, cmd := range s.running {
		_ = cmd.Process.Signal(syscall.SIGTERM)
	}
	s.mu.Unlock()
	s.watched.Wait()
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.pg.Stop(); err != nil {
		slog.Warn("postgres does not end well", "err", err)
	}
	if !s.t.Failed() {
		return
	}
	logs, _ := filepath.Glob(filepath.Join(s.dir, "*.log"))
	for _, path := range logs {
		text, _ := os.ReadFile(path)
		s.t.Logf("%s ends with\n%s", filepath.Base(path), text[max(0, len(text)-2000):])
		var failed []string
		for line := range strings.Lines(string(text)) {
			if strings.Contains(line, `"request failed"`) && !strings.Contains(line, "SQLSTATE 57P") && !strings.Contains(line, "connect") {
				failed = append(failed, line)
			}
		}
		s.t.Logf("failed requests that are not plainly of the outages: %s", failed[max(0, len(failed)-20):])
	}
}
