//go:build unix && !linux

package localpg

import "syscall"

// DieWithOwner does nothing here: the kernel has no such signal, and the next
// start ends a server that outlived its owner.
func DieWithOwner(*syscall.SysProcAttr) {}
