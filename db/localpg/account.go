package localpg

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// nobody is the account for root's server where there is no user postgres:
// the overflow id, which owns nothing on the usual systems.
const nobody = 65534

// account is whom the server runs as.
type account struct {
	uid, gid int
	drop     bool // from root
}

// accountFor returns the account for a data folder: this process's own, and
// for root the owner of the folder, or the one to make it with.
func accountFor(data string) (account, error) {
	self := account{uid: os.Geteuid(), gid: os.Getegid()}
	at, err := os.Stat(data)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return account{}, fmt.Errorf("localpg: %w", err)
	}
	var owner *syscall.Stat_t
	if err == nil {
		owner, _ = at.Sys().(*syscall.Stat_t)
	}
	switch {
	case self.uid != 0 && owner != nil && int(owner.Uid) != self.uid:
		return account{}, fmt.Errorf("localpg: %w: %s belongs to user %d and this is user %d. "+
			"Run as its owner or as root, or choose another folder", ErrUnreachable, data, owner.Uid, self.uid)
	case self.uid != 0:
		return self, nil
	case owner != nil && owner.Uid != 0:
		return account{uid: int(owner.Uid), gid: int(owner.Gid), drop: true}, nil
	}
	return unprivileged(), nil
}

func unprivileged() account {
	drop := account{uid: nobody, gid: nobody, drop: true}
	u, err := user.Lookup("postgres")
	if err != nil {
		return drop
	}
	uid, uidErr := strconv.Atoi(u.Uid)
	gid, gidErr := strconv.Atoi(u.Gid)
	if uidErr != nil || gidErr != nil || uid == 0 {
		return drop
	}
	return account{uid: uid, gid: gid, drop: true}
}

// apply makes cmd run as the account, in dir, in a clean environment. The
// process group of its own keeps a Ctrl-C at the terminal from the server, so
// that its owner stops it in order.
func (a account) apply(cmd *exec.Cmd, dir string) {
	cmd.Dir = dir
	cmd.Env = []string{"PATH=/usr/bin:/bin", "LC_ALL=C", "TZ=UTC"}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	DieWithOwner(cmd.SysProcAttr)
	if a.drop {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(a.uid), Gid: uint32(a.gid)}
	}
}

// own gives dir to the account and closes it to others.
func (a account) own(dir string) error {
	if a.drop {
		if err := os.Chown(dir, a.uid, a.gid); err != nil {
			return fmt.Errorf("localpg: %w", err)
		}
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		return fmt.Errorf("localpg: %w", err)
	}
	return nil
}

// private makes dir, open to the account alone. A folder that is there must
// already be so: among the temporary files somebody else may have put it.
func (a account) private(dir string) error {
	err := os.Mkdir(dir, 0o700)
	if err == nil {
		return a.own(dir)
	}
	if !errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("localpg: %w", err)
	}
	at, err := os.Lstat(dir)
	if err != nil {
		return fmt.Errorf("localpg: %w", err)
	}
	owner, ok := at.Sys().(*syscall.Stat_t)
	if !ok || !at.IsDir() || at.Mode().Perm() != 0o700 || int(owner.Uid) != a.uid {
		return fmt.Errorf("localpg: %s is in the way of the socket: it has to be a folder of user %d with mode 0700. Remove it", dir, a.uid)
	}
	return nil
}

// reaches checks that the account can get to dir: every folder above has to
// let it pass. The folder itself is ours to open.
func (a account) reaches(dir string) error {
	if !a.drop {
		return nil
	}
	at, err := os.Stat(dir)
	if err != nil {
		return fmt.Errorf("localpg: %w", err)
	}
	if owner, ok := at.Sys().(*syscall.Stat_t); ok && owner.Uid == 0 && !a.passes(at) {
		if err := os.Chmod(dir, at.Mode().Perm()|0o011); err != nil {
			return fmt.Errorf("localpg: %w", err)
		}
	}
	for at := filepath.Dir(dir); ; at = filepath.Dir(at) {
		info, err := os.Stat(at)
		if err != nil {
			return fmt.Errorf("localpg: %w", err)
		}
		if !a.passes(info) {
			return fmt.Errorf("localpg: %w: root's server runs as user %d, and %s (mode %#o) is closed to it. "+
				"Choose a data folder elsewhere, such as under /var/lib", ErrUnreachable, a.uid, at, info.Mode().Perm())
		}
		if at == filepath.Dir(at) {
			return nil
		}
	}
}

// passes says whether the account may go through a folder.
func (a account) passes(dir fs.FileInfo) bool {
	owner, ok := dir.Sys().(*syscall.Stat_t)
	switch mode := dir.Mode().Perm(); {
	case ok && int(owner.Uid) == a.uid:
		return mode&0o100 != 0
	case ok && int(owner.Gid) == a.gid:
		return mode&0o010 != 0
	default:
		return mode&0o001 != 0
	}
}
