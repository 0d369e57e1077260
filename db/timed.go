package db

import (
	"context"

	"github.com/google/uuid"
)

// AddTimedJob keeps what the minutes of a plan were counted by, and what it took, as
// JSON.
func (q trialTables) AddTimedJob(ctx context.Context, posting uuid.UUID, doc []byte) error {
	_, err := q.exec(ctx, "keep a timed job", `insert into timed_jobs (posting, doc) values ($1, $2)`, posting, string(doc))
	return err
}

// TimedJobs returns the newest of what was kept of jobs, so many at most, without those
// of outcomes that were taken back.
func (q trialTables) TimedJobs(ctx context.Context, most int) ([][]byte, error) {
	return column[[]byte](ctx, q.on, "list timed jobs", `
		select t.doc::text::bytea from timed_jobs t join postings p on p.id = t.posting
		where not exists (select from postings r where r.reverses = t.posting)
		order by p.created desc, p.id limit $1`, most)
}
