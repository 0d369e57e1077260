package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/queue"
)

// listener is the API being served.
type listener struct {
	open   net.Listener
	server *http.Server
	failed chan error // receives why the serving ended, unless it was stopped
}

// listen serves the API, or of a worker what its operators ask.
func listen(cfg serveConfig, list *jobs.List, store *db.DB, queue *queue.Queue, metrics *prometheus.Registry, log *slog.Logger) (*listener, error) {
	origins, err := readOrigins(cfg.origins)
	if err != nil {
		return nil, err
	}
	proxies, err := readProxies(cfg.proxies)
	if err != nil {
		return nil, err
	}
	closing, closed := context.WithCancel(context.Background())
	handler, err := api.New(api.Config{
		Store: store, Jobs: queue, List: list, Log: log, Metrics: metrics, Closing: closing,
		PerMinute: cfg.requests, Keyless: cfg.keyless(), Origins: origins, Proxies: proxies,
		Waiting: cfg.waiting, Streams: cfg.streams, Queued: cfg.queued, Webhooks: cfg.webhooks(),
	})
	if err != nil {
		closed()
		return nil, err
	}
	if cfg.role == "worker" {
		handler = ofWorker(handler)
	}
	l := &listener{failed: make(chan error, 1), server: &http.Server{
		Handler: handler, MaxHeaderBytes: 64 << 10, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug),
		ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 2 * time.Minute, WriteTimeout: 4 * time.Minute, IdleTimeout: 2 * time.Minute,
	}}
	if l.open, err = net.Listen("tcp", cfg.listen); err != nil {
		closed()
		return nil, fmt.Errorf("%w; --listen takes another address", err)
	}
	l.server.RegisterOnShutdown(closed) // waits and event streams end at once
	go func() {
		if err := l.server.Serve(l.open); !errors.Is(err, http.ErrServerClosed) {
			l.failed <- err
		}
	}()
	return l, nil
}

// ofWorker keeps of the API what is asked of a process and not of the service. Who
// may ask is as it is there.
func ofWorker(api http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/metrics", "/healthz", "/readyz":
			api.ServeHTTP(w, r)
		default:
			http.NotFound(w, r)
		}
	})
}
