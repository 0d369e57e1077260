package api

import (
	"context"
	"log/slog"
	"net/http"
	"strings"

	"github.com/labstack/echo-contrib/echoprometheus"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/jobs/queue/trace"
)

// identity is what a request is found by in the logs.
type identity struct {
	request string
	trace   trace.Parent
}

type identityKey struct{}

func withIdentity(ctx context.Context, id identity) context.Context {
	return context.WithValue(ctx, identityKey{}, id)
}

// requestLog adds to each line the id and the trace of its request.
type requestLog struct{ slog.Handler }

// Handle writes the record with the request's id and trace.
func (h requestLog) Handle(ctx context.Context, r slog.Record) error {
	if id, ok := ctx.Value(identityKey{}).(identity); ok {
		r = r.Clone()
		r.AddAttrs(slog.String("request_id", id.request))
		r.Add(id.trace.Attrs()...)
	}
	return h.Handler.Handle(ctx, r)
}

// WithAttrs keeps the ids on the loggers made of this one.
func (h requestLog) WithAttrs(attrs []slog.Attr) slog.Handler {
	return requestLog{h.Handler.WithAttrs(attrs)}
}

// WithGroup keeps the ids on the loggers made of this one.
func (h requestLog) WithGroup(name string) slog.Handler { return requestLog{h.Handler.WithGroup(name)} }

func logRequests(log *slog.Logger) echo.MiddlewareFunc {
	return middleware.RequestLoggerWithConfig(middleware.RequestLoggerConfig{
		LogStatus: true, LogMethod: true, LogURIPath: true, LogLatency: true, HandleError: true,
		LogValuesFunc: func(c echo.Context, v middleware.RequestLoggerValues) error {
			attrs := []any{"method", v.Method, "path", v.URIPath, "status", v.Status, "ms", v.Latency.Milliseconds()}
			if made := c.Response().Header().Get(echo.HeaderLocation); made != "" && !strings.HasPrefix(v.URIPath, made) {
				attrs = append(attrs, "made", made)
			}
			log.InfoContext(c.Request().Context(), "request", attrs...)
			return nil
		},
	})
}

// measureRequests counts requests by route. Nothing that a caller is free to
// choose becomes a label, so that the counters stay few. The second counts what is
// refused, by code.
func measureRequests(to prometheus.Registerer) (echo.MiddlewareFunc, *prometheus.CounterVec, error) {
	refused := prometheus.NewCounterVec(prometheus.CounterOpts{
		Namespace: "knifedesk", Name: "refused_requests_total", Help: "Requests that were answered with a problem, by its code."}, []string{"code"})
	if err := to.Register(refused); err != nil {
		return nil, nil, err
	}
	measure, err := echoprometheus.MiddlewareConfig{
		Subsystem: "knifedesk", Registerer: to, DoNotUseRequestPathFor404: true,
		LabelFuncs: map[string]echoprometheus.LabelValueFunc{
			"host": func(echo.Context, error) string { return "" },
			"method": func(c echo.Context, _ error) string {
				switch m := c.Request().Method; m {
				case http.MethodGet, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete:
					return m
				}
				return "other"
			},
		},
	}.ToMiddleware()
	return measure, refused, err
}
