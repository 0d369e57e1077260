package localpg

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"time"
)

// endOrphans ends the processes of a server whose owner was killed. It is
// called with the folder locked, so whatever still runs on the data has no
// owner. A server that was told to stop by its owner's death may still be
// writing its data out; it is given the time.
func endOrphans(ctx context.Context, data string, log *slog.Logger) error {
	for _, step := range []struct {
		signal syscall.Signal
		wait   time.Duration
	}{
		{syscall.SIGINT, 20 * time.Second},
		{syscall.SIGQUIT, 5 * time.Second},
		{syscall.SIGKILL, 5 * time.Second},
	} {
		left, err := processesOn(data)
		if err != nil {
			return err
		}
		if len(left) == 0 {
			return nil
		}
		log.Info("ending the database server of a killed owner", "data", data, "processes", len(left), "signal", step.signal.String())
		if err := signal(left, step.signal); err != nil {
			return err
		}
		if gone, err := waitGone(ctx, data, step.wait); gone || err != nil {
			return err
		}
	}
	return fmt.Errorf("localpg: the server of a killed owner still runs on %s and cannot be ended", data)
}

// process is one of a server's processes.
type process struct {
	pid   int
	first bool // it ends the others in order
}

// signal tells the first process alone, where it lives, unless there is no
// more time for order.
func signal(to []process, signal syscall.Signal) error {
	first := slices.ContainsFunc(to, func(p process) bool { return p.first })
	for _, p := range to {
		if first && !p.first && signal != syscall.SIGKILL {
			continue
		}
		if err := syscall.Kill(p.pid, signal); err != nil && !errors.Is(err, syscall.ESRCH) {
			return fmt.Errorf("localpg: end process %d of a killed owner's server: %w", p.pid, err)
		}
	}
	return nil
}

func waitGone(ctx context.Context, data string, limit time.Duration) (bool, error) {
	deadline := time.Now().Add(limit)
	for time.Now().Before(deadline) {
		left, err := processesOn(data)
		if err != nil || len(left) == 0 {
			return err == nil, err
		}
		select {
		case <-ctx.Done():
			return false, ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
	return false, nil
}

// clearStale removes the marks that a killed server leaves. The server would
// trust them where their process id has been given to another process since,
// or is that of a dead process nobody has collected. No process runs on the
// data here, which endOrphans has seen to.
func clearStale(data, socket string) error {
	for _, path := range []string{
		filepath.Join(data, "postmaster.pid"),
		filepath.Join(socket, socketName),
		filepath.Join(socket, socketName+".lock"),
	} {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("localpg: %w", err)
		}
	}
	return nil
}
