package api

import (
	"cmp"
	"fmt"
	"math"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
	"golang.org/x/time/rate"
)

// limitRate bounds the requests of one key, of one token or, without them, of one
// address, and says in each answer how many are left, in the headers of draft-ietf-httpapi-ratelimit-headers-10. Health
// and counters are asked by machines that must not be turned away.
func limitRate(perMinute int) echo.MiddlewareFunc {
	guests := &guests{buckets: map[string]*rate.Limiter{}}
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			switch c.Request().URL.Path {
			case "/healthz", "/readyz", "/metrics":
				return next(c)
			}
			who := callerOf(c)
			most := cmp.Or(who.perMinute, perMinute)
			if most < 0 {
				return next(c)
			}
			ok, left, again := guests.admit(countedAs(who, c.RealIP()), most, time.Now())
			h := c.Response().Header()
			h.Set("RateLimit-Policy", fmt.Sprintf(`"requests";q=%d;w=60`, most))
			h.Set("RateLimit", fmt.Sprintf(`"requests";r=%d;t=%d`, left, int(math.Ceil(again.Seconds()))))
			if !ok {
				return tooMany(who, most, again)
			}
			return next(c)
		}
	}
}

func tooMany(who caller, most int, again time.Duration) error {
	return &failure{
		status: http.StatusTooManyRequests, code: "too_many_requests", retry: again,
		detail: fmt.Sprintf("This %s sends more than %d requests a minute.", sender(who), most),
		change: "Wait as long as Retry-After says; use Prefer: wait or the events of a plan instead of asking again and again.",
	}
}

// countedAs names the bucket of a caller.
func countedAs(who caller, address string) string {
	if who.id != uuid.Nil {
		return who.id.String()
	}
	return network(address).String()
}

func sender(who caller) string {
	switch who.means {
	case byKey:
		return "key"
	case byToken, byCapability:
		return "form"
	}
	return "address"
}

// guests holds a bucket of requests for each key, token and address.
type guests struct {
	mu      sync.Mutex
	buckets map[string]*rate.Limiter
}

// mostGuests is how many buckets are kept before full ones are dropped: who
// has no bucket gets a full one anyway.
const mostGuests = 4096

// admit takes one request from a bucket that holds and gets as many as said in a
// minute. It returns how many are left and how long it takes until there is one
// more.
func (g *guests) admit(name string, perMinute int, now time.Time) (ok bool, left int, next time.Duration) {
	g.mu.Lock()
	defer g.mu.Unlock()
	b := g.bucket(name, perMinute, now)
	ok = b.AllowN(now, 1)
	tokens := max(b.TokensAt(now), 0)
	missing := 1 - (tokens - math.Floor(tokens))
	return ok, int(tokens), time.Duration(missing * 60 / float64(perMinute) * float64(time.Second))
}

func (g *guests) bucket(name string, perMinute int, now time.Time) *rate.Limiter {
	b := g.buckets[name]
	if b != nil && b.Burst() == perMinute {
		return b
	}
	if len(g.buckets) >= mostGuests {
		for other, b := range g.buckets {
			if b.TokensAt(now) >= float64(b.Burst()) {
				delete(g.buckets, other)
			}
		}
	}
	b = rate.NewLimiter(rate.Limit(float64(perMinute)/60), perMinute)
	g.buckets[name] = b
	return b
}

// network returns what a caller is counted by: its address, or for IPv6 its /64,
// which one household or hall shares.
func network(address string) netip.Prefix {
	ip, err := netip.ParseAddr(address)
	if err != nil {
		return netip.Prefix{}
	}
	bits := 32
	if ip = ip.Unmap(); ip.Is6() {
		bits = 64
	}
	p, _ := ip.WithZone("").Prefix(bits)
	return p
}
