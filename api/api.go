package api

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"net/http"
	"runtime"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/db"
	"knifedesk/jobs/queue"
)

// Jobs is what the API asks of the queue.
type Jobs interface {
	// Read returns the first stage's result for a file as JSON.
	Read(ctx context.Context, file []byte) (json.RawMessage, error)
	Submit(ctx context.Context, params queue.SubmitParams) (db.Plan, error)
	Answer(ctx context.Context, client string, id uuid.UUID, replies ...queue.Reply) (db.Plan, error)
	TakeBack(ctx context.Context, client string, id uuid.UUID, question, author string) (db.Plan, error)
	Cancel(ctx context.Context, client string, id uuid.UUID) (db.Plan, error)
	// Wait returns once the plan has settled or ctx has ended.
	Wait(ctx context.Context, client string, id uuid.UUID) (db.Plan, error)
	// Watch gives a token after each change of the plan, until the function is called.
	Watch(id uuid.UUID) (<-chan struct{}, func())
}

// Config says what the API stands on. The zero value of a limit is its default.
type Config struct {
	Store    *db.DB
	Jobs     Jobs
	Log      *slog.Logger
	Metrics  *prometheus.Registry
	MaxBytes int64 // of a request's body, 64 MB
	// PerMinute is how many requests one address may send in a minute, all at
	// once or spread, 3000; below 0: as many as it likes.
	PerMinute int
	// Drawing is how many pictures, files and drawings are made or read at a
	// time, one a processor and 2 at least; others wait for their turn.
	Drawing int
	// Closing ends waits and event streams, so that the server can stop; nil:
	// they end by themselves only.
	Closing context.Context
}

func (c Config) withDefaults() Config {
	if c.MaxBytes == 0 {
		c.MaxBytes = 64 << 20
	}
	if c.PerMinute == 0 {
		c.PerMinute = 3000
	}
	if c.Drawing == 0 {
		c.Drawing = max(2, runtime.GOMAXPROCS(0))
	}
	if c.Closing == nil {
		c.Closing = context.Background()
	}
	c.Log = slog.New(requestLog{c.Log.Handler()})
	return c
}

// API answers the requests of the specification.
type API struct {
	store   *db.DB
	jobs    Jobs
	log     *slog.Logger
	metrics *prometheus.Registry
	spec    *openapi3.T
	turns   turns
	closing context.Context
}

var _ ServerInterface = (*API)(nil)

// New returns the handler of the whole API.
func New(cfg Config) (http.Handler, error) {
	cfg = cfg.withDefaults()
	spec, err := Spec()
	if err != nil {
		return nil, err
	}
	check, err := checkRequests(spec)
	if err != nil {
		return nil, err
	}
	measure, err := measureRequests(cfg.Metrics)
	if err != nil {
		return nil, err
	}
	a := &API{
		store: cfg.Store, jobs: cfg.Jobs, log: cfg.Log, metrics: cfg.Metrics, spec: spec,
		turns: newTurns(cfg.Drawing), closing: cfg.Closing,
	}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = echo.ExtractIPDirect() // headers of a client do not say who it is
	e.HTTPErrorHandler = writeProblem(cfg.Log)
	e.Pre(identify)
	e.Use(
		logRequests(cfg.Log), measure, recoverPanics(cfg.Log), protect,
		limitRate(cfg.PerMinute), limitBody(cfg.MaxBytes), check, a.once,
	)
	RegisterHandlers(e, a)
	e.GET("/docs/*", a.GetDocs)
	e.GET("/", a.page)
	return headAsGet(e), nil
}

// clientOf names whose things a request may see. Without keys there is one
// client on the loopback interface.
func clientOf(echo.Context) string { return "local" }

func recoverPanics(log *slog.Logger) echo.MiddlewareFunc {
	return middleware.RecoverWithConfig(middleware.RecoverConfig{LogErrorFunc: func(c echo.Context, err error, stack []byte) error {
		log.ErrorContext(c.Request().Context(), "handler panicked", "error", err, "stack", string(stack))
		return errors.New("panic")
	}})
}

// lacking turns "not found" of the store into a 404 that names the thing.
func lacking(err error, what string) error {
	if errors.Is(err, db.ErrNotFound) {
		return notFound(what)
	}
	return err
}
