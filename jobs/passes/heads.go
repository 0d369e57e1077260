package passes

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
)

// swung is a direction on the load.
func swung(onto geometry.Affine, d geometry.Point) geometry.Point {
	return onto.Apply(d).Sub(onto.Apply(geometry.Point{}))
}

// ends returns the headings in which an open path sets out and ends.
func ends(path *geometry.Path) (first, last geometry.Point) {
	from := path.Start
	for _, s := range path.Segments {
		in, out := knife.Headings(from, s)
		if first == (geometry.Point{}) {
			first = in
		}
		if out != (geometry.Point{}) {
			last = out
		}
		from = s.End
	}
	return first, last
}

// heads notes down in which directions a closed path sets out from its starts, and where
// and in which direction it ends after an overcut.
func heads(b *budget.Budget, path *geometry.Path, all []start, overcut float64) {
	for i := range all {
		one := &all[i]
		from := path.Start
		if one.segment > 0 {
			from = path.Segments[one.segment-1].End
		}
		at := path.Segments[one.segment]
		if one.along > 0 {
			_, rest := knife.Split(from, at, one.along)
			from, at = one.at, rest
		}
		one.first, one.last = knife.Headings(from, at)
		one.end = one.at
		left := overcut
		for k := one.segment; ; at = path.Segments[k] {
			b.Spend(4)
			length := at.Length(from)
			if left < length {
				one.end, one.last = onWay(from, at, left/length)
				break
			}
			left, from = left-length, at.End
			if k = (k + 1) % len(path.Segments); k == one.segment {
				break
			}
		}
	}
}

// onWay returns about where a segment is after a share of its length, and its heading
// there: on a curve by its parameter, since turns of some degrees cost nothing.
func onWay(from geometry.Point, s geometry.Segment, share float64) (at, heading geometry.Point) {
	if s.Kind == geometry.Cubic {
		if way := geometry.CubicTangent(from, s, share); way != (geometry.Point{}) {
			return geometry.CubicAt(from, s, share), way.Unit()
		}
	}
	piece, rest := knife.Split(from, s, share)
	heading, _ = knife.Headings(piece.End, rest)
	return piece.End, heading
}
