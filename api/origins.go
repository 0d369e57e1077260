package api

import (
	"net"
	"net/http"
	"net/netip"
	"slices"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
)

// preflightSeconds is how long a browser may keep that it was let through.
const preflightSeconds = 600

// shareWith lets pages of other origins call from a browser, with a token and
// never with anything that the browser holds by itself (Fetch standard, CORS
// protocol). Other origins are answered as ever, and their browsers keep the
// answer from them.
func shareWith(origins []string) echo.MiddlewareFunc {
	return middleware.CORSWithConfig(middleware.CORSConfig{
		Skipper: func(c echo.Context) bool {
			return !slices.Contains(origins, c.Request().Header.Get(echo.HeaderOrigin))
		},
		AllowOrigins: origins,
		AllowMethods: []string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete},
		AllowHeaders: []string{echo.HeaderAuthorization, echo.HeaderContentType, echo.HeaderAccept, "Idempotency-Key", "Prefer", "If-Match", "If-None-Match", "Last-Event-ID", echo.HeaderXRequestID},
		ExposeHeaders: []string{
			echo.HeaderLocation, "ETag", "Preference-Applied", echo.HeaderRetryAfter, "RateLimit", "RateLimit-Policy", capabilityHeader, echo.HeaderXRequestID,
		},
		MaxAge: preflightSeconds,
	})
}

// addresses returns how the address of a caller is found. Its headers do not say
// who it is, unless one of the proxies wrote them.
func addresses(proxies []netip.Prefix) echo.IPExtractor {
	if len(proxies) == 0 {
		return echo.ExtractIPDirect()
	}
	trust := []echo.TrustOption{echo.TrustLoopback(false), echo.TrustLinkLocal(false), echo.TrustPrivateNet(false)}
	for _, p := range proxies {
		trust = append(trust, echo.TrustIPRange(&net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())}))
	}
	return echo.ExtractIPFromXFFHeader(trust...)
}
