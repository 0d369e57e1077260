package api

import (
	"context"
	"net"
	"net/http"
	"regexp"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/jobs/queue/trace"
)

// plainID is what a caller's request id may look like, so that it can stand in
// logs and headers.
var plainID = regexp.MustCompile(`^[A-Za-z0-9._-]{1,128}$`)

// identify gives every request an id, the caller's own where that is plain, and
// puts it with the caller's trace into the context for the logs. Headers that
// may come as several lines become one.
func identify(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		for _, name := range []string{"Prefer", "If-Match", "If-None-Match", "Accept"} {
			if lines := r.Header.Values(name); len(lines) > 1 {
				r.Header.Set(name, strings.Join(lines, ", "))
			}
		}
		id := r.Header.Get(echo.HeaderXRequestID)
		if !plainID.MatchString(id) {
			id = uuid.NewString()
		}
		c.Response().Header().Set(echo.HeaderXRequestID, id)
		parent := trace.Read(r.Header.Get("traceparent"))
		c.SetRequest(r.WithContext(withIdentity(trace.With(r.Context(), parent), identity{request: id, trace: parent})))
		return next(c)
	}
}

type headKey struct{}

// headAsGet answers HEAD as GET (RFC 9110, 9.3.2); the server leaves the body
// out. It works on a copy: by the original the server knows that it was HEAD.
func headAsGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead {
			r = r.WithContext(context.WithValue(r.Context(), headKey{}, true))
			r.Method = http.MethodGet
		}
		next.ServeHTTP(w, r)
	})
}

// wantsBody says whether the request came as another one than HEAD.
func wantsBody(r *http.Request) bool { return r.Context().Value(headKey{}) == nil }

// protect sets the headers that keep answers inert in a browser.
func protect(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set(echo.HeaderXContentTypeOptions, "nosniff")
		h.Set(echo.HeaderCacheControl, "no-store")
		h.Set("Content-Security-Policy", "default-src 'self'; style-src 'self' 'unsafe-inline'; script-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; frame-ancestors 'none'")
		return next(c)
	}
}

// onLoopback reports whether the request came in on a loopback address.
func onLoopback(r *http.Request) bool {
	addr, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	tcp, ok := addr.(*net.TCPAddr)
	return ok && tcp.IP.IsLoopback()
}

func namesLoopback(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return strings.EqualFold(host, "localhost") || ip != nil && ip.IsLoopback()
}
