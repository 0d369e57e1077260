package localpg

import (
	"context"
	"os/exec"
	"path/filepath"
	"syscall"
)

// Find looks for programs in these places only.
func Find(path, folders []string) ([]Programs, error) {
	return find(search{path: path, folders: folders})
}

// StartOrphan starts a server as Start does, but one that does not end with
// its owner, and gives the folder up. It returns the id of its process.
func StartOrphan(ctx context.Context, opts Options) (int, error) {
	installed, err := find(searchFrom(""))
	if err != nil {
		return 0, err
	}
	dir, err := open(opts.Dir)
	if err != nil {
		return 0, err
	}
	defer dir.close()
	if err := dir.prepare(ctx, installed[0], true); err != nil {
		return 0, err
	}
	socket, err := dir.socketFolder()
	if err != nil {
		return 0, err
	}
	cmd := exec.Command(filepath.Join(installed[0].Dir, "postgres"), settings(dir.data(), socket, opts)...)
	dir.owner.apply(cmd, dir.path)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Credential: cmd.SysProcAttr.Credential}
	if err := cmd.Start(); err != nil {
		return 0, err
	}
	go func() { _ = cmd.Wait() }() // collects it: an orphan has init for that
	return cmd.Process.Pid, nil
}
