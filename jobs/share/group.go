package share

import (
	"cmp"
	"slices"

	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Terms are what drawings must have in common to lie on one load. What a workshop stocks
// in several colours it lists as several stocks, so the stock says the colour too.
type Terms struct {
	Stock    string          `json:"stock"` // its ID
	Hold     workshop.Hold   `json:"hold"`
	Machine  string          `json:"machine"` // its ID
	Purpose  weeding.Purpose `json:"purpose"`
	Mirrored bool            `json:"mirrored,omitempty"`
}

// compare orders terms by stock first.
func (t Terms) compare(u Terms) int {
	truth := func(b bool) int {
		if b {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(t.Stock, u.Stock), cmp.Compare(t.Hold, u.Hold), cmp.Compare(t.Machine, u.Machine),
		cmp.Compare(t.Purpose, u.Purpose), truth(t.Mirrored)-truth(u.Mirrored))
}

// Group is what may lie on common loads.
type Group[M any] struct {
	Terms   Terms
	Members []M
}

// Groups parts members by their terms: the groups in the order of those, and the members
// of each in the order in which they are given.
func Groups[M any](members []M, terms func(M) Terms) []Group[M] {
	var groups []Group[M]
	for _, m := range members {
		t := terms(m)
		at, found := slices.BinarySearchFunc(groups, t, func(g Group[M], t Terms) int { return g.Terms.compare(t) })
		if !found {
			groups = slices.Insert(groups, at, Group[M]{Terms: t})
		}
		groups[at].Members = append(groups[at].Members, m)
	}
	return groups
}
