package queue

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"knifedesk/db"

	"github.com/prometheus/client_golang/prometheus"
)

// depthWithin is how long the database may take to tell how the queues are.
const depthWithin = 2 * time.Second

// depths measures the queues and the workers of all processes when it is asked. It
// tells nothing where the database does not answer.
type depths struct {
	store                 *db.DB
	log                   *slog.Logger
	jobs, oldest, workers *prometheus.Desc
}

func newDepths(store *db.DB, log *slog.Logger) depths {
	desc := func(name, help string, labels ...string) *prometheus.Desc {
		return prometheus.NewDesc("knifedesk_"+name, help, labels, nil)
	}
	return depths{
		store: store, log: log,
		jobs:    desc("queue_jobs", "Jobs that no worker has begun, by queue.", "queue"),
		oldest:  desc("queue_oldest_seconds", "Age of the oldest of them, 0 where there is none.", "queue"),
		workers: desc("workers", "Processes that work on the queue and live."),
	}
}

// Describe tells which metrics there are.
func (d depths) Describe(to chan<- *prometheus.Desc) {
	for _, one := range []*prometheus.Desc{d.jobs, d.oldest, d.workers} {
		to <- one
	}
}

// Collect measures.
func (d depths) Collect(to chan<- prometheus.Metric) {
	ctx, cancel := context.WithTimeout(context.Background(), depthWithin)
	defer cancel()
	all, err := d.store.Depths(ctx)
	now, errStanding := d.store.Standing(ctx)
	if err := errors.Join(err, errStanding); err != nil {
		d.log.WarnContext(ctx, "queues not measured", "error", err)
		return
	}
	to <- prometheus.MustNewConstMetric(d.workers, prometheus.GaugeValue, float64(now.Workers))
	for _, of := range all {
		to <- prometheus.MustNewConstMetric(d.jobs, prometheus.GaugeValue, float64(of.Jobs), string(of.Queue))
		to <- prometheus.MustNewConstMetric(d.oldest, prometheus.GaugeValue, of.Oldest, string(of.Queue))
	}
}
