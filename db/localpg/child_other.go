//go:build unix && !linux

package localpg

import "syscall"

// dieWithOwner does nothing here: the kernel has no such signal, and the next
// start ends a server that outlived its owner.
func dieWithOwner(*syscall.SysProcAttr) {}
