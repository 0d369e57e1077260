package api

import (
	"context"
	"slices"

	"knifedesk/db"
	"knifedesk/geometry/budget"
	"knifedesk/jobs"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
)

// onLoads finds the pieces of a plan that lie as these regions on loads of the class set
// that it is a member of. Copies are counted on each group of loads anew, so they get
// numbers in the order in which they are met: of what is cut again only how many they are
// counts, and what is of one copy.
func (s classSets) onLoads(ctx context.Context, old db.Plan, named []RecutRegion) ([]jobs.Spoiled, error) {
	loads, err := loadsOf(ctx, s.orders, old)
	if err != nil {
		return nil, err
	}
	m, err := mapOf(ctx, s.orders, old)
	if err != nil {
		return nil, err
	}
	type onGroup struct {
		group *queue.ClassGroup
		copy  int
	}
	var copies []onGroup
	shares := map[*queue.ClassGroup]*share.Share{}
	all := make([]jobs.Spoiled, len(named))
	for i, n := range named {
		at := slices.IndexFunc(loads, func(l queue.ClassLoad) bool { return l.Number == n.Load })
		if at < 0 || len(loads[at].Group.Keys) == 0 { // or somebody who lies on it was erased
			return nil, notOnLoad()
		}
		if loads[at].Issued == nil { // what it holds may change yet
			return nil, fromClass(queue.ErrNotIssued)
		}
		g := loads[at].Group
		if shares[g] == nil {
			found, err := s.orders.jobs.Shared(ctx, g.Keys)
			if err != nil {
				return nil, err
			}
			shares[g] = s.orders.list.Share.In(found)
		}
		part, ok := shares[g].PartOn(loads[at].Load.Number, n.Region)
		if !ok || part.Code != g.Plans[old.ID] {
			return nil, notOnLoad()
		}
		one := onGroup{g, part.Copy}
		if !slices.Contains(copies, one) {
			copies = append(copies, one)
		}
		all[i].Copy = 1 + slices.Index(copies, one)
		err := budget.Run(ctx, func(b *budget.Budget) { all[i].Piece = m.KeptAt(b, part.At) })
		if err != nil {
			return nil, err
		}
		if all[i].Piece == 0 {
			return nil, notOnLoad()
		}
	}
	return all, nil
}

// loadsOf lists the loads of the class set of a plan; none where it is in none.
func loadsOf(ctx context.Context, s plans, p db.Plan) ([]queue.ClassLoad, error) {
	groups, err := s.store.ClassGroupsOf(ctx, p.ID)
	if err != nil || len(groups) == 0 {
		return nil, err
	}
	v, err := s.jobs.ClassSet(ctx, p.Client, groups[0].Set)
	if err != nil {
		return nil, err
	}
	return v.Loads, nil
}

// mapOf is the weeding map of a plan.
func mapOf(ctx context.Context, s plans, p db.Plan) (*weeding.Map, error) {
	found, err := s.results(ctx, p.ID)
	if err != nil {
		return nil, err
	}
	all, err := found.one(ctx, s.list.Weeding.Row().Name)
	if err != nil {
		return nil, err
	}
	return s.list.Weeding.In(all), nil
}

func notOnLoad() error {
	return unprocessable("regions", "unknown_piece", "The plan has nothing that stays under this number on this load.",
		"Take the load's number in the class set, and from the weeding map of that load the number of what stays; each member is cut again of its own plan.")
}
