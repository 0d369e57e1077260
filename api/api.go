package api

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"net"
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo-contrib/echoprometheus"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/db"
	"knifedesk/jobs"
)

// Jobs is what the API asks of the queue.
type Jobs interface {
	// Read returns the first stage's result for a file as JSON.
	Read(ctx context.Context, file []byte) (json.RawMessage, error)
	Submit(ctx context.Context, params jobs.SubmitParams) (db.Plan, error)
	Answer(ctx context.Context, client string, id uuid.UUID, replies ...jobs.Reply) (db.Plan, error)
	TakeBack(ctx context.Context, client string, id uuid.UUID, question, author string) (db.Plan, error)
	Cancel(ctx context.Context, client string, id uuid.UUID) (db.Plan, error)
	// Wait returns once the plan has settled or ctx has ended.
	Wait(ctx context.Context, client string, id uuid.UUID) (db.Plan, error)
}

// Config says what the API stands on.
type Config struct {
	Store    *db.DB
	Jobs     Jobs
	Log      *slog.Logger
	Metrics  *prometheus.Registry
	MaxBytes int64 // of a request's body; 0: DefaultMaxBytes
}

// DefaultMaxBytes bounds a request's body.
const DefaultMaxBytes = 64 << 20

// API answers the requests of the specification.
type API struct {
	store   *db.DB
	jobs    Jobs
	log     *slog.Logger
	metrics *prometheus.Registry
}

var _ ServerInterface = (*API)(nil)

// New returns the handler of the whole API.
func New(cfg Config) (*echo.Echo, error) {
	spec, err := Spec()
	if err != nil {
		return nil, err
	}
	check, err := checkRequests(spec)
	if err != nil {
		return nil, err
	}
	a := &API{store: cfg.Store, jobs: cfg.Jobs, log: cfg.Log, metrics: cfg.Metrics}
	limit := cfg.MaxBytes
	if limit == 0 {
		limit = DefaultMaxBytes
	}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = echo.ExtractIPDirect() // headers of a client do not say who it is
	e.HTTPErrorHandler = writeProblem(cfg.Log)
	e.Use(
		middleware.RequestIDWithConfig(middleware.RequestIDConfig{Generator: uuid.NewString}),
		logRequests(cfg.Log),
		echoprometheus.NewMiddlewareWithConfig(echoprometheus.MiddlewareConfig{Subsystem: "knifedesk", Registerer: cfg.Metrics}),
		middleware.RecoverWithConfig(middleware.RecoverConfig{LogErrorFunc: func(c echo.Context, err error, stack []byte) error {
			cfg.Log.Error("handler panicked", "error", err, "stack", string(stack), "request_id", requestID(c))
			return errors.New("panic")
		}}),
		protect,
		limitBody(limit),
		check,
		a.once,
	)
	RegisterHandlers(e, a)
	e.GET("/docs/*", a.GetDocs)
	e.GET("/", a.page)
	return e, nil
}

// clientOf names whose things a request may see. Without keys there is one
// client on the loopback interface.
func clientOf(echo.Context) string { return "local" }

// limitBody makes reading past the limit an *http.MaxBytesError.
func limitBody(limit int64) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			c.Request().Body = http.MaxBytesReader(c.Response().Writer, c.Request().Body, limit)
			return next(c)
		}
	}
}

// protect sets the headers that keep answers inert in a browser, and refuses
// requests for another host's name, by which a page elsewhere could reach a
// service on the loopback interface.
func protect(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set(echo.HeaderXContentTypeOptions, "nosniff")
		h.Set("Content-Security-Policy", "default-src 'self'; style-src 'self' 'unsafe-inline'; script-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; frame-ancestors 'none'")
		if onLoopback(c.Request()) && !namesLoopback(c.Request().Host) {
			return &failure{status: http.StatusMisdirectedRequest, code: "wrong_host", detail: "This service answers for its own address only.", change: "Use the address that the service printed when it started."}
		}
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
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

func logRequests(log *slog.Logger) echo.MiddlewareFunc {
	return middleware.RequestLoggerWithConfig(middleware.RequestLoggerConfig{
		LogStatus: true, LogMethod: true, LogURIPath: true, LogLatency: true, LogRequestID: true, HandleError: true,
		LogValuesFunc: func(c echo.Context, v middleware.RequestLoggerValues) error {
			log.InfoContext(c.Request().Context(), "request", "method", v.Method, "path", v.URIPath, "status", v.Status,
				"ms", v.Latency.Milliseconds(), "request_id", v.RequestID)
			return nil
		},
	})
}

// lacking turns "not found" of the store into a 404 that names the thing.
func lacking(err error, what string) error {
	if errors.Is(err, db.ErrNotFound) {
		return notFound(what)
	}
	return err
}
