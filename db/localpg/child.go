package localpg

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// child is the server's first process.
type child struct {
	cmd  *exec.Cmd
	done chan struct{} // closed when it has ended
}

// startServer starts the postgres program. The kernel ends the child when the
// thread that made it ends, so that thread is kept for as long as the child
// lives.
func startServer(use Programs, dir *folder, socket string, opts Options) (*child, error) {
	out, err := dir.openLog()
	if err != nil {
		return nil, err
	}
	defer out.Close()
	cmd := exec.Command(filepath.Join(use.Dir, "postgres"), settings(dir.data(), socket, opts)...)
	dir.owner.apply(cmd, dir.path)
	cmd.Stdout, cmd.Stderr = out, out
	c := &child{cmd: cmd, done: make(chan struct{})}
	started := make(chan error)
	go func() {
		runtime.LockOSThread() // never unlocked: the thread ends with the goroutine
		err := cmd.Start()
		started <- err
		if err == nil {
			_ = cmd.Wait() // how it ended is in its log
			close(c.done)
		}
	}()
	if err := <-started; err != nil {
		return nil, fmt.Errorf("localpg: start the server as user %d: %w", dir.owner.uid, err)
	}
	return c, nil
}

// settings are the server's arguments. Its name in the list of processes
// tells the servers of different folders apart.
func settings(data, socket string, opts Options) []string {
	connections := 100
	if opts.MaxConnections > 0 {
		connections = opts.MaxConnections
	}
	set := []string{
		"listen_addresses=", "port=5432",
		"unix_socket_directories=" + socket, "unix_socket_permissions=0700",
		"cluster_name=" + clusterName(data), "max_connections=" + strconv.Itoa(connections),
		"timezone=UTC", "log_timezone=UTC", "logging_collector=off", "log_checkpoints=off",
	}
	if opts.NoSync {
		set = append(set, "fsync=off", "synchronous_commit=off", "full_page_writes=off")
	}
	args := []string{"-D", data}
	for _, s := range set {
		args = append(args, "-c", s)
	}
	return args
}

func clusterName(data string) string {
	sum := sha256.Sum256([]byte(data))
	return "knifedesk-" + hex.EncodeToString(sum[:6])
}

func (c *child) pid() int { return c.cmd.Process.Pid }

// end stops the server in order, and at once where it takes too long.
func (c *child) end() {
	for _, step := range []struct {
		signal syscall.Signal
		wait   time.Duration
	}{
		{syscall.SIGINT, 20 * time.Second}, // ends its sessions, writes its data out
		{syscall.SIGQUIT, 10 * time.Second},
		{syscall.SIGKILL, 5 * time.Second},
	} {
		if c.cmd.Process.Signal(step.signal) != nil {
			return // it has ended
		}
		select {
		case <-c.done:
			return
		case <-time.After(step.wait):
		}
	}
}

// ensureDatabase makes the database where it is missing.
func ensureDatabase(ctx context.Context, at string) error {
	conn, err := pgx.Connect(ctx, at)
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, "create database "+pgx.Identifier{database}.Sanitize())
	var refused *pgconn.PgError
	if errors.As(err, &refused) && refused.Code == "42P04" { // duplicate_database
		return nil
	}
	return err
}
