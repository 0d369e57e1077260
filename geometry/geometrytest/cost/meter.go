package cost

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Meter reads the processor time of processes and of all under them, less what they
// use idle.
type Meter struct {
	tb    testing.TB
	roots []int
	// Idle is what they use with nothing to do, in seconds a second.
	Idle float64
}

// NewMeter returns a meter of the processes with these numbers.
func NewMeter(tb testing.TB, roots ...int) *Meter { return &Meter{tb: tb, roots: roots} }

// Rest measures what the processes use with nothing to do, for d.
func (m *Meter) Rest(d time.Duration) {
	before := m.spent()
	time.Sleep(d)
	m.Idle = (m.spent() - before) / d.Seconds()
}

// Of returns the processor time of one of n calls in ms, less the idle.
func (m *Meter) Of(n int, do func(i int)) float64 {
	before, began := m.spent(), time.Now()
	for i := range n {
		do(i)
	}
	time.Sleep(100 * time.Millisecond) // what is tidied up afterwards counts too
	used := m.spent() - before - m.Idle*time.Since(began).Seconds()
	return 1000 * used / float64(n)
}

// spent is the processor time in seconds, of processes that have ended too.
func (m *Meter) spent() float64 {
	m.tb.Helper()
	times, parents := map[int]float64{}, map[int]int{}
	entries, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		m.tb.Fatal(err)
	}
	for _, path := range entries {
		text, err := os.ReadFile(path)
		if err != nil {
			continue // it has just ended
		}
		pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(path)))
		// After the name in brackets: state, parent, …, utime, stime, cutime, cstime.
		f := strings.Fields(string(text[bytes.LastIndexByte(text, ')')+1:]))
		parents[pid], _ = strconv.Atoi(f[1])
		for _, ticks := range f[11:15] {
			n, _ := strconv.ParseFloat(ticks, 64)
			times[pid] += n / 100
		}
	}
	under := map[int]bool{}
	for _, pid := range m.roots {
		under[pid] = true
	}
	for range 4 { // service, launcher, postmaster, backend
		for pid, parent := range parents {
			under[pid] = under[pid] || under[parent]
		}
	}
	total := 0.0
	for pid, is := range under {
		if is {
			total += times[pid]
		}
	}
	return total
}
