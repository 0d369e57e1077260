package clearance

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// candidates keeps the smallest balls seen at places apart from each other;
// only these are worth refining.
type candidates struct{ kept []candidate }

type candidate struct {
	site site
	ball ball
}

// maxCandidates bounds the refined places of a region. The least width is the
// refined one of a site whose own width is among the smallest, so a few do.
const maxCandidates = 3

func (c *candidates) offer(s site, b ball) {
	for i, k := range c.kept {
		if k.ball.centre.Dist(b.centre) < k.ball.radius {
			if b.radius < k.ball.radius {
				c.kept[i] = candidate{s, b}
			}
			return
		}
	}
	c.kept = append(c.kept, candidate{s, b})
	slices.SortStableFunc(c.kept, func(a, b candidate) int { return cmp.Compare(a.ball.radius, b.ball.radius) })
	if len(c.kept) > maxCandidates {
		c.kept = c.kept[:maxCandidates]
	}
}

// worst returns the largest radius kept and whether the list is full.
func (c *candidates) worst() (float64, bool) {
	if len(c.kept) < maxCandidates {
		return 0, false
	}
	worst := 0.0
	for _, k := range c.kept {
		worst = math.Max(worst, k.ball.radius)
	}
	return worst, true
}

// necks gathers the places narrower than limit that lie within it of each other.
func (m *measure) necks(limit float64) []Neck {
	var narrow []narrowPlace
	for _, p := range m.narrow {
		m.budget.Step()
		if p.width < limit {
			narrow = append(narrow, p)
		}
	}
	if len(narrow) == 0 {
		return nil
	}
	group := m.linkNear(narrow, math.Max(limit, 2*m.spacing))
	var necks []Neck
	number := map[int]int{}
	for i, p := range narrow {
		m.budget.Step()
		k, seen := number[group.find(i)]
		if !seen {
			k = len(necks)
			number[group.find(i)] = k
			necks = append(necks, Neck{WidthMM: math.Inf(1), Box: geometry.EmptyBox()})
		}
		n := &necks[k]
		n.Box = n.Box.Include(p.centre)
		n.LengthMM += p.share / 2 // each stretch has two sides
		n.AreaMM2 += p.share / 2 * p.width
		if p.width < n.WidthMM {
			n.WidthMM, n.At = p.width, p.centre
		}
	}
	for i := range necks {
		n := &necks[i]
		across, mean := n.Box.Min.Dist(n.Box.Max), n.WidthMM
		if n.LengthMM > 0 {
			mean = n.AreaMM2 / n.LengthMM
		}
		n.LengthMM = math.Max(n.LengthMM, across)
		n.AreaMM2 = n.LengthMM * mean
	}
	slices.SortStableFunc(necks, func(a, b Neck) int {
		m.budget.Step()
		return cmp.Compare(a.WidthMM, b.WidthMM)
	})
	return necks
}

// linkNear joins narrow places whose cells of the given size touch.
func (m *measure) linkNear(narrow []narrowPlace, cell float64) sets {
	group := newSets(len(narrow))
	type key struct{ x, y int64 }
	first := map[key]int{}
	last := key{math.MaxInt64, 0}
	for i, p := range narrow {
		k := key{int64(math.Floor(p.centre.X / cell)), int64(math.Floor(p.centre.Y / cell))}
		if k == last { // the place before has met all there is round it
			m.budget.Step()
			group.join(i, first[k])
			continue
		}
		last = k
		m.budget.Spend(9) // look-ups
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				if j, ok := first[key{k.x + dx, k.y + dy}]; ok {
					group.join(i, j)
				}
			}
		}
		if _, ok := first[k]; !ok {
			first[k] = i
		}
	}
	return group
}

// sets is a union-find structure over 0…n−1.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join unites the sets of i and j and reports whether they were apart. The
// smaller root stays, so that the result does not depend on the order.
func (s sets) join(i, j int) bool {
	i, j = s.find(i), s.find(j)
	if i == j {
		return false
	}
	if j < i {
		i, j = j, i
	}
	s[j] = i
	return true
}
