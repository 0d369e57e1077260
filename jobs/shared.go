package jobs

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"knifedesk/jobs/estimate"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
)

// Sharer is one of several drawings that are to share loads: what is said of it, and the
// key of its weeding map.
type Sharer struct {
	share.Member
	Map Key
}

// SharedNodes returns the nodes that lay the work of several drawings on common loads, in
// the order of the rows: the shared loads, their passes and their estimate. What they read
// of the request is the same for all members; its own members and copies do not count. The
// keys do not depend on the order in which members are given. It fails where two have one
// code.
func (l *List) SharedNodes(request *plan.Request, members []Sharer) ([]Node, error) {
	members = slices.Clone(members)
	slices.SortFunc(members, func(a, b Sharer) int { return cmp.Compare(a.Code, b.Code) })
	r := *request
	r.Copies, r.Members = 1, nil
	var maps []Key
	for i, m := range members {
		if i > 0 && members[i-1].Code == m.Code {
			return nil, fmt.Errorf("jobs: two members have the code %q", m.Code)
		}
		r.Members, maps = append(r.Members, m.Member), append(maps, m.Map)
	}
	nodes := make([]Node, 0, len(l.Shared))
	keys := map[*Row]Key{}
	for _, row := range l.Shared {
		needs := maps
		if !row.every {
			needs = nil
			for _, n := range row.needs {
				needs = append(needs, keys[n])
			}
		}
		node, err := NewNode(row, &r, Sum{}, needs...)
		if err != nil {
			return nil, err
		}
		keys[row] = node.Key
		nodes = append(nodes, node)
	}
	return nodes, nil
}

func readsShare(r *plan.Request) share.Request {
	return share.Request{Layout: readsLayout(r), Members: r.Members}
}

func runShare(ctx context.Context, q share.Request, maps []*weeding.Map) (*share.Share, error) {
	return share.Lay(ctx, q, maps)
}

func runSharedPasses(ctx context.Context, q passes.Request, s *share.Share) (*passes.Plan, error) {
	return passes.Order(ctx, nil, &s.Layout, q)
}

func runSharedEstimate(_ context.Context, q estimate.Request, s *share.Share, p *passes.Plan) (*estimate.Estimate, error) {
	return estimate.Of(q, &weeding.Map{}, &s.Layout, p), nil
}
