package share_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/property"
	"knifedesk/jobs"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"

	"pgregory.net/rapid"
)

// The keys of common loads do not depend on the order in which members come, but on all
// that is said of them; and two of one code are refused.
func TestKeysDoNotDependOnTheOrderOfMembers(t *testing.T) {
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "card-160-a4"})
	if err != nil {
		t.Fatal(err)
	}
	member := func(code, key string, copies int) jobs.Sharer {
		return jobs.Sharer{Member: share.Member{Code: code, Copies: copies}, Map: jobs.Key(key)}
	}
	keys := func(members ...jobs.Sharer) (all []jobs.Key) {
		nodes, err := list.SharedNodes(request, members)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range nodes {
			all = append(all, n.Key)
		}
		return all
	}
	a, b := member("A", "1", 1), member("B", "2", 1)
	one := keys(a, b)
	if !slices.Equal(one, keys(b, a)) {
		t.Error("in another order the keys are others")
	}
	for _, other := range [][]jobs.Sharer{{a, member("B", "2", 2)}, {a, member("B", "3", 1)}, {a, member("C", "2", 1)}, {a}} {
		if slices.Equal(one, keys(other...)) {
			t.Errorf("%+v has the same keys", other)
		}
	}
	if _, err := list.SharedNodes(request, []jobs.Sharer{a, a}); err == nil {
		t.Error("two members of one code are taken")
	}
}

// Whole parts sum to the amount, none is more than one off its exact share, and an equal
// share is an equal part, to one.
func TestDivide(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		amount := rapid.Int64Range(-1_000_000_000, 1_000_000_000).Draw(t, "amount")
		shares := rapid.SliceOfN(rapid.Int64Range(0, 1_000_000), 1, 12).Draw(t, "shares")
		sum, of := int64(0), int64(0)
		parts := share.Divide(amount, shares)
		for i, p := range parts {
			sum, of = sum+p, of+shares[i]
		}
		if of == 0 {
			return
		}
		if sum != amount {
			t.Fatalf("parts %v of %d sum to %d", parts, amount, sum)
		}
		for i, p := range parts {
			if exact := float64(amount) * float64(shares[i]) / float64(of); float64(p) < exact-1 || float64(p) > exact+1 {
				t.Fatalf("part %d is %d, its share is %g", i, p, exact)
			}
		}
	})
	if got := share.Divide(100, []int64{1, 1, 1}); !slices.Equal(got, []int64{34, 33, 33}) {
		t.Errorf("100 in three: %v", got)
	}
}

// What differs in stock, hold, machine, purpose or mirroring lies on other loads; the
// groups come in the order of their stocks, and members keep theirs.
func TestGroups(t *testing.T) {
	teal, card := share.Terms{Stock: "film-teal"}, share.Terms{Stock: "card"}
	turned := teal
	turned.Mirrored = true
	terms := map[string]share.Terms{"1": teal, "2": card, "3": turned, "4": teal, "5": {Stock: "card", Purpose: weeding.Stencil}}
	var got [][]string
	for _, g := range share.Groups([]string{"1", "2", "3", "4", "5"}, func(m string) share.Terms { return terms[m] }) {
		got = append(got, g.Members)
	}
	want := [][]string{{"2"}, {"5"}, {"1", "4"}, {"3"}}
	if !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("groups %v, want %v", got, want)
	}
}

// Requests that make no sense are refused.
func TestRequestsWithoutSense(t *testing.T) {
	ok := onStock(t, "card-160-a4", weeding.Pieces)
	ok.add(t, 1, ok.cuts(plate(40, 30)...)...)
	ok.add(t, 1, ok.cuts(plate(40, 30)...)...)
	for want, spoil := range map[string]func(*set){
		"layout: members.copies: M001 has none":                                        func(s *set) { s.req.Members[0].Copies = 0 },
		"layout: members.copies: M002 has none":                                        func(s *set) { s.req.Members[1].Spares = -1 },
		"layout: members: M001 is not after the one before it":                         func(s *set) { s.req.Members[1].Code = s.req.Members[0].Code },
		"layout: members: M000 is not after the one before it":                         func(s *set) { s.req.Members[1].Code = "M000" },
		"layout: members: there is not one weeding map for each":                       func(s *set) { s.maps = s.maps[:1] },
		"layout: members: there is not one weeding map for each ":                      func(s *set) { s.maps, s.req.Members = nil, nil },
		"layout: members: M002 is of another purpose, or mirrored unlike the others":   func(s *set) { s.change(1).Purpose = weeding.Stencil },
		"layout: members: M002 is of another purpose, or mirrored unlike the others  ": func(s *set) { s.change(1).Mirrored = true },
	} {
		s := &set{req: ok.req, maps: slices.Clone(ok.maps)}
		s.req.Members = slices.Clone(ok.req.Members)
		spoil(s)
		_, err := share.Lay(t.Context(), s.req, s.maps)
		var refused *layout.RequestError
		if !errors.As(err, &refused) || err.Error() != strings.TrimSpace(want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// change makes the map of a member one of its own, to be changed.
func (s *set) change(member int) *weeding.Map {
	m := *s.maps[member]
	s.maps[member] = &m
	return &m
}
