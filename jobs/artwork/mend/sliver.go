package mend

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
)

// What a closed outline is when it encloses nothing that a knife could leave
// standing: one line drawn there and back (common practice, no source).
const (
	sliverMM    = 0.01 // its sides come this near to each other everywhere
	sliverEnds  = math.Pi / 3
	sliverParts = 500 // longer outlines are left to the search for duplicates
)

// slivers replaces each closed outline thinner than sliverMM by one of its two
// sides. As duplicates of each other its sides would open the outline, which it
// is not.
func slivers(b *budget.Budget, strokes []artwork.Stroke) ([]artwork.Stroke, removal) {
	var gone removal
	out := make([]artwork.Stroke, len(strokes))
	for i, s := range strokes {
		b.Spend(1 + len(s.Path.Segments))
		if side, ok := sideOfSliver(b, s.Path); ok {
			gone.count++
			gone.saved.add(max(0, s.Path.LengthIn(b)-side.LengthIn(b)))
			gone.places = append(gone.places, placeOf(&s, s.Path.Bounds()))
			s.Path, s.Fill, s.Slit = side, "", true
		}
		out[i] = s
	}
	return out, gone
}

// sideOfSliver returns one side of a closed outline whose two sides run along
// each other, from one of its ends to the other; ok is false for any other.
func sideOfSliver(b *budget.Budget, p geometry.Path) (side geometry.Path, ok bool) {
	n := len(p.Segments)
	if !p.Closed || n < 2 || n > sliverParts || math.Abs(p.Area()) > sliverMM/2*p.LengthIn(b) {
		return side, false
	}
	all := pieces(p)
	for i := range all {
		if math.Abs(turnAt(all[(i+n-1)%n], all[i])) < sliverEnds {
			continue
		}
		way, back := halves(all, i)
		if len(back) > 0 && within(b, way, back) && within(b, back, way) {
			side = geometry.Path{Start: way[0].from}
			for _, q := range way {
				side.Segments = append(side.Segments, q.seg)
			}
			return settled(b, side), true
		}
	}
	return side, false
}

// halves parts the pieces of a closed path that begins with piece i at the
// vertex nearest to half its length.
func halves(all []piece, i int) (way, back []piece) {
	n, length := len(all), 0.0
	turned := append(append(make([]piece, 0, n), all[i:]...), all[:i]...)
	for _, q := range turned {
		length += q.length()
	}
	at, best, cut := 0.0, math.Inf(1), n
	for k, q := range turned {
		at += q.length()
		if off := math.Abs(at - length/2); off < best {
			best, cut = off, k+1
		}
	}
	return turned[:cut], turned[cut:]
}

// within reports whether the pieces run within sliverMM of others.
func within(b *budget.Budget, ps, others []piece) bool {
	for _, p := range ps {
		for t := 0.0; t <= 1; t += 0.25 {
			b.Spend(len(others))
			if !beside(p.at(t), others) {
				return false
			}
		}
	}
	return true
}

func beside(p geometry.Point, others []piece) bool {
	for _, o := range others {
		if _, d, _ := o.foot(p); d <= sliverMM {
			return true
		}
	}
	return false
}
