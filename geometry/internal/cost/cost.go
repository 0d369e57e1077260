// Package cost measures what a test's call uses, for bounds on hostile input.
package cost

import (
	"runtime"
	"runtime/debug"
	"syscall"
	"time"
)

// Of runs f and returns the processor time the process spent meanwhile, its
// garbage collector included, and the most memory it held beyond what it held
// before. Nothing else may run in the process at the time.
func Of(f func()) (cpu time.Duration, peak uint64) {
	debug.FreeOSMemory()
	before, start := held(), spent()
	done, most := make(chan struct{}), make(chan uint64)
	go watch(done, most)
	f()
	cpu = spent() - start
	close(done)
	return cpu, max(<-most, before) - before
}

// watch samples the memory until done is closed.
func watch(done <-chan struct{}, most chan<- uint64) {
	peak := held()
	for {
		select {
		case <-done:
			most <- max(peak, held())
			return
		case <-time.After(2 * time.Millisecond):
			peak = max(peak, held())
		}
	}
}

func held() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.Sys - m.HeapReleased
}

func spent() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u) // it has no way to fail on a valid pointer
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
