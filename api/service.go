package api

import (
	"net/http"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus/promhttp"
	"github.com/swaggest/swgui/v5emb"
)

// GetHealth answers GET /healthz.
func (a *API) GetHealth(c echo.Context) error {
	return c.JSON(http.StatusOK, Health{Status: Ok})
}

// GetReadiness answers GET /readyz.
func (a *API) GetReadiness(c echo.Context) error {
	if err := a.store.Pool.Ping(c.Request().Context()); err != nil {
		a.log.WarnContext(c.Request().Context(), "database does not answer", "error", err)
		return &failure{status: http.StatusServiceUnavailable, code: "database_unreachable", detail: "The database does not answer.", change: "Try again in a moment."}
	}
	return c.JSON(http.StatusOK, Health{Status: Ok})
}

// GetMetrics answers GET /metrics.
func (a *API) GetMetrics(c echo.Context) error {
	promhttp.HandlerFor(a.metrics, promhttp.HandlerOpts{}).ServeHTTP(c.Response(), c.Request())
	return nil
}

// GetSpecification answers GET /openapi.yaml.
func (a *API) GetSpecification(c echo.Context) error {
	return sendCached(c, "application/yaml", specText)
}

// GetDocs answers GET /docs with a page whose parts come from this service.
func (a *API) GetDocs(c echo.Context) error {
	w := &found{ResponseWriter: c.Response()}
	v5emb.New("knifedesk", "/openapi.yaml", "/docs").ServeHTTP(w, c.Request())
	if w.missed {
		return echo.ErrNotFound
	}
	return nil
}

// found keeps the text of a 404 back, which is to be a problem like all others.
type found struct {
	http.ResponseWriter
	missed bool
}

// WriteHeader passes all but a 404 on.
func (f *found) WriteHeader(status int) {
	if f.missed = status == http.StatusNotFound; !f.missed {
		f.ResponseWriter.WriteHeader(status)
	}
}

// Write passes all on but what belongs to a 404.
func (f *found) Write(b []byte) (int, error) {
	if f.missed {
		return len(b), nil
	}
	return f.ResponseWriter.Write(b)
}
