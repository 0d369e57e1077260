package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// Why a load of a class set is not handed out or ended.
var (
	ErrNoLoad    = errors.New("queue: the class set has no such load")
	ErrOtherLoad = errors.New("queue: another load has that number by now")
	ErrUnsettled = errors.New("queue: the class set is still worked out")
	ErrNotIssued = errors.New("queue: the load was not handed out")
)

// ClassGroup is a group of a set as callers read it.
type ClassGroup struct {
	db.ClassGroup
	Digest *class.Group         // nil until it is ready
	Codes  map[string]string    // references by code, of those who are still in it
	Plans  map[uuid.UUID]string // codes by plan, of the same
}

// StockOf is the ID of the stock that a group is laid on; empty where it cannot be read.
func StockOf(g db.ClassGroup) string {
	var r plan.Request
	_ = json.Unmarshal(g.Request, &r) // its text is the program's own
	return r.Stock.ID
}

// ClassLoad is a load of a set as callers read it.
type ClassLoad struct {
	Number int // in the set
	Group  *ClassGroup
	Load   class.GroupLoad
	Issued *time.Time // nil: it was not handed out
	Cut    *time.Time
	Done   *time.Time
}

// same says whether the same pieces lie on two loads in the same way.
func (l ClassLoad) same(as ClassLoad) bool {
	return l.Group.ID == as.Group.ID && l.Load.Number == as.Load.Number && slices.Equal(l.Group.Keys, as.Group.Keys)
}

// LoadStep is one step of a load on its way.
type LoadStep struct {
	Number int        // in the set
	Cut    bool       // it is cut
	Done   bool       // it is done; neither: it is handed out
	Seen   *ClassLoad // what the caller takes it for; nil: whatever has that number
}

// classLoads reads the groups of a set and its loads, by number: those that were handed
// out keep theirs, and the others take the free ones in their order.
func classLoads(ctx context.Context, q db.Queries, set uuid.UUID) ([]*ClassGroup, []ClassLoad, error) {
	kept, err := q.ClassGroups(ctx, set)
	if err != nil {
		return nil, nil, err
	}
	parts, err := q.ClassParts(ctx, set)
	if err != nil {
		return nil, nil, err
	}
	issued, err := q.ClassLoads(ctx, set)
	if err != nil {
		return nil, nil, err
	}
	var groups []*ClassGroup
	var loads []ClassLoad
	next := 1
	for _, g := range kept {
		one := &ClassGroup{ClassGroup: g, Codes: map[string]string{}, Plans: map[uuid.UUID]string{}}
		if one.Digest, err = groupDigest(g); err != nil {
			return nil, nil, err
		}
		for _, p := range parts {
			if p.Group == g.ID {
				one.Codes[codeText(p.Code)], one.Plans[p.Plan] = p.Reference, codeText(p.Code)
			}
		}
		groups = append(groups, one)
		loads, next = one.number(loads, issued, next)
	}
	slices.SortFunc(loads, func(a, b ClassLoad) int { return a.Number - b.Number })
	return groups, loads, nil
}

// number adds the loads of a group to others.
func (g *ClassGroup) number(loads []ClassLoad, issued []db.ClassLoad, next int) ([]ClassLoad, int) {
	if g.Digest == nil {
		return loads, next
	}
	for _, load := range g.Digest.Loads {
		l := ClassLoad{Group: g, Load: load}
		at := slices.IndexFunc(issued, func(i db.ClassLoad) bool { return i.Group == g.ID && i.Load == load.Number })
		switch {
		case at >= 0:
			l.Number, l.Issued, l.Cut, l.Done = issued[at].Number, &issued[at].Issued, issued[at].Cut, issued[at].Done
		case !g.Current:
			continue // it is laid anew elsewhere
		default:
			for slices.ContainsFunc(issued, func(i db.ClassLoad) bool { return i.Number == next }) {
				next++
			}
			l.Number = next
			next++
		}
		loads = append(loads, l)
	}
	return loads, next
}

// IssueLoad notes that a load of a set of client was handed out, or that one which was
// is cut or done. Doing so again changes nothing. ErrUnsettled: while the set is worked out
// nobody knows what a load will hold. ErrOtherLoad: it is not what the caller has seen.
func (q classes) IssueLoad(ctx context.Context, client string, set uuid.UUID, step LoadStep) error {
	number := step.Number
	return q.store.InTx(ctx, func(tx db.Tx) error {
		if _, err := tx.LockClassSet(ctx, client, set); err != nil {
			return err
		}
		_, loads, err := classLoads(ctx, tx.Queries, set)
		if err != nil {
			return err
		}
		at := slices.IndexFunc(loads, func(l ClassLoad) bool { return l.Number == number })
		if at < 0 {
			return fmt.Errorf("%w: %d", ErrNoLoad, number)
		}
		l := loads[at]
		switch {
		case step.Seen != nil && !l.same(*step.Seen):
			return ErrOtherLoad
		case (step.Cut || step.Done) && l.Issued == nil:
			return ErrNotIssued
		case step.Cut:
			err = tx.CutClassLoad(ctx, set, number)
		case step.Done:
			err = tx.EndClassLoad(ctx, set, number)
		case l.Issued != nil:
			return nil
		default:
			if looked, err := tx.ClassLaid(ctx, set); err != nil || !looked {
				return errors.Join(err, ErrUnsettled)
			}
			err = tx.AddClassLoad(ctx, db.ClassLoad{Set: set, Number: number, Group: l.Group.ID, Load: l.Load.Number})
		}
		if err != nil {
			return err
		}
		return tx.TouchClassSet(ctx, set)
	})
}

// Shared returns the results of a group by their keys. db.ErrNotFound: one is gone.
func (q classes) Shared(ctx context.Context, keys []string) (jobs.Results, error) {
	by := map[string]string{}
	for i, k := range keys {
		by[strconv.Itoa(i)] = k
	}
	return q.Results(ctx, by)
}
