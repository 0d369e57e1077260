package queue

import (
	"errors"
	"time"

	"knifedesk/jobs"

	"github.com/prometheus/client_golang/prometheus"
)

// metrics are what this process has done.
type metrics struct {
	runs     *prometheus.CounterVec   // by stage and how the run ended
	seconds  *prometheus.HistogramVec // by stage
	reused   *prometheus.CounterVec   // by stage
	settled  *prometheus.CounterVec   // by status
	findings *prometheus.CounterVec   // by code
	asked    *prometheus.CounterVec   // by stage
	told     *prometheus.CounterVec   // by state and fault
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
		findings: counter("findings_total", "Findings in results that were computed, by code.", "code"),
		asked:    counter("questions_total", "Questions in results that were computed, by the stage that asks.", "stage"),
		told:     counter("webhook_attempts_total", "Attempts to deliver an event, by the state that they left it in and the fault.", "state", "fault"),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Namespace: "knifedesk", Name: "stage_seconds", Help: "What a run of a stage took.",
			Buckets: prometheus.ExponentialBuckets(0.001, 4, 9), // 1 ms to 65 s
		}, []string{"stage"}),
		returned: prometheus.NewCounter(prometheus.CounterOpts{
			Namespace: "knifedesk", Name: "jobs_returned_total", Help: "Jobs of dead workers that were given back.",
		}),
	}
	var errs []error
	for _, c := range []prometheus.Collector{m.runs, m.seconds, m.reused, m.settled, m.findings, m.asked, m.told, m.returned} {
		errs = append(errs, to.Register(c))
	}
	return m, errors.Join(errs...)
}

func (m *metrics) ran(stage, end string, took time.Duration) {
	m.runs.WithLabelValues(stage, end).Inc()
	m.seconds.WithLabelValues(stage).Observe(took.Seconds())
}

// said counts what a result says to the plan.
func (m *metrics) said(stage string, o jobs.Outcome) {
	for _, f := range o.Findings {
		m.findings.WithLabelValues(string(f.Code)).Inc()
	}
	m.asked.WithLabelValues(stage).Add(float64(len(o.Questions)))
}
