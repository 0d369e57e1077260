package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
)

// Worker is a process that works on the queue.
type Worker struct {
	ID                 string
	Interactive, Batch int // jobs of each queue at a time
	Heavy              int // of which so many may be heavy, of both together
}

// Beat says that a worker lives.
func (q workerTable) Beat(ctx context.Context, w Worker) error {
	_, err := q.exec(ctx, "beat", `
		insert into workers (id, interactive, batch, heavy) values ($1, $2, $3, $4) on conflict (id) do update set beat = now()`,
		w.ID, w.Interactive, w.Batch, w.Heavy)
	return err
}

// Beats writes the beat of a worker every so often and calls beaten after each,
// until ctx ends or the connection breaks. It always returns an error. It has a
// connection of its own, so that a busy pool never makes a live worker look dead.
func (d *DB) Beats(ctx context.Context, w Worker, every time.Duration, beaten func()) error {
	conn, err := d.connect(ctx)
	if err != nil {
		return wrap("beat", err)
	}
	defer conn.Close(context.WithoutCancel(ctx))
	for {
		if err := beatOnce(ctx, conn, w, 5*every); err != nil {
			return err
		}
		beaten()
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(every):
		}
	}
}

// beatOnce writes one beat within limit. One under way when ctx ends is let
// end: cut short, the server might write it after the worker has left.
func beatOnce(ctx context.Context, conn *pgx.Conn, w Worker, limit time.Duration) error {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), limit)
	defer cancel()
	return workerTable{on{conn}}.Beat(ctx, w)
}

// Leave says that the worker process id has ended and holds no job.
func (q workerTable) Leave(ctx context.Context, id string) error {
	_, err := q.exec(ctx, "leave", `delete from workers where id = $1`, id)
	return err
}

// ForgetWorkers removes workers that have been silent for ten leases.
func (q workerTable) ForgetWorkers(ctx context.Context, lease time.Duration) error {
	_, err := q.exec(ctx, "forget dead workers", `
		delete from workers where beat <= now() - make_interval(secs => 10 * $1::float8)`, lease.Seconds())
	return err
}

// Sweeping takes the right to look after dead workers' jobs for the length of
// the transaction; false where another process has it.
func (q workerTable) Sweeping(ctx context.Context) (bool, error) {
	const sweeping = 0x6b6e6966655f7377
	var mine bool
	err := q.conn.QueryRow(ctx, `select pg_try_advisory_xact_lock($1)`, int64(sweeping)).Scan(&mine)
	return mine, wrap("sweep", err)
}
