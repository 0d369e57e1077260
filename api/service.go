package api

import (
	"context"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/promhttp"
	"github.com/swaggest/swgui/v5emb"

	"knifedesk/api/docs"
	"knifedesk/db"
)

// service answers what is asked of the service itself.
type service struct {
	store   *db.DB
	jobs    Jobs
	log     *slog.Logger
	metrics http.Handler
	spec    content

	pages     docs.Pages
	reference http.Handler
}

func newService(store *db.DB, jobs Jobs, log *slog.Logger, metrics *prometheus.Registry) (service, error) {
	pages, err := docs.New()
	return service{
		store: store, jobs: jobs, log: log, metrics: promhttp.HandlerFor(metrics, promhttp.HandlerOpts{}), spec: newContent("application/yaml", specText),
		pages: pages, reference: v5emb.New("knifedesk", "/openapi.yaml", referencePath),
	}, err
}

// GetHealth answers GET /healthz.
func (s service) GetHealth(c echo.Context) error {
	return c.JSON(http.StatusOK, Health{Status: HealthStatusOk})
}

// readyWithin is how long the database may take to say that it is there.
const readyWithin = 2 * time.Second

// GetReadiness answers GET /readyz. Without a worker it is ready all the same: it
// takes plans in, and they wait.
func (s service) GetReadiness(c echo.Context) error {
	ctx, cancel := context.WithTimeout(c.Request().Context(), readyWithin)
	defer cancel()
	now, err := s.store.Standing(ctx)
	if err != nil {
		s.log.WarnContext(ctx, "database does not answer", "error", err)
		return unreachable()
	}
	known, err := db.Schema()
	if err != nil {
		return err
	}
	if now.Schema < known {
		return &failure{
			status: http.StatusServiceUnavailable, code: "schema_behind", detail: "The database is older than this program, as after a copy was put back.",
			change: "Run knifedesk migrate on it, or start the program again.",
		}
	}
	return c.JSON(http.StatusOK, Readiness{Status: ReadinessStatusOk, Schema: now.Schema, Workers: now.Workers})
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

// referencePath is where the specification is shown as a page.
const referencePath = "/docs/reference"

// GetDocs answers GET /docs and what lies below it: our pages, and the reference,
// whose parts come from this service too.
func (s service) GetDocs(c echo.Context) error {
	name := strings.TrimPrefix(strings.TrimPrefix(c.Request().URL.Path, "/docs"), "/")
	if page, ours := s.pages[name]; ours {
		c.Response().Header().Set(echo.HeaderContentSecurityPolicy, docs.Policy)
		return send(c, newContent(page.Kind, page.Body))
	}
	w := &found{ResponseWriter: c.Response()}
	s.reference.ServeHTTP(w, c.Request())
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
