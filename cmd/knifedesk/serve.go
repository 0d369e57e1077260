package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"runtime/debug"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/queue"
)

// heapGrowth is by how many per cent the memory may grow between two collections,
// unless GOGC says otherwise. A service holds little between plans, so that the
// usual 100 would have it collect several times a plan.
const heapGrowth = 300

// besides is what a service holds apart from the drawings being worked on, in
// MB: bodies of requests, pictures that are kept, and the program itself. Near
// the sum of both, rubbish is collected sooner than heapGrowth has it.
const besides = 512

// serve runs the API, the workers or both until ctx ends.
func serve(ctx context.Context, args []string, getenv func(string) string, stdout, stderr io.Writer) error {
	cfg := serveConfig{database: getenv("DATABASE_URL")}
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	flags.StringVar(&cfg.listen, "listen", "", "address to listen on, 127.0.0.1:8080 where none is given; a worker listens only where one is, for /metrics, /healthz and /readyz")
	flags.StringVar(&cfg.role, "role", "all", "all, api or worker")
	dataFlag(flags, &cfg.data, getenv)
	erasedFlag(flags, &cfg.erased)
	flags.IntVar(&cfg.workers, "workers", 2, "jobs of each queue at a time")
	flags.IntVar(&cfg.memory, "memory", queue.DefaultMemory>>20, "MB that the drawings being worked on may need together; further ones wait")
	flags.IntVar(&cfg.requests, "requests", 3000, "requests that one key or, without one, one address may send in a minute; -1: any number")
	flags.BoolVar(&cfg.private, "webhooks-private", false, "webhooks may reach private and loopback addresses; of several processes each has to be told")
	flags.IntVar(&cfg.keepDays, "keep-days", 0, "days after which plans that are settled, and drawings, are erased once nothing changes of them; 0: never")
	flags.StringVar(&cfg.origins, "origins", "", "sites whose pages may call from a browser, such as https://form.example.org, with commas between")
	flags.StringVar(&cfg.proxies, "proxies", "", "networks of proxies whose X-Forwarded-For says who calls, such as 10.0.0.0/8, with commas between")
	boundFlags(flags, &cfg)
	if err := fromEnvironment(flags, getenv); err != nil {
		return err
	}
	if err := parse(flags, args, "serve [flags]", 0, stdout); err != nil {
		return err
	}
	if cfg.listen == "" && cfg.role != "worker" {
		cfg.listen = "127.0.0.1:8080"
	}
	cfg.erased = erasedFile(cfg.erased, cfg.database, cfg.data)
	if err := cfg.check(); err != nil {
		return usageError(err.Error())
	}
	if getenv("GOGC") == "" {
		debug.SetGCPercent(heapGrowth)
	}
	if getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(int64(cfg.memory+besides) << 20)
	}
	log := slog.New(slog.NewJSONHandler(stderr, nil))
	store, err := openDatabase(ctx, cfg.database, cfg.data, log)
	if err != nil {
		return err
	}
	s, err := start(ctx, cfg, store, log)
	if err != nil {
		return err
	}
	switch {
	case cfg.role != "worker":
		fmt.Fprintf(stdout, "knifedesk serves %s (form at /, how to use it at /docs)\n", s.url)
	case s.url != "":
		fmt.Fprintf(stdout, "knifedesk works on the queue (%s/metrics, /healthz, /readyz)\n", s.url)
	default:
		fmt.Fprintln(stdout, "knifedesk works on the queue")
	}
	return errors.Join(s.wait(ctx), s.stop())
}

// service is a running service.
type service struct {
	url      string          // empty where it does not listen
	listener *listener       // nil where it does not
	lost     <-chan struct{} // closed when the private Postgres ended by itself
	stop     func() error
}

// start starts the queue on the store, and listens. The store is closed when
// the service stops, and where it cannot start.
func start(ctx context.Context, cfg serveConfig, store *database, log *slog.Logger) (*service, error) {
	metrics := prometheus.NewRegistry()
	metrics.MustRegister(collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	if err := warnOfEmpty(ctx, store.DB, log); err != nil {
		store.close()
		return nil, err
	}
	if err := cfg.checkKeys(ctx, store.DB); err != nil {
		store.close()
		return nil, err
	}
	list := jobs.NewList()
	queue, err := startQueue(ctx, cfg, list, store.DB, metrics, log)
	if err != nil {
		store.close()
		return nil, err
	}
	kept, err := keepErasures(ctx, cfg.erased, store.DB, queue, log)
	if err != nil {
		err = errors.Join(err, stopQueue(queue))
		store.close()
		return nil, err
	}
	s := &service{lost: store.lost}
	if cfg.listen != "" {
		if s.listener, err = listen(cfg, list, store.DB, queue, metrics, log); err != nil {
			err = errors.Join(err, stopQueue(queue))
			kept()
			store.close()
			return nil, err
		}
		s.url = "http://" + s.listener.open.Addr().String()
	}
	s.stop = func() error {
		err := errors.Join(s.stopListening(), stopQueue(queue))
		kept()
		store.close()
		return err
	}
	return s, nil
}

// wait returns nil when ctx ends, and an error when the service can no longer
// do its work.
func (s *service) wait(ctx context.Context) error {
	var failed <-chan error
	if s.listener != nil {
		failed = s.listener.failed
	}
	select {
	case <-ctx.Done():
		return nil
	case <-s.lost:
		return errors.New("the private Postgres ended by itself; its server.log in the data folder says why")
	case err := <-failed:
		return fmt.Errorf("the service no longer listens: %w", err)
	}
}

// stopListening lets the requests under way end.
func (s *service) stopListening() error {
	if s.listener == nil {
		return nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), 15*time.Second)
	defer cancel()
	return s.listener.server.Shutdown(ctx)
}

// warnOfEmpty logs what to do where nobody has set the workshop up.
func warnOfEmpty(ctx context.Context, store *db.DB, log *slog.Logger) error {
	stocks, err := queue.Stocks(store.Queries).All(ctx)
	if err == nil && len(stocks) == 0 {
		log.Warn("the workshop lists no stock yet: run knifedesk init")
	}
	return err
}

func startQueue(ctx context.Context, cfg serveConfig, list *jobs.List, store *db.DB, metrics *prometheus.Registry, log *slog.Logger) (*queue.Queue, error) {
	conf := queue.Config{Log: log, Registry: metrics, Sharing: queue.SharingOf(list), Memory: int64(cfg.memory) << 20, Keep: time.Duration(cfg.keepDays) * 24 * time.Hour, Webhooks: cfg.webhooks()}
	if cfg.role != "api" {
		conf.Interactive, conf.Batch = cfg.workers, cfg.workers
	}
	queue, err := queue.New(store, list.Rows, conf)
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
