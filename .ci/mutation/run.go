package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"syscall"
	"time"
)

// binary is a test binary of a package within a folder.
type binary struct {
	folder string
	of     *pkg
}

// ran is what a run of tests said, and the processor time it took.
type ran struct {
	ok   bool
	text string
	took time.Duration
}

// run runs a test binary in the package's folder with a place spoiled. It ends
// when it has taken the processor time most, so that other work on the machine
// makes no place look seen, or after many times that, where it waits for ever:
// either way the tests have seen the place.
func (c *campaign) run(ctx context.Context, b binary, most time.Duration, spoiled int, reached string, flags ...string) ran {
	ctx, cancel := context.WithTimeout(ctx, 20*most+time.Minute)
	defer cancel()
	limited := fmt.Sprintf(`ulimit -t %.0f; exec "$0" "$@"`, math.Ceil(most.Seconds()))
	file := filepath.Join(b.folder, path.Base(b.of.ImportPath)+".test")
	cmd := exec.CommandContext(ctx, "sh", append([]string{"-c", limited, file}, flags...)...)
	cmd.Dir = b.of.Dir
	cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%d", spoiledVariable, spoiled), reachedVariable+"="+reached)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	out, err := cmd.CombinedOutput()
	r := ran{ok: err == nil, text: string(out)}
	if s := cmd.ProcessState; s != nil {
		r.took = s.UserTime() + s.SystemTime()
	}
	return r
}
