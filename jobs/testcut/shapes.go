package testcut

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
)

// Measures of a sheet in mm (common practice, no source).
const (
	margin            = 12 // free about all, for the lead-in
	rowCells          = 4
	pitchX, pitchY    = 23, 25
	firstX, firstY    = margin + 14, margin + 12 // of the lower left cell
	moonWidth         = 12
	keyLong           = 5
	keyHead, keyShaft = 1.2, 0.6 // half of what they are wide
	keyUp             = 2.3      // of its axis over the straight side of the moon
	barWide, barHigh  = 15, 10
	markOff, markTick = 6, 2.5 // of a mark from the corner; half of its end line
)

// place is where a cell lies: from the corner of the marks to the right, row by row.
func place(i int) geometry.Affine {
	return geometry.Translate(firstX+pitchX*float64(i%rowCells), firstY+pitchY*float64(i/rowCells))
}

// shapes returns what a cell shows of an operation, from its lower left corner, and
// the bar about it that is cut out last: a half-moon that holds a keyhole, or a line
// across a bar that is folded or torn there.
func shapes(op artwork.Operation) (own, bar []geometry.Path) {
	if op == artwork.Score || op == artwork.Perforate {
		across := geometry.Polyline(geometry.Pt(barWide/2., 0), geometry.Pt(barWide/2., barHigh))
		return []geometry.Path{across}, []geometry.Path{geometry.BoxAround(geometry.Point{}, geometry.Pt(barWide, barHigh)).Path()}
	}
	return []geometry.Path{keyhole(), halfMoon()}, nil
}

// halfMoon is half a disc on its straight side.
func halfMoon() geometry.Path {
	_, arc := geometry.CircleArc(geometry.Pt(moonWidth/2., 0), moonWidth/2., 0, math.Pi)
	p := geometry.Path{Start: geometry.Pt(0, 0), Segments: append([]geometry.Segment{geometry.LineTo(geometry.Pt(moonWidth, 0))}, arc...), Closed: true}
	p.Segments[len(p.Segments)-1].End = p.Start
	return p
}

// keyhole lies along the straight side of the half-moon: a round head with a shaft.
func keyhole() geometry.Path {
	left, right := (moonWidth-keyLong)/2., (moonWidth+keyLong)/2.
	centre := geometry.Pt(left+keyHead, keyUp)
	joint := geometry.Pt(centre.X+math.Sqrt(keyHead*keyHead-keyShaft*keyShaft), keyUp-keyShaft)
	up := geometry.Pt(joint.X, keyUp+keyShaft)
	half := geometry.Pt(left, keyUp)
	// The head goes round from the upper joint to the lower in two arcs alike.
	bulge := math.Tan((math.Pi - math.Asin(keyShaft/keyHead)) / 4)
	return geometry.Path{Start: joint, Closed: true, Segments: []geometry.Segment{
		geometry.LineTo(geometry.Pt(right, joint.Y)), geometry.LineTo(geometry.Pt(right, up.Y)), geometry.LineTo(up),
		geometry.ArcTo(bulge, half), geometry.ArcTo(bulge, joint),
	}}
}

// marks are two lines of MarkMM, across the feed and along it, with a short line
// square to each end from which to measure.
func marks() []geometry.Path {
	at := func(x, y float64) geometry.Point { return geometry.Pt(margin+x, margin+y) }
	var all []geometry.Path
	for _, turned := range [...]bool{false, true} {
		p := func(along, off float64) geometry.Point {
			if turned {
				return at(off, along)
			}
			return at(along, off)
		}
		all = append(all,
			geometry.Polyline(p(markOff, -markTick), p(markOff, markTick)),
			geometry.Polyline(p(markOff, 0), p(markOff+MarkMM, 0)),
			geometry.Polyline(p(markOff+MarkMM, -markTick), p(markOff+MarkMM, markTick)))
	}
	return all
}

// Marks returns where the two marks lie on the load, across the feed and along it.
func (s *Sheet) Marks() (across, along geometry.Box) {
	all := marks()
	across, along = geometry.EmptyBox(), geometry.EmptyBox()
	for i, p := range all {
		if i < len(all)/2 {
			across = across.Union(p.Bounds())
		} else {
			along = along.Union(p.Bounds())
		}
	}
	return across, along
}
