package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// StageState is how far one stage of a plan is.
type StageState string

// The states of a stage.
const (
	StageWaiting StageState = "waiting" // for the stages before it
	StageQueued  StageState = "queued"  // for a worker
	StageWorking StageState = "working"
	StageDone    StageState = "done"
	StageFailed  StageState = "failed"
)

// PlanStage is one stage of a plan.
type PlanStage struct {
	Stage   string     `db:"stage"`
	Key     string     `db:"key"` // of its result; empty while it is not known
	State   StageState `db:"state"`
	Reused  bool       `db:"reused"` // the result was there already
	Started *time.Time `db:"started"`
	Ended   *time.Time `db:"ended"`
}

// AddStages gives a plan its stages, in order, all waiting; those it had are
// forgotten. Their results are not: they stay under their keys.
func (q Queries) AddStages(ctx context.Context, id uuid.UUID, names []string) error {
	if _, err := q.exec(ctx, "clear a plan's stages", `delete from plan_stages where plan = $1`, id); err != nil {
		return err
	}
	_, err := q.exec(ctx, "add a plan's stages", `
		insert into plan_stages (plan, stage, place, state)
		select $1, s.name, s.place, 'waiting' from unnest($2::text[]) with ordinality s (name, place)`, id, names)
	return err
}

// Stages returns the stages of a plan in order.
func (q Queries) Stages(ctx context.Context, id uuid.UUID) ([]PlanStage, error) {
	return all[PlanStage](ctx, q, "read a plan's stages", `
		select stage, coalesce(key, '') as key, state, reused, started, ended
		from plan_stages where plan = $1 order by place`, id)
}

// StageReused marks a stage done by a result that was there.
func (q Queries) StageReused(ctx context.Context, id uuid.UUID, stage, key string) error {
	return q.touch(ctx, "mark a stage done", `
		update plan_stages set key = $3, state = 'done', reused = true, ended = now()
		where plan = $1 and stage = $2`, id, stage, key)
}

// StageWaits marks a stage as waiting for the result under key, which a
// worker may be at already.
func (q Queries) StageWaits(ctx context.Context, id uuid.UUID, stage, key string, started *time.Time) error {
	return q.touch(ctx, "mark a stage queued", `
		update plan_stages set key = $3, started = $4, state = case when $4::timestamptz is null then 'queued' else 'working' end
		where plan = $1 and stage = $2`, id, stage, key, started)
}

// StagesStarted marks the stages that wait for key as being worked on.
func (q Queries) StagesStarted(ctx context.Context, key string) error {
	_, err := q.exec(ctx, "mark stages started", `
		update plan_stages s set state = 'working', started = coalesce(s.started, now())
		from waiters w where w.key = $1 and s.plan = w.plan and s.key = $1 and s.state in ('queued', 'working')`, key)
	return err
}

// StagesEnded marks the stages that wait for key as done or failed.
func (q Queries) StagesEnded(ctx context.Context, key string, state StageState) error {
	_, err := q.exec(ctx, "mark stages ended", `
		update plan_stages s set state = $2, ended = now()
		from waiters w where w.key = $1 and s.plan = w.plan and s.key = $1 and s.state <> 'done'`, key, state)
	return err
}

// StageHalted puts the stage that a plan waits for back to waiting.
func (q Queries) StageHalted(ctx context.Context, id uuid.UUID) error {
	_, err := q.exec(ctx, "halt a stage", `
		update plan_stages set state = 'waiting', started = null
		where plan = $1 and state in ('queued', 'working')`, id)
	return err
}
