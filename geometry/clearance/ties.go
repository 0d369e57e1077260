package clearance

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/disjoint"
)

// Tie is a straight line between two rings of a region, as short as any.
type Tie struct {
	From, To geometry.Point
	edges    [2]int // the edges on which it begins and ends
}

// Length returns the length of the tie in mm.
func (t Tie) Length() float64 { return t.From.Dist(t.To) }

// Slit joins the rings of a region by ties, and returns them with its boundary slit
// along them: one closed walk, the inside on its left, as NewRegion takes them.
func Slit(b *budget.Budget, rings ...[]geometry.Point) (Walk, []Tie) {
	r := newRegion(b, rings)
	ties := r.ties(b)
	return r.open(b, ties), ties
}

// ties returns lines that join all the rings into one: the shortest spanning
// tree over the shortest distances between rings, found by Borůvka's rounds.
//
// The lines of such a tree are clear by themselves. A shortest line between
// two rings stays as far from either as from the end on it. If it came nearer
// to a third ring than to one of its own ends, that ring would be nearer to
// both than they are to each other, and the tree would go by way of it. Hence
// beyond a length c from its ends a tie keeps c off every ring.
//
// Of lines of equal length, to a tenth of a nanometre, the one most along an
// axis is taken, and a level one before an upright one, so that the result does
// not depend on the order of the rings. As no two lines are equal then, there is
// one such tree, and the rounds may leave a group out: the largest has most to
// look at, and what it would find is found from the other side.
func (r *Region) ties(b *budget.Budget) []Tie {
	if len(r.edges) == 0 {
		return nil
	}
	t := newTying(b, r)
	reach := math.Sqrt(r.bounds.Width() * r.bounds.Height() / float64(t.runs))
	reach = math.Max(reach, alike)
	var found []proposal
	for now, farthest := reach, r.bounds.Min.Dist(r.bounds.Max); len(found) < r.Rings()-1; {
		n := len(found)
		for _, c := range t.round(now) {
			if c.ok && t.join(c) {
				found = append(found, c)
			}
		}
		if len(found) == n {
			if now > farthest {
				break
			}
			now *= 2
		}
	}
	return t.inRounds(found, reach)
}

// inRounds puts the lines of the tree in the order in which rounds find them in which
// every group looks, none farther than reach before it is doubled.
func (t *tying) inRounds(tree []proposal, reach float64) []Tie {
	var ties []Tie
	t.group = disjoint.New(t.r.Rings())
	for len(tree) > 0 {
		best := make([]proposal, t.r.Rings())
		for _, p := range tree {
			if t.budget.Step(); p.length <= reach {
				best[t.groupOf(p.edges[0])].improve(p)
				best[t.groupOf(p.edges[1])].improve(p)
			}
		}
		n := len(ties)
		for _, c := range best {
			if c.ok && t.join(c) {
				ties = append(ties, c.Tie)
			}
		}
		if len(ties) == n {
			reach *= 2
		}
		tree = slices.DeleteFunc(tree, func(p proposal) bool { return t.groupOf(p.edges[0]) == t.groupOf(p.edges[1]) })
	}
	return ties
}
