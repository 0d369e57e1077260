package disjoint_test

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"knifedesk/geometry/disjoint"
)

// Sets are those that one gets by giving all numbers of two sets the lower of their labels,
// worked out here.
func TestSets(t *testing.T) {
	r := rand.New(rand.NewPCG(28, 11))
	for range 200 {
		n := 1 + r.IntN(30)
		s, label := disjoint.New(n), make([]int, n)
		for i := range label {
			label[i] = i
		}
		for range r.IntN(n + 5) {
			i, j := r.IntN(n), r.IntN(n)
			a, b := label[i], label[j]
			if got := s.Join(i, j); got != (a != b) {
				t.Fatalf("joining %d and %d says %v", i, j, got)
			}
			for k := range label {
				if label[k] == max(a, b) {
					label[k] = min(a, b)
				}
			}
		}
		var want [][]int
		for first := range n {
			var one []int
			for k, l := range label {
				if l == first {
					one = append(one, k)
				}
			}
			if one != nil {
				want = append(want, one)
			}
			if got := s.Find(first); got != label[first] {
				t.Fatalf("%d is in the set of %d, want %d", first, got, label[first])
			}
		}
		if got := s.All(); !reflect.DeepEqual(got, want) {
			t.Fatalf("%v, want %v", got, want)
		}
	}
}
