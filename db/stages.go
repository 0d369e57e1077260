package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// PlanStage is one stage of a plan.
type PlanStage struct {
	Stage   string     `db:"stage"`
	Key     string     `db:"key"`    // of its result; empty in plans of an older program
	State   string     `db:"state"`  // waiting, queued, working, done, failed
	Reused  bool       `db:"reused"` // the result was there already
	Started *time.Time `db:"started"`
	Ended   *time.Time `db:"ended"`
}

// AddStages gives a plan stages, in order. Of each it takes Stage, Key, State,
// Reused and Started.
func (q stageTable) AddStages(ctx context.Context, id uuid.UUID, stages []PlanStage) error {
	n := len(stages)
	names, keys, states, reused, started := make([]string, n), make([]string, n), make([]string, n), make([]bool, n), make([]*time.Time, n)
	for i, s := range stages {
		names[i], keys[i], states[i], reused[i], started[i] = s.Stage, s.Key, s.State, s.Reused, s.Started
	}
	return q.later(ctx, "add a plan's stages", nil, `
		insert into plan_stages (plan, stage, key, place, state, reused, started, ended)
		select $1, s.name, s.key, s.place, s.state, s.reused, s.started, case when s.state = 'done' then now() end
		from unnest($2::text[], $3::text[], $4::text[], $5::bool[], $6::timestamptz[])
			with ordinality s (name, key, state, reused, started, place)`, id, names, keys, states, reused, started)
}

// ClearStages takes the stages of a plan away. Their results stay under their
// keys, which are known as the plan's former ones.
func (q stageTable) ClearStages(ctx context.Context, id uuid.UUID) error {
	return q.later(ctx, "clear a plan's stages", nil, `
		with gone as (delete from plan_stages where plan = $1 returning plan, key)
		insert into former_keys (plan, key) select plan, key from gone where key is not null
		on conflict do nothing`, id)
}

// Stages returns the stages of a plan in order.
func (q stageTable) Stages(ctx context.Context, id uuid.UUID) ([]PlanStage, error) {
	return all[PlanStage](ctx, q.on, "read a plan's stages", `
		select stage, coalesce(key, '') as key, state, reused, started, ended
		from plan_stages where plan = $1 order by place`, id)
}

// StagesStand says how the stages of a plan stand: done those with a key of
// done, reused where it is not among computed; the one with the key next, where
// there is one, is queued or, with a start, being worked on; all others wait.
func (q stageTable) StagesStand(ctx context.Context, id uuid.UUID, done, computed []string, next string, started *time.Time) error {
	return q.later(ctx, "note how stages stand", nil, `
		update plan_stages s set
			state = case when key = any($2) then 'done' when key <> $4 then 'waiting' when $5::timestamptz is null then 'queued' else 'working' end,
			reused = case when state = 'done' then reused else key = any($2) and not key = any($3) end,
			started = case when state = 'done' then started when key = any($3) then coalesce(started, now()) when key = $4 then $5 end,
			ended = case when state = 'done' then ended when key = any($2) then now() end
		where plan = $1`, id, given(done), given(computed), next, started)
}

// StagesStarted marks the stage with the key as being worked on in the plans.
func (q stageTable) StagesStarted(ctx context.Context, key string, plans []uuid.UUID) error {
	return q.later(ctx, "mark stages started", nil, `
		update plan_stages set state = 'working', started = coalesce(started, now())
		where key = $1 and plan = any($2) and state in ('waiting', 'queued', 'working')`, key, plans)
}

// StagesFailed marks the stage with the key as failed in the plans.
func (q stageTable) StagesFailed(ctx context.Context, key string, plans []uuid.UUID) error {
	_, err := q.exec(ctx, "mark stages failed", `
		update plan_stages set state = 'failed', ended = now()
		where key = $1 and plan = any($2) and state <> 'done'`, key, plans)
	return err
}
