package queue

import (
	"errors"
	"time"

	"github.com/prometheus/client_golang/prometheus"
)

// metrics are what this process has done.
type metrics struct {
	runs     *prometheus.CounterVec   // by stage and how the run ended
	seconds  *prometheus.HistogramVec // by stage
	reused   *prometheus.CounterVec   // by stage
	settled  *prometheus.CounterVec   // by status
	returned prometheus.Counter
}

func newMetrics(to prometheus.Registerer) (*metrics, error) {
	counter := func(name, help string, labels ...string) *prometheus.CounterVec {
		return prometheus.NewCounterVec(prometheus.CounterOpts{Namespace: "knifedesk", Name: name, Help: help}, labels)
	}
	m := &metrics{
		runs:   counter("stage_runs_total", "Runs of a stage, by how they ended.", "stage", "end"),
		reused: counter("stage_reused_total", "Stages whose result was there already.", "stage"),
		settled: counter("plans_settled_total",
			"Plans that came to rest, by status.", "status"),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Namespace: "knifedesk", Name: "stage_seconds", Help: "What a run of a stage took.",
			Buckets: prometheus.ExponentialBuckets(0.001, 4, 9), // 1 ms to 65 s
		}, []string{"stage"}),
		returned: prometheus.NewCounter(prometheus.CounterOpts{
			Namespace: "knifedesk", Name: "jobs_returned_total", Help: "Jobs of dead workers that were given back.",
		}),
	}
	var errs []error
	for _, c := range []prometheus.Collector{m.runs, m.seconds, m.reused, m.settled, m.returned} {
		errs = append(errs, to.Register(c))
	}
	return m, errors.Join(errs...)
}

func (m *metrics) ran(stage, end string, took time.Duration) {
	m.runs.WithLabelValues(stage, end).Inc()
	m.seconds.WithLabelValues(stage).Observe(took.Seconds())
}
