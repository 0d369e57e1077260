package api

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/prometheus/client_golang/prometheus"
)

// Bound is how many of something there may be at a time, of one client and of all
// together. Its text is CLIENT/ALL, such as 100/500.
type Bound struct{ Client, All int }

// DefaultWaiting bounds the requests that are held open until a plan settles. No
// source for it or the next two: some classes of 30 at once, with several pages each.
func DefaultWaiting() Bound { return Bound{100, 500} }

// DefaultStreams bounds the event streams that are open.
func DefaultStreams() Bound { return Bound{1000, 2000} }

// DefaultQueued bounds the plans that are queued or worked on.
func DefaultQueued() Bound { return Bound{1000, 5000} }

// String returns the text of the bound.
func (b Bound) String() string { return fmt.Sprintf("%d/%d", b.Client, b.All) }

// MarshalText returns the text of the bound.
func (b Bound) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// UnmarshalText reads the text of a bound, of two numbers from 1 on.
func (b *Bound) UnmarshalText(text []byte) error {
	client, all, _ := strings.Cut(string(text), "/")
	one, errOne := strconv.Atoi(client)
	both, errBoth := strconv.Atoi(all)
	if errOne != nil || errBoth != nil || one < 1 || both < one {
		return fmt.Errorf("%q is no bound; write two numbers, of one client and of all together, such as %s", text, DefaultWaiting())
	}
	*b = Bound{one, both}
	return nil
}

// or returns b, or the default where nothing was said.
func (b Bound) or(other Bound) Bound {
	if b == (Bound{}) {
		return other
	}
	return b
}

// refuses says whether one more would be too many where a client has some of all.
func (b Bound) refuses(client, all int) bool { return client >= b.Client || all >= b.All }

// seats counts what is open at a time, and refuses what would be too much.
type seats struct {
	most  Bound
	code  string        // of the refusal
	what  string        // is counted, in the words of the refusal
	again time.Duration // after which it is worth to come again

	mu     sync.Mutex
	taken  map[string]int // by client
	all    int
	opened prometheus.Gauge
}

// newSeats counts for a gauge of the name, too.
func newSeats(s *seats, name, help string, to prometheus.Registerer) (*seats, error) {
	s.taken = map[string]int{}
	s.opened = prometheus.NewGauge(prometheus.GaugeOpts{Namespace: "knifedesk", Name: name, Help: help})
	return s, to.Register(s.opened)
}

// take counts one more of a client. What it returns is called once, at the end.
func (s *seats) take(client string) (leave func(), err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.most.refuses(s.taken[client], s.all) {
		return nil, crowded(s.code, s.what, s.most, s.taken[client], s.again)
	}
	s.count(client, 1)
	return func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.count(client, -1)
	}, nil
}

// count keeps no client who has nothing open.
func (s *seats) count(client string, by int) {
	s.all += by
	if s.taken[client] += by; s.taken[client] == 0 {
		delete(s.taken, client)
	}
	s.opened.Set(float64(s.all))
}

// crowded says that a client or all together have as many of something as they may.
func crowded(code, what string, most Bound, client int, again time.Duration) error {
	detail := fmt.Sprintf("All clients together have %d %s, which is as many as this service takes.", most.All, what)
	if client >= most.Client {
		detail = fmt.Sprintf("This client has %d %s, which is as many as one may have.", most.Client, what)
	}
	return &failure{
		status: http.StatusTooManyRequests, code: code, retry: again, detail: detail,
		change: "Come again when some of them have ended, at the earliest after Retry-After.",
	}
}
