package api

import (
	"log/slog"
	"net/http"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/promhttp"
	"github.com/swaggest/swgui/v5emb"

	"knifedesk/db"
)

// service answers what is asked of the service itself.
type service struct {
	store   *db.DB
	log     *slog.Logger
	metrics http.Handler
	docs    http.Handler
	spec    content
}

func newService(store *db.DB, log *slog.Logger, metrics *prometheus.Registry) service {
	return service{
		store: store, log: log, metrics: promhttp.HandlerFor(metrics, promhttp.HandlerOpts{}),
		docs: v5emb.New("knifedesk", "/openapi.yaml", "/docs"),
		spec: newContent("application/yaml", specText),
	}
}

// GetHealth answers GET /healthz.
func (s service) GetHealth(c echo.Context) error {
	return c.JSON(http.StatusOK, Health{Status: HealthStatusOk})
}

// GetReadiness answers GET /readyz.
func (s service) GetReadiness(c echo.Context) error {
	if err := s.store.Pool.Ping(c.Request().Context()); err != nil {
		s.log.WarnContext(c.Request().Context(), "database does not answer", "error", err)
		return &failure{status: http.StatusServiceUnavailable, code: "database_unreachable", detail: "The database does not answer.", change: "Try again in a moment."}
	}
	return c.JSON(http.StatusOK, Health{Status: HealthStatusOk})
}

// GetMetrics answers GET /metrics.
func (s service) GetMetrics(c echo.Context) error {
	s.metrics.ServeHTTP(c.Response(), c.Request())
	return nil
}

// GetSpecification answers GET /openapi.yaml.
func (s service) GetSpecification(c echo.Context) error {
	return send(c, s.spec)
}

// GetDocs answers GET /docs with a page whose parts come from this service.
func (s service) GetDocs(c echo.Context) error {
	w := &found{ResponseWriter: c.Response()}
	s.docs.ServeHTTP(w, c.Request())
	if w.missed {
		return echo.ErrNotFound
	}
	return nil
}

// found holds the text of a 404 back, as the answer is to be a problem like all
// others.
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
