package db

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"time"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"

	"github.com/google/uuid"
)

// Outcome is what a stage found and has to ask.
type Outcome struct {
	Findings  []finding.Finding `json:"findings,omitempty"`
	Questions []ask.Question    `json:"questions,omitempty"`
	// Checkable says that the rest can be looked at although a finding blocks.
	Checkable bool `json:"checkable,omitempty"`
}

// Head is a result less its bytes.
type Head struct {
	Key     string    `db:"key"`
	Stage   string    `db:"stage"`
	Sum     []byte    `db:"sum"` // SHA-256 of the bytes
	Outcome Outcome   `db:"outcome"`
	Seconds float64   `db:"seconds"` // what it took to compute
	Created time.Time `db:"created"`
}

// Result is what a stage computed: JSON, byte for byte as it was written.
type Result struct {
	Head
	Body json.RawMessage `db:"body"`
}

const headColumns = "r.key, r.stage, r.sum, r.outcome, r.seconds, r.created"

// AddResult keeps a result under its key. One that is there stays.
func (q Queries) AddResult(ctx context.Context, key, stage string, body []byte, o Outcome, took time.Duration) error {
	sum := sha256.Sum256(body)
	_, err := q.exec(ctx, "keep a result", `
		insert into results (key, stage, body, sum, outcome, seconds) values ($1, $2, $3, $4, $5, $6)
		on conflict do nothing`, key, stage, body, sum[:], o, took.Seconds())
	return err
}

// Head returns the head of the result under key.
func (q Queries) Head(ctx context.Context, key string) (Head, error) {
	return one[Head](ctx, q, "read a result",
		`select `+headColumns+` from results r where r.key = $1`, key)
}

// Result returns the result under key.
func (q Queries) Result(ctx context.Context, key string) (Result, error) {
	return one[Result](ctx, q, "read a result",
		`select `+headColumns+`, r.body from results r where r.key = $1`, key)
}

// PlanHeads returns the heads of the results that a plan has, in the order of
// its stages.
func (q Queries) PlanHeads(ctx context.Context, id uuid.UUID) ([]Head, error) {
	return all[Head](ctx, q, "read a plan's results", `
		select `+headColumns+` from plan_stages s join results r on r.key = s.key
		where s.plan = $1 and s.state = 'done' order by s.place`, id)
}

// PlanResults returns the results that a plan has, in the order of its
// stages: all of them, or those of the stages named.
func (q Queries) PlanResults(ctx context.Context, id uuid.UUID, stages ...string) ([]Result, error) {
	return all[Result](ctx, q, "read a plan's results", `
		select `+headColumns+`, r.body from plan_stages s join results r on r.key = s.key
		where s.plan = $1 and s.state = 'done' and ($2::text[] is null or s.stage = any($2)) order by s.place`, id, stages)
}
