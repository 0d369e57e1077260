package weeding

import "knifedesk/geometry/budget"

// sets are disjoint sets of numbers, joined one pair after the other.
type sets struct {
	budget *budget.Budget
	root   []int
}

// newSets returns n sets of one number each.
func newSets(b *budget.Budget, n int) sets {
	s := sets{b, make([]int, n)}
	for i := range s.root {
		s.root[i] = i
	}
	return s
}

func (s sets) find(i int) int {
	for s.root[i] != i {
		s.budget.Step()
		s.root[i] = s.root[s.root[i]]
		i = s.root[i]
	}
	return i
}

// join makes one set of those of two numbers, called by its lowest.
func (s sets) join(i, j int) {
	p, q := s.find(i), s.find(j)
	s.root[max(p, q)] = min(p, q)
}

// all returns the sets in the order of their lowest numbers, each in ascending order.
func (s sets) all() [][]int {
	number := map[int]int{}
	var all [][]int
	for i := range s.root {
		k, seen := number[s.find(i)]
		if !seen {
			k = len(all)
			number[s.find(i)] = k
			all = append(all, nil)
		}
		all[k] = append(all[k], i)
	}
	return all
}
