package localpg

import "syscall"

// DieWithOwner has the kernel end a child in order, by SIGINT, when the thread that started
// it ends, as it does when the process is killed. The goroutine that starts the child locks
// its thread for as long as the child lives.
func DieWithOwner(attr *syscall.SysProcAttr) { attr.Pdeathsig = syscall.SIGINT }
