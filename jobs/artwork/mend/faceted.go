package mend

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
)

// The chords of a curve that was turned into straight pieces: how much they
// turn and may differ, how many make a curve, and how far off it they show.
const (
	leastTurn   = 2 * math.Pi / 180
	mostTurn    = 25 * math.Pi / 180
	alike       = 0.05 // relative difference of lengths and turns
	leastFacets = 6
	facetMM     = 0.05
)

// Faceted finds curves drawn as equal straight pieces that are long enough to
// show: runs of chords of the same length that turn by the same angle and stray
// by more than facetMM from the arc they stand for. Those that stray less and are
// all the same too far off to be drawn as arcs do not show, but the knife slows
// down at each of their corners: slow lists them. MostMM is the largest of these
// distances.
func Faceted(b *budget.Budget, strokes []artwork.Stroke) (shown, slow Spots) {
	for i := range strokes {
		worst, box := 0.0, geometry.EmptyBox()
		for _, f := range facets(b, strokes[i].Path) {
			worst, box = math.Max(worst, f.sagitta), box.Union(f.box)
		}
		switch {
		case worst > facetMM:
			shown.add(placeOf(&strokes[i], box), worst)
		case worst > arcMM:
			slow.add(placeOf(&strokes[i], box), worst)
		}
	}
	shown.Places, slow.Places = sortedPlaces(b, shown.Places), sortedPlaces(b, slow.Places)
	return shown, slow
}

// facet is a run of equal chords.
type facet struct {
	sagitta float64 // distance of a chord's middle from the arc through its ends
	box     geometry.Box
}

func facets(b *budget.Budget, p geometry.Path) []facet {
	var all []facet
	ps := pieces(p)
	for i := 0; i+1 < len(ps); {
		j := i + 1
		first := turnAt(ps[i], ps[j])
		for j < len(ps) && equalTurn(ps[i], ps[j-1], ps[j], first) {
			j++
		}
		b.Spend(j - i)
		if n := j - i; n >= leastFacets {
			box := geometry.EmptyBox()
			for _, q := range ps[i:j] {
				box = box.Union(q.box())
			}
			all = append(all, facet{ps[i].length() / 2 * math.Tan(math.Abs(first)/4), box})
		}
		i = max(j-1, i+1)
	}
	return all
}

func turnAt(a, b piece) float64 {
	u, v := a.tangent(1), b.tangent(0)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

// equalTurn reports whether b goes on from a as the chords since first do.
func equalTurn(first, a, b piece, turn float64) bool {
	if !first.straight() || !a.straight() || !b.straight() {
		return false
	}
	t, l := turnAt(a, b), first.length()
	return math.Abs(turn) >= leastTurn && math.Abs(turn) <= mostTurn &&
		math.Abs(t-turn) <= alike*math.Abs(turn) && math.Abs(b.length()-l) <= alike*l
}
