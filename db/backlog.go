package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Task is a span that runs or waits, as people see it.
type Task struct {
	Plan     uuid.UUID  `db:"plan"` // who asked first
	Client   string     `db:"client"`
	Stage    string     `db:"stage"` // which it is at, or begins with
	Queue    Queue      `db:"queue"`
	State    string     `db:"state"` // running, admitted, waiting
	Since    time.Time  `db:"since"`
	Started  *time.Time `db:"started"`
	Cost     float64    `db:"cost"` // in seconds
	Heavy    bool       `db:"heavy"`
	Awaited  bool       `db:"awaited"`
	Plans    int        `db:"plans"`    // that wait for it
	Position int        `db:"position"` // among those that wait in its queue, from 1; 0: it does not
}

// Tasks lists what runs and waits, in the order in which it is going to run as
// things are now, at most limit. It reads and locks nothing.
func (q admissionTable) Tasks(ctx context.Context, f Fairness, limit int) ([]Task, error) {
	return all[Task](ctx, q.on, "list the work", `
		with `+taken+`, heads as (
			select distinct on (w.job) w.* from work w order by w.job, w.place
		), listed as (
			select h.*, row_number() over (partition by h.queue, h.job < 0 order by `+turn+`) as at
			from heads h left join used u on u.client = h.client
				left join (select client, sum(cost) as seconds from taken group by client) t on t.client = h.client
		)
		select l.plan, l.client, l.stage, l.queue, l.created as since, l.started, l.cost, l.heavy, l.awaited,
			case when l.attempt > 0 then 'running' when l.job > 0 then 'admitted' else 'waiting' end as state,
			(select count(distinct w.plan)::int from work k join waiters w on w.key = k.key where k.job = l.job) as plans,
			case when l.job < 0 then l.at else 0 end::int as position
		from listed l
		order by l.attempt = 0, l.job < 0, l.at, l.queue desc limit $4`,
		f.Fade.Seconds(), f.Grain.Seconds(), f.Patience.Seconds(), limit)
}
