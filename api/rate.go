package api

import (
	"fmt"
	"math"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/time/rate"
)

// limitRate bounds the requests of one address and says in each answer how many
// are left, in the headers of draft-ietf-httpapi-ratelimit-headers-10. Health
// and counters are asked by machines that must not be turned away.
func limitRate(perMinute int) echo.MiddlewareFunc {
	guests := &guests{perMinute: perMinute, buckets: map[netip.Prefix]*rate.Limiter{}}
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			switch c.Request().URL.Path {
			case "/healthz", "/readyz", "/metrics":
				return next(c)
			}
			if perMinute < 0 {
				return next(c)
			}
			ok, left, again := guests.admit(c.RealIP(), time.Now())
			h := c.Response().Header()
			h.Set("RateLimit-Policy", fmt.Sprintf(`"requests";q=%d;w=60`, perMinute))
			h.Set("RateLimit", fmt.Sprintf(`"requests";r=%d;t=%d`, left, int(math.Ceil(again.Seconds()))))
			if !ok {
				return &failure{
					status: http.StatusTooManyRequests, code: "too_many_requests", retry: again,
					detail: fmt.Sprintf("This address sends more than %d requests a minute.", perMinute), change: "Wait as long as Retry-After says; use Prefer: wait or the events of a plan instead of asking again and again.",
				}
			}
			return next(c)
		}
	}
}

// guests holds a bucket of requests for each address.
type guests struct {
	perMinute int

	mu      sync.Mutex
	buckets map[netip.Prefix]*rate.Limiter
}

// mostGuests is how many buckets are kept before full ones are dropped: an
// address without a bucket gets a full one anyway.
const mostGuests = 4096

// admit takes one request from the address's bucket. It returns how many are
// left and how long it takes until there is one more.
func (g *guests) admit(address string, now time.Time) (ok bool, left int, next time.Duration) {
	g.mu.Lock()
	defer g.mu.Unlock()
	b := g.bucket(network(address), now)
	ok = b.AllowN(now, 1)
	tokens := max(b.TokensAt(now), 0)
	missing := 1 - (tokens - math.Floor(tokens))
	return ok, int(tokens), time.Duration(missing * 60 / float64(g.perMinute) * float64(time.Second))
}

func (g *guests) bucket(from netip.Prefix, now time.Time) *rate.Limiter {
	b := g.buckets[from]
	if b != nil {
		return b
	}
	if len(g.buckets) >= mostGuests {
		for other, b := range g.buckets {
			if b.TokensAt(now) >= float64(b.Burst()) {
				delete(g.buckets, other)
			}
		}
	}
	b = rate.NewLimiter(rate.Limit(float64(g.perMinute)/60), g.perMinute)
	g.buckets[from] = b
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
