package ordeal

import (
	"context"
	"flag"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"
)

// The size of the load suite. By itself it is a small form.
var (
	loadFresh   = flag.Int("fresh", 60, "plans of drawings that the service has never seen, of 300 segments, and a tenth as many of 6,000")
	loadRepeats = flag.Int("repeats", 100, "plans that are sent again")
	loadSmall   = flag.Int("small", 40, "small plans timed idle and under load")
	loadHeavy   = flag.Int("heavy", 20, "requests of another client that wait for heavy plans meanwhile")
	loadStreams = flag.Int("event-streams", 200, "event streams of those plans meanwhile")
	loadSets    = flag.Int("class-sets", 2, "class sets that the other client has worked out at a time meanwhile")
	loadMembers = flag.Int("members", 8, "members of each")
	loadSoak    = flag.Duration("soak", 20*time.Second, "how long memory is watched under load at least")
)

// What the service promises under load: the acceptance of the service's issue.
const (
	mostRatio   = 1.25 // processor time of a fresh plan, with Postgres, to that in process
	mostRepeat  = 8.0  // ms of processor time of an equal plan
	mostDelay   = 3.0  // p95 of a small plan under load, to that idle
	mostGrowing = 1.25 // memory in the last third of the soak, to that in the second
)

// BenchmarkLoad measures the service under load, on the loopback address alone, and
// fails where a promise is broken. Times by the clock mean something on an otherwise
// idle machine only, whose load is printed.
//
//	go test ./cmd/knifedesk/ordeal -run '^$' -bench Load -benchtime 1x
func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		s := open(b)
		store := s.store()
		small := caller{s.url, s.key(store, "small", "submit", "read"), &http.Client{}}
		other := caller{s.url, s.key(store, "other", "submit", "read"), &http.Client{}}
		s.serveAll()
		small.url, other.url = s.url, s.url
		l := &load{b: b, ctx: b.Context(), s: s, small: small, other: other}
		l.plan(card(300, 0)) // it is up
		text, _ := os.ReadFile("/proc/loadavg")
		fmt.Printf("load of the machine before: %s", text)
		l.costs()
		l.delays()
	}
}

type load struct {
	b            *testing.B
	ctx          context.Context
	s            *service
	small, other caller
	number       atomic.Int64 // of the last drawing
}

// serveAll has one process with an API and workers running.
func (s *service) serveAll() {
	s.url = "http://" + freeAddress(s.t)
	s.watch("all", "--role=all", "--listen="+s.url[len("http://"):], "--workers=2", "--requests=-1")
}

// plan makes a plan of a drawing and returns how long that took.
func (l *load) plan(d drawing) time.Duration {
	l.b.Helper()
	began := time.Now()
	p, err := l.small.submit(l.ctx, d, "", true)
	for err == nil && !p.settled() {
		p, err = l.small.settle(l.ctx, p.ID)
	}
	if err != nil || p.Status != "ready" {
		l.b.Fatalf("%s, %v", p.Status, err)
	}
	return time.Since(began)
}

// fresh is a drawing that the service has never seen.
func (l *load) fresh(segments int) drawing { return card(segments, int(l.number.Add(1))) }

// costs measures fresh plans beside the same in process, in turns, and equal ones.
func (l *load) costs() {
	m := cost.NewMeter(l.b, l.s.pids()...)
	m.Rest(3 * time.Second)
	fmt.Printf("idle: %.1f ms of processor time a second\n", 1000*m.Idle)
	var last drawing
	var mixed, mixedAlone float64 // of all sizes together
	for _, size := range []struct{ segments, n int }{{6000, max(*loadFresh/10, 1)}, {300, *loadFresh}} {
		segments, n := size.segments, size.n
		var here time.Duration
		service := m.Of(n, func(int) {
			last = l.fresh(segments)
			l.plan(last)
			before := cost.Spent()
			last.inProcess(l.b)
			here += cost.Spent() - before
		})
		alone := here.Seconds() * 1000 / float64(n)
		mixed, mixedAlone = mixed+service*float64(n), mixedAlone+alone*float64(n)
		l.hold(service/alone, mostRatio, fmt.Sprintf("%d fresh plans of %d segments: %.1f ms, in process %.1f ms, ratio", n, segments, service, alone))
	}
	l.hold(mixed/mixedAlone, mostRatio, fmt.Sprintf("all of them: %.1f s, in process %.1f s, ratio", mixed/1000, mixedAlone/1000))
	l.hold(m.Of(*loadRepeats, func(int) { l.plan(last) }), mostRepeat, fmt.Sprintf("%d equal plans, ms", *loadRepeats))
}

// hold says what was measured, and fails where it is more than was promised.
func (l *load) hold(got, most float64, what string) {
	l.b.Helper()
	fmt.Printf("%s: %.2f, at most %.2f\n", what, got, most)
	if got > most {
		l.b.Errorf("%s: %.2f, at most %.2f", what, got, most)
	}
}

// delays times small plans idle, and again while another client waits for heavy plans,
// has class sets worked out and reads event streams, for which it watches the memory too.
func (l *load) delays() {
	idle := l.p95(*loadSmall, 0)
	ctx, stop := context.WithCancel(l.ctx)
	defer stop()
	var all sync.WaitGroup
	var made, streamed, taught atomic.Int64
	current := make([]atomic.Pointer[string], *loadHeavy)
	for n := range current {
		all.Go(func() {
			for ctx.Err() == nil {
				p, err := l.other.submit(ctx, l.fresh(12_000), "", false)
				if err != nil {
					continue
				}
				current[n].Store(&p.ID)
				if _, err := l.other.settle(ctx, p.ID); err == nil {
					made.Add(1)
				}
			}
		})
	}
	for n := range *loadStreams {
		all.Go(func() {
			for ctx.Err() == nil {
				if id := current[n%len(current)].Load(); id != nil {
					if _, _, err := l.other.try(ctx, request{method: "GET", path: "/v1/plans/" + *id + "/events"}); err == nil {
						streamed.Add(1)
					}
				}
				time.Sleep(50 * time.Millisecond)
			}
		})
	}
	for range *loadSets {
		all.Go(func() {
			for ctx.Err() == nil {
				members := make([]drawing, *loadMembers)
				for i := range members {
					members[i] = tag(int(l.number.Add(1)))
				}
				set, err := l.other.course(ctx, "", false, members...)
				switch {
				case ctx.Err() != nil:
				case err != nil || len(set.Members) != *loadMembers || len(set.Loads) == 0:
					l.b.Errorf("a class set with %d members on %d loads, %v", len(set.Members), len(set.Loads), err)
				default:
					taught.Add(1)
				}
			}
		})
	}
	time.Sleep(3 * time.Second)
	var memory []float64
	watched := make(chan struct{})
	go func() {
		defer close(watched)
		for ctx.Err() == nil {
			memory = append(memory, l.s.resident())
			time.Sleep(200 * time.Millisecond)
		}
	}()
	loaded := l.p95(*loadSmall, *loadSoak)
	stop()
	<-watched
	all.Wait()
	third := len(memory) / 3
	before, after := slices.Max(memory[third:2*third]), slices.Max(memory[2*third:])
	fmt.Printf("meanwhile %d heavy plans and %d class sets of %d of another client were made, and %d streams read to their end\n", made.Load(), taught.Load(), *loadMembers, streamed.Load())
	if made.Load() == 0 || taught.Load() == 0 && *loadSets > 0 || streamed.Load() == 0 {
		l.b.Error("there was nothing of some kind beside the small plans")
	}
	l.hold(loaded.Seconds()/idle.Seconds(), mostDelay, fmt.Sprintf("p95 of a small plan: idle %v, with %d waiting for heavy plans, %d class sets and %d streams %v, ratio", idle, *loadHeavy, *loadSets, *loadStreams, loaded))
	l.hold(after/before, mostGrowing, fmt.Sprintf("memory in the second third %.0f MB, in the last %.0f MB, ratio", before, after))
}

// p95 times n small plans, and further ones until the time is over.
func (l *load) p95(n int, atLeast time.Duration) time.Duration {
	var took []time.Duration
	for began := time.Now(); len(took) < n || time.Since(began) < atLeast; {
		took = append(took, l.plan(l.fresh(300)))
	}
	slices.Sort(took)
	return took[len(took)*95/100].Round(time.Millisecond)
}

// pids are the processes that run, and the Postgres.
func (s *service) pids() (all []int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, cmd := range s.running {
		all = append(all, cmd.Process.Pid)
	}
	return append(all, s.postmaster())
}

// resident is the memory of the processes that run, in MB.
func (s *service) resident() (mb float64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, cmd := range s.running {
		var size, pages int
		text, err := os.ReadFile(filepath.Join("/proc", fmt.Sprint(cmd.Process.Pid), "statm"))
		if _, scanErr := fmt.Sscan(string(text), &size, &pages); err == nil && scanErr == nil {
			mb += float64(pages*os.Getpagesize()) / (1 << 20)
		}
	}
	return mb
}
