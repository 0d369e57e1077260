package queue

import (
	"context"
	"time"

	"knifedesk/db"

	"github.com/google/uuid"
)

// ClassView is what callers read of a class set.
type ClassView struct {
	db.ClassSet
	Members []ClassMember // by reference
	Roster  []string
}

// ClassMember is a member of a set with its plan.
type ClassMember struct {
	Reference string
	Received  time.Time
	*PlanView
}

// ClassSet returns what callers read of a set of client.
func (q classes) ClassSet(ctx context.Context, client string, id uuid.UUID) (*ClassView, error) {
	s, err := q.store.ClassSet(ctx, client, id)
	if err != nil {
		return nil, err
	}
	v := &ClassView{ClassSet: s}
	if v.Roster, err = q.store.ClassRoster(ctx, id); err != nil {
		return nil, err
	}
	plans, err := q.store.ClassPlans(ctx, id)
	if err != nil {
		return nil, err
	}
	for _, p := range plans {
		seen, err := q.viewed(ctx, s.Client, p.PlanView)
		if err != nil {
			return nil, err
		}
		v.Members = append(v.Members, ClassMember{p.Reference, p.Received, seen})
	}
	return v, nil
}

// lookAtClass is how often it is looked whether a set has come to rest.
const lookAtClass = 150 * time.Millisecond

// WaitClassSet returns once no member of a set is worked out any more, or with the
// error of ctx.
func (q classes) WaitClassSet(ctx context.Context, id uuid.UUID) error {
	for {
		moving, err := q.store.ClassMoving(ctx, id)
		if err != nil || !moving {
			return err
		}
		if !pause(ctx, lookAtClass) {
			return ctx.Err()
		}
	}
}
