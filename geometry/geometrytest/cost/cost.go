// Package cost measures what a test's call uses, for bounds on hostile input.
package cost

import (
	"maps"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"syscall"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/reference"
)

// The bounds on reading 1 MB of hostile input, by the acceptance of the
// readers; the memory includes the runtime's own share.
const (
	mostTime   = 2 * time.Second
	mostMemory = 256 << 20
)

// Unwatched skips a test that judges time or memory under the race detector,
// which multiplies both. CI leaves such tests out there by their names, and runs
// them without it.
func Unwatched(t *testing.T) {
	t.Helper()
	if Watched {
		reference.Skip(t, "time and memory are judged without the race detector")
	}
}

// attempts is how often a file that took too long is read: what others do on a
// shared machine only ever adds to the time, so the least is the file's own.
const attempts = 3

// Bound reads each file in a subtest and fails it where the reading takes more
// than is allowed. read returns what is to be said about the file in the log.
func Bound(t *testing.T, files map[string]string, read func(file string) string) {
	Unwatched(t)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		t.Run(name, func(t *testing.T) {
			said := ""
			took, peak := Of(func() { said = read(files[name]) })
			for range attempts - 1 {
				if took <= mostTime {
					break
				}
				again, _ := Of(func() { said = read(files[name]) })
				took = min(took, again)
			}
			t.Logf("%4d kB, %6.0f ms, %4d MB: %.140s", len(files[name])>>10, took.Seconds()*1000, peak>>20, said)
			if took > mostTime || peak > mostMemory {
				t.Errorf("took %v and %d MB", took, peak>>20)
			}
		})
	}
}

// Of runs f and returns the processor time the process spent meanwhile, its
// garbage collector included, and the most memory it held beyond what it held
// before. Nothing else may run in the process at the time.
func Of(f func()) (cpu time.Duration, peak uint64) {
	debug.FreeOSMemory()
	before, start := held(), Spent()
	done, most := make(chan struct{}), make(chan uint64)
	go watch(done, most)
	f()
	cpu = Spent() - start
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

// held is the memory that the runtime has of the system. It is read without
// stopping the world, which would cost the computation more than the garbage
// collector does.
func held() uint64 {
	m := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(m)
	return m[0].Value.Uint64() - m[1].Value.Uint64()
}

// Spent returns the processor time that the process has used so far, which
// other work on the machine disturbs less than the time on the clock.
func Spent() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u) // it has no way to fail on a valid pointer
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
