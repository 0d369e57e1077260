// Package disjoint keeps disjoint sets of numbers, joined one pair after the other.
package disjoint

// Sets are sets of the numbers from 0 on: union-find with halved paths. Each is called by
// its lowest number, so that the result does not depend on the order of the pairs.
type Sets []int

// New returns n sets of one number each.
func New(n int) Sets {
	s := make(Sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

// Find returns the lowest number of the set of i.
func (s Sets) Find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// Join makes one set of those of i and j, and reports whether they were apart.
func (s Sets) Join(i, j int) bool {
	i, j = s.Find(i), s.Find(j)
	s[max(i, j)] = min(i, j)
	return i != j
}

// All returns the sets in the order of their lowest numbers, each in ascending order.
func (s Sets) All() [][]int {
	number := make(map[int]int, len(s))
	var all [][]int
	for i := range s {
		first := s.Find(i)
		if first == i {
			number[i] = len(all)
			all = append(all, nil)
		}
		all[number[first]] = append(all[number[first]], i)
	}
	return all
}
