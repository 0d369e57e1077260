package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/jobs/queue"
)

// serveConfig is how a service runs. Flags win over the environment.
type serveConfig struct {
	listen   string
	role     string // all, api or worker
	database string // empty: a private Postgres
	data     string // folder of the private Postgres
	workers  int    // jobs of each queue at a time
	requests int    // of one address in a minute; below 0: any number
}

func (c serveConfig) check() error {
	switch c.role {
	case "all", "api", "worker":
	default:
		return fmt.Errorf("--role is %q; it takes all, api or worker", c.role)
	}
	if c.role != "all" && c.database == "" {
		return errors.New("--role=api and --role=worker share a database: set DATABASE_URL")
	}
	if c.database == "" && c.data == "" {
		return errors.New("--data is empty; name the folder of the private Postgres, or set DATABASE_URL")
	}
	if c.workers < 1 || c.workers > 64 {
		return fmt.Errorf("--workers is %d; it takes 1 to 64", c.workers)
	}
	if c.requests == 0 {
		return errors.New("--requests is 0; it takes 1 or more, or -1 for any number")
	}
	host, _, err := net.SplitHostPort(c.listen)
	if err != nil {
		return fmt.Errorf("--listen is %q; write host:port, such as 127.0.0.1:8080", c.listen)
	}
	if ip := net.ParseIP(host); c.database == "" && host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("--listen is %q: with a private database the service has no keys and stays on the loopback interface", c.listen)
	}
	return nil
}

// serve runs the API, the workers or both until ctx ends.
func serve(ctx context.Context, args []string, getenv func(string) string, stdout, stderr io.Writer) error {
	cfg := serveConfig{database: getenv("DATABASE_URL")}
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.StringVar(&cfg.listen, "listen", "127.0.0.1:8080", "address to listen on")
	flags.StringVar(&cfg.role, "role", "all", "all, api or worker")
	flags.StringVar(&cfg.data, "data", dataFolder(getenv), "folder of the private Postgres, used without DATABASE_URL")
	flags.IntVar(&cfg.workers, "workers", 2, "jobs of each queue at a time")
	flags.IntVar(&cfg.requests, "requests", 3000, "requests that one address may send in a minute; -1: any number")
	if err := parse(flags, args, "serve [flags]", 0, stdout); err != nil {
		return err
	}
	if err := cfg.check(); err != nil {
		return usageError(err.Error())
	}
	log := slog.New(slog.NewJSONHandler(stderr, nil))
	s, err := start(ctx, cfg, log)
	if err != nil {
		return err
	}
	if s.url != "" {
		fmt.Fprintf(stdout, "knifedesk serves %s (form at /, reference at /docs)\n", s.url)
	} else {
		fmt.Fprintln(stdout, "knifedesk works on the queue")
	}
	select {
	case <-ctx.Done():
	case <-s.lost:
		return errors.Join(errors.New("the private Postgres ended by itself; its server.log in the data folder says why"), s.stop())
	}
	return s.stop()
}

// service is a running service.
type service struct {
	url  string          // empty for workers alone
	lost <-chan struct{} // closed when the private Postgres ended by itself
	stop func() error
}

// start opens the database, starts the queue, and listens.
func start(ctx context.Context, cfg serveConfig, log *slog.Logger) (*service, error) {
	store, err := openDatabase(ctx, cfg.database, cfg.data, log)
	if err != nil {
		return nil, err
	}
	metrics := prometheus.NewRegistry()
	metrics.MustRegister(collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	queue, err := startQueue(ctx, cfg, store.DB, metrics, log)
	if err != nil {
		store.close()
		return nil, err
	}
	s := &service{lost: store.lost}
	stopHTTP := func(context.Context) error { return nil }
	if cfg.role != "worker" {
		if s.url, stopHTTP, err = listen(cfg, store.DB, queue, metrics, log); err != nil {
			err = errors.Join(err, stopQueue(queue))
			store.close()
			return nil, err
		}
	}
	s.stop = func() error {
		ctx, cancel := context.WithTimeout(context.Background(), 15*time.Second)
		defer cancel()
		err := errors.Join(stopHTTP(ctx), stopQueue(queue))
		store.close()
		return err
	}
	return s, nil
}

func startQueue(ctx context.Context, cfg serveConfig, store *db.DB, metrics *prometheus.Registry, log *slog.Logger) (*queue.Queue, error) {
	conf := queue.Config{Log: log, Registry: metrics}
	if cfg.role != "api" {
		conf.Interactive, conf.Batch = cfg.workers, cfg.workers
	}
	queue, err := queue.New(store, queue.Stages(), conf)
	if err != nil {
		return nil, err
	}
	return queue, queue.Start(context.WithoutCancel(ctx))
}

func stopQueue(queue *queue.Queue) error {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	return queue.Stop(ctx)
}

// listen serves the API and returns its address and how to stop it.
func listen(cfg serveConfig, store *db.DB, queue *queue.Queue, metrics *prometheus.Registry, log *slog.Logger) (string, func(context.Context) error, error) {
	closing, closed := context.WithCancel(context.Background())
	handler, err := api.New(api.Config{Store: store, Jobs: queue, Log: log, Metrics: metrics, PerMinute: cfg.requests, Closing: closing})
	if err != nil {
		closed()
		return "", nil, err
	}
	ln, err := net.Listen("tcp", cfg.listen)
	if err != nil {
		closed()
		return "", nil, fmt.Errorf("%w; --listen takes another address", err)
	}
	server := &http.Server{
		Handler: handler, MaxHeaderBytes: 64 << 10, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug),
		ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 2 * time.Minute, WriteTimeout: 4 * time.Minute, IdleTimeout: 2 * time.Minute,
	}
	server.RegisterOnShutdown(closed) // waits and event streams end at once
	go func() {
		if err := server.Serve(ln); !errors.Is(err, http.ErrServerClosed) {
			log.Error("serving ended", "error", err)
		}
	}()
	return "http://" + ln.Addr().String(), server.Shutdown, nil
}
