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
	Moves   bool          // something of it is still worked out
	Share   float64       // of the laying of its loads, from 0 to 1; 0: it does not say
	Members []ClassMember // by reference
	Roster  []string
	Groups  []*ClassGroup
	Loads   []ClassLoad // by number
}

// ClassMember is a member of a set with its plan.
type ClassMember struct {
	Reference string
	Code      string // what its work is marked with; empty: not decided yet
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
		m := ClassMember{Reference: p.Reference, Received: p.Received, PlanView: seen}
		if p.Code > 0 {
			m.Code = codeText(p.Code)
		}
		v.Members = append(v.Members, m)
	}
	if v.Moves, err = q.store.ClassMoves(ctx, id); err != nil {
		return nil, err
	}
	v.Groups, v.Loads, err = classLoads(ctx, q.store.Queries, id)
	v.Share = laid(v.Groups)
	return v, err
}

// laid is how far the loads of all groups that are worked out are in the mean, from 0 to 1.
func laid(groups []*ClassGroup) float64 {
	sum, n := 0., 0.
	for _, g := range groups {
		if g.Current && g.Status == groupWorking {
			n++
			if g.Share != nil {
				sum += *g.Share
			}
		}
	}
	return sum / max(1, n)
}

// lookAtClass is how often it is looked whether a set has come to rest.
const lookAtClass = 150 * time.Millisecond

// WaitClassSet returns once nothing of a set is worked out any more, or with the error
// of ctx.
func (q classes) WaitClassSet(ctx context.Context, id uuid.UUID) error {
	for {
		moving, err := q.store.ClassMoves(ctx, id)
		if err != nil || !moving {
			return err
		}
		if !pause(ctx, lookAtClass) {
			return ctx.Err()
		}
	}
}
