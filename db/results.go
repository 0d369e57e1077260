package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Head is a result less its bytes.
type Head struct {
	Key     string    `db:"key"`
	Stage   string    `db:"stage"`
	Outcome []byte    `db:"outcome"` // JSON of what it found and asks
	Digest  []byte    `db:"digest"`  // JSON of what it adds to the view of a plan; nil: an older program wrote it
	Seconds float64   `db:"seconds"` // what it took to compute
	Created time.Time `db:"created"`
}

// Codec says how the bytes of a result are packed.
type Codec int16

// The codecs.
const (
	Plain Codec = 0
	Zstd  Codec = 1
)

// Result is what a job computed.
type Result struct {
	Head
	Codec Codec  `db:"codec"`
	Body  []byte `db:"body"`
}

const headColumns = "r.key, r.stage, r.outcome, r.digest, r.seconds, r.created"

// AddResults keeps results under their keys. Those that are there stay.
func (q resultTable) AddResults(ctx context.Context, results ...Result) error {
	n := len(results)
	keys, stages, codecs, bodies := make([]string, n), make([]string, n), make([]Codec, n), make([][]byte, n)
	outcomes, digests, seconds := make([]string, n), make([]string, n), make([]float64, n)
	for i, r := range results {
		keys[i], stages[i], codecs[i], bodies[i] = r.Key, r.Stage, r.Codec, r.Body
		outcomes[i], digests[i], seconds[i] = string(r.Outcome), string(r.Digest), r.Seconds
	}
	return q.later(ctx, "keep results", nil, `
		insert into results (key, stage, codec, body, outcome, digest, seconds)
		select n.key, n.stage, n.codec, n.body, n.outcome::json, n.digest::json, n.seconds
		from unnest($1::text[], $2::text[], $3::smallint[], $4::bytea[], $5::text[], $6::text[], $7::float8[])
			n (key, stage, codec, body, outcome, digest, seconds)
		on conflict do nothing`, keys, stages, codecs, bodies, outcomes, digests, seconds)
}

// Result returns the result under key.
func (q resultTable) Result(ctx context.Context, key string) (Result, error) {
	return one[Result](ctx, q.on, "read a result",
		`select `+headColumns+`, r.codec, r.body from results r where r.key = $1`, key)
}

// Results returns the results that there are under keys, in no order.
func (q resultTable) Results(ctx context.Context, keys ...string) ([]Result, error) {
	return all[Result](ctx, q.on, "read results",
		`select `+headColumns+`, r.codec, r.body from results r where r.key = any($1)`, keys)
}

// StoredBytes returns how large the file with this SHA-256 is, 0 for none, and
// all results under keys together, as they are stored.
func (q resultTable) StoredBytes(ctx context.Context, file []byte, keys ...string) (ofFile, ofResults int64, err error) {
	const query = `select coalesce((select octet_length(bytes) from blobs where hash = $1), 0)::bigint,
		coalesce((select sum(octet_length(body)) from results where key = any($2)), 0)::bigint`
	err = q.conn.QueryRow(ctx, query, file, keys).Scan(&ofFile, &ofResults)
	return ofFile, ofResults, wrap("measure what is stored", err)
}

// SetDigest gives a result a digest that it lacks.
func (q resultTable) SetDigest(ctx context.Context, key string, digest []byte) error {
	return q.touch(ctx, "set a digest", `update results set digest = $2::text::json where key = $1`, key, string(digest))
}

// PlanHead is one stage of a plan with the head of its result.
type PlanHead struct {
	Stage  string `db:"stage"`
	Key    string `db:"key"`
	State  string `db:"state"`
	Reused bool   `db:"reused"`

	There   bool   `db:"there"` // there is a result, with Outcome and Digest
	Outcome []byte `db:"outcome"`
	Digest  []byte `db:"digest"`
}

// takenHeads are the heads of the results of plan $1. Whoever takes a result holds
// it until the transaction ends, so that it is not erased meanwhile (EraseResults).
const takenHeads = `select key, outcome, digest from results
	where key in (select key from plan_stages where plan = $1) order by key for key share`

// PlanHeads returns the stages of a plan in order, with the heads of the
// results that there are under their keys.
func (q resultTable) PlanHeads(ctx context.Context, id uuid.UUID) ([]PlanHead, error) {
	return all[PlanHead](ctx, q.on, "read a plan's results", `
		select s.stage, coalesce(s.key, '') as key, s.state, s.reused, r.key is not null as there, r.outcome, r.digest
		from plan_stages s left join (`+takenHeads+`) r on r.key = s.key
		where s.plan = $1 order by s.place`, id)
}

// Heads returns the stages that a plan with these keys would have, in order, with
// the heads of the results that there are under the keys.
func (q resultTable) Heads(ctx context.Context, stages, keys []string) ([]PlanHead, error) {
	return all[PlanHead](ctx, q.on, "read results", `
		select s.stage, s.key, 'waiting' as state, false as reused, r.key is not null as there, r.outcome, r.digest
		from unnest($1::text[], $2::text[]) with ordinality s (stage, key, place)
			left join (select key, outcome, digest from results where key = any($2) order by key for key share) r on r.key = s.key
		order by s.place`, stages, keys)
}

// PlanResults returns the results of the stages that a plan has done, in their
// order: all of them, or those of the stages named.
func (q resultTable) PlanResults(ctx context.Context, id uuid.UUID, stages ...string) ([]Result, error) {
	return all[Result](ctx, q.on, "read a plan's results", `
		select `+headColumns+`, r.codec, r.body from plan_stages s join results r on r.key = s.key
		where s.plan = $1 and s.state = 'done' and ($2::text[] is null or s.stage = any($2)) order by s.place`, id, stages)
}

// PlanKeys returns the keys of the results that a plan has, by stage.
func (q resultTable) PlanKeys(ctx context.Context, id uuid.UUID) (map[string]string, error) {
	rows, err := all[struct {
		Stage string `db:"stage"`
		Key   string `db:"key"`
	}](ctx, q.on, "read a plan's keys", `select stage, key from plan_stages where plan = $1 and state = 'done' and key is not null`, id)
	keys := make(map[string]string, len(rows))
	for _, r := range rows {
		keys[r.Stage] = r.Key
	}
	return keys, err
}
