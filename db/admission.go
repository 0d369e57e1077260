package db

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

// Fairness says how spans are admitted to the queue.
type Fairness struct {
	Lanes [2]string     // the library's names of the queues Interactive and Batch
	Spare int           // jobs of a queue beyond those that its workers run at a time
	Fade  time.Duration // in which what a client had comes down to a third (1/e)
	// Grain is within what clients have had equally much; the older work goes first.
	Grain time.Duration
	// Patience is after what time a span for which nobody waits is admitted as if
	// somebody did.
	Patience time.Duration
	Lease    time.Duration // after which a silent worker has no slots
}

// seenFor is how long a plan counts as waited for after somebody was seen to wait.
const seenFor = 15 * time.Second

// Span is a span that waits to be admitted.
type Span struct {
	Job   int64     `db:"job"` // below 0
	Queue Queue     `db:"queue"`
	Stage string    `db:"stage"`
	Plan  uuid.UUID `db:"plan"`
	List  int       `db:"list"`
	Trace string    `db:"trace"` // of the plan
	More  bool      `db:"more"`  // there may be another one to admit beside it
}

// admitting is the advisory lock under which spans are admitted.
const admitting = 0x6b6e6966655f6164

// charge adds to what a client has had, faded until now.
const charge = `insert into used (client, seconds) values ($1, $2)
	on conflict (client) do update set at = now(),
		seconds = used.seconds * exp(-extract(epoch from now() - used.at) / $3) + excluded.seconds`

// Charge adds seconds of computing to what a client has had.
func (q admissionTable) Charge(ctx context.Context, f Fairness, client string, seconds float64) error {
	return q.later(ctx, "charge a client", nil, charge, client, seconds, f.Fade.Seconds())
}

// admitted are the jobs in the queue that wait for a worker or run. Those that
// wait for their next attempt take no slot.
const admitted = `state in ('available', 'running')`

// taken are the spans that have a slot, as long as none of their results is in.
const taken = `taken as materialized (
		select w.client, w.cost, w.heavy from work w join river_job j on j.id = w.job and j.` + admitted + ` where w.job > 0 and w.place = 0
	)`

// nextSpan picks the span to admit. Of every client, in each queue, it looks at the
// first of the heavy and of the light, waited for and not: head after head along the
// index, so that it costs the same whatever is behind them.
//
// $4 the lanes, $5 spare, $6 passed over, $1 to $3 as in turn, $7 lease
const nextSpan = `
	with recursive live as materialized (
		select coalesce(sum(interactive), 0) as interactive, coalesce(sum(batch), 0) as batch, coalesce(sum(heavy), 0) as heavy
		from workers where beat > now() - make_interval(secs => $7)
	), free as materialized (
		select queue, slots + $5::int - (select count(*) from river_job j where j.queue = lane and j.` + admitted + `) as n
		from (select 'interactive', interactive, ($4::text[])[1] from live union all select 'batch', batch, ($4::text[])[2] from live) l (queue, slots, lane)
		where slots > 0
	), ` + taken + `, heads as (
		(select ` + headColumnsOfSpan + ` from work w
		where w.job < 0 and w.place = 0 and not w.job = any($6::bigint[]) and exists (select from free where n > 0)
		order by w.queue, w.client, w.heavy, w.awaited, w.due, w.job desc limit 1)
		union all
		select n.* from heads h cross join lateral (
			select ` + headColumnsOfSpan + ` from work w
			where w.job < 0 and w.place = 0 and not w.job = any($6) and (w.queue, w.client, w.heavy, w.awaited) > (h.queue, h.client, h.heavy, h.awaited)
			order by w.queue, w.client, w.heavy, w.awaited, w.due, w.job desc limit 1) n
	)
	select h.job, h.queue, h.stage, h.plan, h.list, coalesce((select p.trace from plans p where p.id = h.plan), '') as trace,
		(select sum(n) from free where n > 0) > 1 and (select count(*) from (select from work where job < 0 and place = 0 limit 2) w) > 1 as more
	from heads h join free f on f.queue = h.queue and f.n > 0
		left join used u on u.client = h.client
		left join (select client, sum(cost) as seconds from taken group by client) t on t.client = h.client
	where not h.heavy or (select heavy from live) > (select count(*) from taken where heavy)
	order by ` + turn + `
	limit 1`

// turn orders heads h of the backlog, with what their clients had (u) and have (t):
// by who is waited for, who had least, and age. $1 fade, $2 grain, $3 patience.
const turn = `h.awaited or h.due < now() - make_interval(secs => $3) desc,
		floor((coalesce(u.seconds * exp(-extract(epoch from now() - u.at) / $1), 0) + coalesce(t.seconds, 0)) / $2),
		h.due, h.job desc`

const headColumnsOfSpan = `w.job, w.queue, w.stage, w.plan, w.list, w.client, w.heavy, w.awaited, w.due`

// Backlog makes the transaction the only one that admits until it ends, charges a
// client for seconds, and says whether any span waits to be admitted.
func (q admissionTable) Backlog(ctx context.Context, f Fairness, client string, seconds float64) (some bool, err error) {
	var b pgx.Batch
	b.Queue(`select pg_advisory_xact_lock($1)`, int64(admitting))
	if seconds > 0 {
		b.Queue(charge, client, seconds, f.Fade.Seconds())
	}
	b.Queue(`select exists (select from work where job < 0 and place = 0)`).QueryRow(func(row pgx.Row) error { return row.Scan(&some) })
	err = q.send(ctx, "look whether anything waits", &b)
	return some, err
}

// NextSpan makes the transaction the only one that admits until it ends, and picks
// the span to admit, of all but those passed over; none where there is none or no
// slot is free. It has to be the last that a transaction does: whoever holds the
// right to admit waits for nobody.
func (q admissionTable) NextSpan(ctx context.Context, f Fairness, passed []int64) ([]Span, error) {
	var b pgx.Batch
	var next []Span
	b.Queue(`select pg_advisory_xact_lock($1)`, int64(admitting))
	if passed == nil {
		passed = []int64{}
	}
	b.Queue(nextSpan, f.Fade.Seconds(), f.Grain.Seconds(), f.Patience.Seconds(), f.Lanes[:], f.Spare, passed, f.Lease.Seconds()).Query(into(&next))
	return next, q.send(ctx, "look what to admit", &b)
}

// TakeSpan is LockKeys for the keys of a span that waits to be admitted, unless
// another transaction is at one of them: it says whether it got them all.
func (q admissionTable) TakeSpan(ctx context.Context, job int64) (all bool, err error) {
	err = q.conn.QueryRow(ctx, `select coalesce(bool_and(pg_try_advisory_xact_lock(hashtextextended(key, 0))), false) from work where job = $1`, job).Scan(&all)
	return all, wrap("take a span", err)
}

// Admit gives a span its job of the queue. ErrAgain: it was given up at this moment.
func (q admissionTable) Admit(ctx context.Context, span, job int64) error {
	given := func(rows int64) error {
		if rows == 0 {
			return ErrAgain
		}
		return nil
	}
	return q.later(ctx, "admit a span", given, `update work set job = $2 where job = $1`, span, job)
}

// hadBy begins what the client of a name has had, faded by $5.
const hadBy = `coalesce((select u.seconds * exp(-extract(epoch from now() - u.at) / $5) from used u where u.client = `

// JoinSpan notes that another plan has come to wait for a span that is not admitted
// yet: it is charged to whoever has had least, and is as urgent as the most urgent.
func (q admissionTable) JoinSpan(ctx context.Context, f Fairness, job int64, plan uuid.UUID, client string, queue Queue) error {
	_, err := q.exec(ctx, "join a span", `
		with p as (
			select coalesce(min(since), now()) as since, coalesce(bool_or(awaited > now() - make_interval(secs => $6)), $4 = 'interactive') as awaited
			from plans where id = $2
		)
		update work w set awaited = w.awaited or p.awaited, due = least(w.due, p.since + make_interval(secs => w.cost)),
			client = case when `+hadBy+`$3), 0) < `+hadBy+`w.client), 0) then $3 else w.client end
		from p where w.job = $1`, job, plan, client, queue, f.Fade.Seconds(), seenFor.Seconds())
	return err
}

// SeeWaiting notes that somebody waits now for those of the plans that move. A plan
// that moves at this moment is passed over.
func (q admissionTable) SeeWaiting(ctx context.Context, plans []uuid.UUID) error {
	_, err := q.exec(ctx, "note who is waited for", `
		update plans set awaited = now() where id in (
			select id from plans where id = any($1) and status in ('queued', 'working') order by id for update skip locked)`, plans)
	return err
}

// WeighSpans brings the spans that wait to be admitted up to date with who waits
// for them now, and forgets what clients had long ago.
func (q admissionTable) WeighSpans(ctx context.Context, f Fairness) error {
	var b pgx.Batch
	b.Queue(`
		with now_awaited as (
			select k.key, exists (select from work s join waiters w on w.key = s.key join plans p on p.id = w.plan
				where s.job = k.job and p.awaited > now() - make_interval(secs => $1)) as yes
			from work k where k.job < 0 and k.place = 0
		), changed as (
			select k.key, n.yes from work k join now_awaited n on n.key = k.key and n.yes <> k.awaited order by k.key for update of k skip locked
		)
		update work k set awaited = c.yes from changed c where c.key = k.key`, seenFor.Seconds())
	b.Queue(`delete from used where at < now() - make_interval(secs => 20 * $1::float8)`, f.Fade.Seconds())
	return q.send(ctx, "weigh what waits", &b)
}
