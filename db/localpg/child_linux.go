package localpg

import "syscall"

// dieWithOwner has the kernel end the child in order when its owner dies.
func dieWithOwner(attr *syscall.SysProcAttr) { attr.Pdeathsig = syscall.SIGINT }
