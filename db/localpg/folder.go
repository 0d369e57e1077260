package localpg

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// folder is a server's own folder, locked by this process.
type folder struct {
	path  string // absolute, links resolved
	lock  *os.File
	owner account
	said  int64 // the length of the log as the server started
}

// open makes the folder where it is missing and locks it. The lock is the
// kernel's: it ends with the process, however that ends.
func open(path string) (*folder, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	if err := os.MkdirAll(path, 0o755); err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	if path, err = filepath.EvalSymlinks(path); err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	d := &folder{path: path}
	if d.lock, err = lock(filepath.Join(path, "lock")); err != nil {
		return nil, err
	}
	if d.owner, err = accountFor(d.data()); err != nil {
		return nil, errors.Join(err, d.close())
	}
	if err := d.owner.reaches(path); err != nil {
		return nil, errors.Join(err, d.close())
	}
	return d, nil
}

// close gives the folder up.
func (d *folder) close() error { return d.lock.Close() }

// lock takes the lock file and writes the process's id into it.
func lock(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		holder, readErr := io.ReadAll(f)
		return nil, errors.Join(inUse(filepath.Dir(path), strings.TrimSpace(string(holder))), readErr, f.Close())
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("localpg: lock %s: %w", path, err), f.Close())
	}
	if err := f.Truncate(0); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	if _, err := f.WriteAt([]byte(strconv.Itoa(os.Getpid())+"\n"), 0); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

func inUse(dir, holder string) error {
	if holder == "" {
		holder = "unknown"
	}
	return fmt.Errorf("localpg: %w: %s belongs to process %s, which is running. "+
		"Stop that process, or choose another folder", ErrInUse, dir, holder)
}

// prepare makes the data folder on first use. It is made under another name
// first, so that a killed initdb never leaves half of one.
func (d *folder) prepare(ctx context.Context, use Programs, noSync bool) error {
	if err := d.clearHalfMade(); err != nil {
		return err
	}
	if _, err := os.Stat(filepath.Join(d.data(), "PG_VERSION")); err == nil {
		return nil
	}
	fresh, err := os.MkdirTemp(d.path, "init-")
	if err != nil {
		return fmt.Errorf("localpg: %w", err)
	}
	if err := d.owner.own(fresh); err != nil {
		return err
	}
	if err := d.initdb(ctx, use, fresh, noSync); err != nil {
		return errors.Join(err, os.RemoveAll(fresh))
	}
	if err := os.Rename(fresh, d.data()); err != nil {
		return fmt.Errorf("localpg: %s is in the way of the data folder: %w", d.data(), err)
	}
	return nil
}

func (d *folder) clearHalfMade() error {
	left, err := filepath.Glob(filepath.Join(d.path, "init-*"))
	if err != nil {
		return fmt.Errorf("localpg: %w", err)
	}
	for _, dir := range left {
		if err := os.RemoveAll(dir); err != nil {
			return fmt.Errorf("localpg: %w", err)
		}
	}
	return nil
}

func (d *folder) initdb(ctx context.Context, use Programs, fresh string, noSync bool) error {
	args := []string{"-D", fresh, "-U", role, "-A", "trust", "-E", "UTF8", "--locale=C"}
	if noSync {
		args = append(args, "--no-sync")
	}
	cmd := exec.CommandContext(ctx, filepath.Join(use.Dir, "initdb"), args...)
	d.owner.apply(cmd, d.path)
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("localpg: initdb: %w: %s", err, lastLines(string(out)))
	}
	return nil
}

// maxSocketPath is the longest path of a socket, less its closing zero byte
// (sun_path of unix(7) has 108).
const maxSocketPath = 107

const socketName = ".s.PGSQL.5432"

// socketFolder returns a folder for the socket that only the server's account
// can enter, since the server trusts everybody who reaches it. It lies in the
// server's own folder, or, where that path is too long or has letters that
// the server's list of folders gives a meaning to, among the temporary files.
func (d *folder) socketFolder() (string, error) {
	if usableSocket(d.run()) {
		return d.run(), d.owner.private(d.run())
	}
	sum := sha256.Sum256([]byte(d.path))
	for _, parent := range []string{os.TempDir(), "/tmp"} {
		dir := filepath.Join(parent, "kd-"+strconv.Itoa(d.owner.uid)+"-"+hex.EncodeToString(sum[:5]))
		if usableSocket(dir) && d.owner.reaches(parent) == nil {
			return dir, d.owner.private(dir)
		}
	}
	return "", fmt.Errorf("localpg: no folder with a path short enough for a socket (%d bytes); set TMPDIR to one", maxSocketPath)
}

func usableSocket(dir string) bool {
	odd := strings.ContainsFunc(dir, func(r rune) bool {
		return r <= ' ' || r > '~' || strings.ContainsRune(`,"'\`, r)
	})
	return !odd && len(filepath.Join(dir, socketName)) <= maxSocketPath
}

// maxLog is the size in bytes past which the server's log starts afresh.
const maxLog = 8 << 20

// openLog opens the server's log for appending.
func (d *folder) openLog() (*os.File, error) {
	flags := os.O_CREATE | os.O_WRONLY | os.O_APPEND
	d.said = 0
	switch at, err := os.Stat(d.logFile()); {
	case err == nil && at.Size() > maxLog:
		flags |= os.O_TRUNC
	case err == nil:
		d.said = at.Size()
	}
	f, err := os.OpenFile(d.logFile(), flags, 0o600)
	if err != nil {
		return nil, fmt.Errorf("localpg: %w", err)
	}
	return f, nil
}

// logTail returns the last lines that the server has said since its start.
func (d *folder) logTail() string {
	text, err := os.ReadFile(d.logFile())
	if err != nil {
		return err.Error()
	}
	return lastLines(string(text[min(d.said, int64(len(text))):]))
}

func lastLines(text string) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	return strings.Join(lines[max(0, len(lines)-5):], "\n")
}
