package passes

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

const (
	neckMM    = 1   // what is narrower is a thin neck (common practice, no source)
	neckChord = 0.1 // mm, how exactly the width is looked at
)

// narrows finds where cut lines come near each other.
type narrows struct {
	chords [][2]geometry.Point
	owner  []int
	along  []float64 // length of the contour before each chord
	whole  []float64 // length of each contour
	tree   *near.Tree
}

func newNarrows(b *budget.Budget, strokes []artwork.Stroke) *narrows {
	n := &narrows{whole: make([]float64, len(strokes))}
	var boxes []geometry.Box
	for i := range strokes {
		pts := strokes[i].Path.Flatten(neckChord)
		b.Spend(1 + len(pts))
		for k := 1; k < len(pts); k++ {
			n.chords = append(n.chords, [2]geometry.Point{pts[k-1], pts[k]})
			n.owner, n.along = append(n.owner, i), append(n.along, n.whole[i])
			boxes = append(boxes, geometry.BoxAround(pts[k-1], pts[k]))
			n.whole[i] += pts[k-1].Dist(pts[k])
		}
	}
	n.tree = near.NewTree(b, boxes)
	return n
}

// clear returns those of the starts of a contour that lie away from thin necks; all of
// them where none does.
func (n *narrows) clear(b *budget.Budget, owner int, all []start) []start {
	all = thinned(all)
	var good []start
	for _, one := range all {
		if !n.narrow(b, owner, one.at) {
			good = append(good, one)
		}
	}
	if good == nil {
		return all
	}
	return good
}

// narrow reports whether a neck ends at a place on a contour: another line, or the
// contour itself after a way of some neck widths, passes near.
func (n *narrows) narrow(b *budget.Budget, owner int, p geometry.Point) bool {
	found, own := false, -1.0 // own: how far along the contour p lies
	var others []int
	n.tree.Each(b, geometry.BoxAround(p).Grow(neckMM), func(k int) bool {
		b.Step()
		if n.surelyOff(p, k) {
			return true
		}
		off := p.DistToSegment(n.chords[k][0], n.chords[k][1])
		switch {
		case off >= neckMM:
		case n.owner[k] != owner:
			found = true
		default:
			if off < neckChord*2 && own < 0 {
				own = n.along[k] + n.chords[k][0].Dist(p)
			}
			others = append(others, k)
		}
		return !found
	})
	for _, k := range others {
		way := n.along[k] - own
		if way < 0 {
			way = -way
		}
		if own >= 0 && min(way, n.whole[owner]-way) > 3*neckMM+n.chords[k][0].Dist(n.chords[k][1]) {
			found = true
		}
	}
	return found
}

// surelyOff reports whether a chord is certainly no neck's width from p: it spares most of
// the roots.
func (n *narrows) surelyOff(p geometry.Point, chord int) bool {
	const most = neckMM * (1 + 1e-9) // with what rounding may add
	a := n.chords[chord][0]
	way, to := n.chords[chord][1].Sub(a), p.Sub(a)
	if all := way.Dot(way); all > 0 {
		to = to.Sub(way.Mul(min(max(to.Dot(way)/all, 0), 1)))
	}
	return to.Dot(to) > most*most
}
