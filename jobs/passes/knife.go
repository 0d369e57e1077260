package passes

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/workshop"
)

// KnifePath returns the path of the holder's axis for a drag knife whose tip
// is to cut path: tip + d·tangent, with d the blade's offset. Straight lines
// stay straight and arcs stay arcs; a Bézier curve is followed within half of
// geometry.DefaultChord. At a corner the axis runs an arc of radius d about the
// tip, which stands still while the blade turns. A closed path is followed
// past its closure by the blade's overcut.
func KnifePath(path geometry.Path, blade workshop.Blade) geometry.Path {
	return KnifePathFrom(path, blade, geometry.Point{}, 1)
}

// KnifePathFrom is KnifePath for a blade that points along heading when it is
// lowered, as the stroke before has left it: an arc about the start, the
// lead-in, turns it first. The zero heading stands for a blade already turned.
// A closed path is followed rounds times without a lift.
func KnifePathFrom(path geometry.Path, blade workshop.Blade, heading geometry.Point, rounds int) geometry.Path {
	path = cutLine(path, blade.OvercutMM, rounds)
	if blade.OffsetMM <= 0 || path.Empty() {
		return path
	}
	k := knife{d: blade.OffsetMM, tip: path.Start, heading: heading.Unit()}
	if k.heading == (geometry.Point{}) {
		k.heading = startHeading(path)
	}
	k.axis.Start = k.centre()
	for _, s := range path.Segments {
		k.follow(s)
	}
	return k.axis
}

// cutLine returns the line that the tip cuts: a closed path rounds times, past
// its closure by overcut; an open path as it is.
func cutLine(path geometry.Path, overcut float64, rounds int) geometry.Path {
	if !path.Closed || path.Empty() {
		return path
	}
	line := geometry.Path{Start: path.Start}
	for range max(1, rounds) {
		line.Segments = append(line.Segments, path.Segments...)
	}
	line.Segments = append(line.Segments, leading(path, overcut)...)
	return line
}

// leading returns the segments of the first length mm of path, at most all.
func leading(path geometry.Path, length float64) []geometry.Segment {
	var segs []geometry.Segment
	from := path.Start
	for _, s := range path.Segments {
		if length <= 0 {
			break
		}
		whole := s.Length(from)
		if whole > length {
			segs = append(segs, firstPart(from, s, length))
			break
		}
		segs = append(segs, s)
		length -= whole
		from = s.End
	}
	return segs
}

// firstPart returns the first length mm of s, which is longer than that.
func firstPart(from geometry.Point, s geometry.Segment, length float64) geometry.Segment {
	t := length / s.Length(from)
	switch {
	case s.Kind == geometry.Cubic:
		return cubicPart(from, s, length)
	case s.Kind == geometry.Arc && !s.Straight():
		c, r, start, sweep := geometry.ArcCircle(from, s)
		sin, cos := math.Sincos(start + sweep*t)
		return geometry.ArcTo(math.Tan(sweep*t/4), c.Add(geometry.Pt(r*cos, r*sin)))
	}
	return geometry.LineTo(from.Lerp(s.End, t))
}

// cubicPart cuts a Bézier curve where its length is reached, found by
// bisection to a millionth of the parameter, with de Casteljau's construction.
func cubicPart(from geometry.Point, s geometry.Segment, length float64) geometry.Segment {
	lo, hi := 0.0, 1.0
	part := s
	for hi-lo > 1e-6 {
		t := (lo + hi) / 2
		a, b, c := from.Lerp(s.C1, t), s.C1.Lerp(s.C2, t), s.C2.Lerp(s.End, t)
		ab, bc := a.Lerp(b, t), b.Lerp(c, t)
		part = geometry.CubicTo(a, ab, ab.Lerp(bc, t))
		if part.Length(from) < length {
			lo = t
		} else {
			hi = t
		}
	}
	return part
}

// knife follows a line with its tip and writes down where its axis runs.
type knife struct {
	d       float64
	tip     geometry.Point
	heading geometry.Point // unit vector from the tip to the axis
	axis    geometry.Path
}

func (k *knife) centre() geometry.Point { return k.tip.Add(k.heading.Mul(k.d)) }

// turn swings the axis about the tip to the new heading, the short way.
func (k *knife) turn(to geometry.Point) {
	if to == (geometry.Point{}) {
		return
	}
	angle := math.Atan2(k.heading.Cross(to), k.heading.Dot(to))
	if math.Abs(angle) > 1e-9 { // less moves the axis by under a picometre
		start := math.Atan2(k.heading.Y, k.heading.X)
		_, arc := geometry.CircleArc(k.tip, k.d, start, angle)
		k.axis.Segments = append(k.axis.Segments, arc...)
	}
	k.heading = to
}

func (k *knife) follow(s geometry.Segment) {
	switch {
	case s.Kind == geometry.Cubic:
		k.curve(s)
	case s.Kind == geometry.Arc && !s.Straight():
		k.arc(s)
	case s.End != k.tip:
		k.turn(s.End.Sub(k.tip).Unit())
		k.tip = s.End
		k.axis.Segments = append(k.axis.Segments, geometry.LineTo(k.centre()))
	}
}

// arc keeps the axis on a circle about the same centre: its distance from it
// is √(r²+d²) throughout.
func (k *knife) arc(s geometry.Segment) {
	if s.End == k.tip {
		return
	}
	first, last := arcHeadings(k.tip, s)
	k.turn(first)
	k.tip, k.heading = s.End, last
	k.axis.Segments = append(k.axis.Segments, geometry.ArcTo(s.Bulge, k.centre()))
}

func arcHeadings(from geometry.Point, s geometry.Segment) (first, last geometry.Point) {
	_, _, start, sweep := geometry.ArcCircle(from, s)
	quarter := math.Copysign(math.Pi/2, sweep)
	unit := func(a float64) geometry.Point { sin, cos := math.Sincos(a); return geometry.Pt(cos, sin) }
	return unit(start + quarter), unit(start + sweep + quarter)
}

// curve follows a Bézier curve in steps over which the tangent turns little.
func (k *knife) curve(s geometry.Segment) {
	from := k.tip
	steps := len(s.AppendFlat(nil, from, geometry.DefaultChord/2))
	for i := range steps {
		k.step(from, s, float64(i)/float64(steps), float64(i+1)/float64(steps), 0)
	}
}

// step goes from parameter t0 to t1, halved until the tangent turns by less
// than six degrees; what still turns after ten halvings is a corner.
func (k *knife) step(from geometry.Point, s geometry.Segment, t0, t1 float64, depth int) {
	first, last := cubicHeading(from, s, t0), cubicHeading(from, s, t1)
	const straight = 0.9945 // cos 6°
	if first.Dot(last) < straight && depth < 10 {
		mid := (t0 + t1) / 2
		k.step(from, s, t0, mid, depth+1)
		k.step(from, s, mid, t1, depth+1)
		return
	}
	k.turn(first)
	k.tip = geometry.CubicAt(from, s, t1)
	if t1 == 1 {
		k.tip = s.End
	}
	if first.Dot(last) < straight {
		k.axis.Segments = append(k.axis.Segments, geometry.LineTo(k.centre()))
		k.turn(last)
		return
	}
	k.heading = last
	k.axis.Segments = append(k.axis.Segments, geometry.LineTo(k.centre()))
}

// cubicHeading is the unit tangent at t; where the curve stands still it is
// taken a little beside.
func cubicHeading(from geometry.Point, s geometry.Segment, t float64) geometry.Point {
	d := geometry.CubicTangent(from, s, t)
	scale := from.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.End)
	if d.Norm() > 1e-9*scale {
		return d.Unit()
	}
	const beside = 1e-4
	if t < 0.5 {
		return geometry.CubicTangent(from, s, t+beside).Unit()
	}
	return geometry.CubicTangent(from, s, t-beside).Unit()
}

// startHeading returns the direction in which a path sets out.
func startHeading(path geometry.Path) geometry.Point {
	from := path.Start
	for _, s := range path.Segments {
		var h geometry.Point
		switch {
		case s.Kind == geometry.Cubic:
			h = cubicHeading(from, s, 0)
		case s.End == from:
		case s.Kind == geometry.Arc && !s.Straight():
			h, _ = arcHeadings(from, s)
		default:
			h = s.End.Sub(from).Unit()
		}
		if h != (geometry.Point{}) {
			return h
		}
	}
	return geometry.Pt(1, 0)
}

// endHeading returns the direction in which a path ends.
func endHeading(path geometry.Path) geometry.Point {
	return startHeading(path.Reversed()).Mul(-1)
}
