package mend

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// What counts as a curve that was drawn as short chords (common practice, no
// source): at least leastFacets straight pieces in a row that turn the same way,
// none by more than mostTurn at a vertex, which with the ends of the chords lie
// within arcMM of one arc of at most half a circle. Hexagons, octagons and
// dodecagons turn by more, and larger polygons that somebody means to see stray
// farther: one of 24 sides from a radius of 0.6 mm on.
const arcMM = 0.005

// arcs draws runs of chords as the arcs that they stand for.
//
// Runs end where other lines meet or come near the chords, at corners and where
// the curve turns the other way. All of these are the same for two strokes that
// run along the same chords, whichever way; and each run is taken from the same
// end. So what ran together before does so afterwards.
func arcs(e *Effort, strokes []artwork.Stroke) (out []artwork.Stroke, count int, places []finding.Place) {
	b := e.steps()
	if !slices.ContainsFunc(strokes, func(s artwork.Stroke) bool { return mayCurve(b, s.Path) }) {
		return strokes, 0, nil
	}
	f := fitting{budget: b, contacts: newContacts(e, strokes)}
	out = make([]artwork.Stroke, len(strokes))
	for i, s := range strokes {
		path, n, box := f.curved(s.Path)
		if n > 0 {
			count += n
			places = append(places, placeOf(&s, box))
			s.Path = path
		}
		out[i] = s
	}
	return out, count, sortedPlaces(b, places)
}

// mayCurve reports whether a path has enough chords in a row that turn little: most
// drawings have none, and need not be searched for what meets what.
func mayCurve(b *budget.Budget, p geometry.Path) bool {
	b.Spend(1 + len(p.Segments))
	if len(p.Segments) < leastFacets-1 { // a closed path may lack the segment that closes it
		return false
	}
	all := pieces(p)
	if p.Closed {
		all = append(all, all[:min(len(all), leastFacets)]...) // a run may go on past the start
	}
	row := 1
	for i := 1; i < len(all); i++ {
		if all[i-1].seg.Kind == geometry.Line && all[i].seg.Kind == geometry.Line && math.Abs(turnAt(all[i-1], all[i])) <= mostTurn {
			row++
		} else {
			row = 1
		}
		if row >= leastFacets {
			return true
		}
	}
	return false
}

// fitting draws the chords of one path after the other as arcs.
type fitting struct {
	budget   *budget.Budget
	contacts contacts
}

// curved returns the path with arcs, how many runs of chords they are made of, and
// the box round those.
func (f fitting) curved(p geometry.Path) (path geometry.Path, count int, box geometry.Box) {
	f.budget.Spend(1 + len(p.Segments))
	box = geometry.EmptyBox()
	if len(p.Segments) < leastFacets {
		return p, 0, box
	}
	all := pieces(p)
	on := f.goesOn(p, all)
	if first := seam(p, all, on); first > 0 {
		all = append(slices.Clone(all[first:]), all[:first]...)
		on = append(slices.Clone(on[first:]), on[:first]...)
	}
	path = geometry.Path{Start: all[0].from, Closed: p.Closed, Segments: make([]geometry.Segment, 0, len(all))}
	for lo := 0; lo < len(all); {
		hi := lo + 1
		for hi < len(all) && on[hi] {
			hi++
		}
		segs, n := f.run(all[lo:hi])
		if n > 0 {
			count++
			for _, q := range all[lo:hi] {
				box = box.Union(q.box())
			}
		}
		path.Segments = append(path.Segments, segs...)
		lo = hi
	}
	if count == 0 {
		return p, 0, box
	}
	return path, count, box
}

// straightMM is how far a chord may lead off the one before it and count as going straight
// on: the side to which such a turn goes is the noise of computing, or of a file's last
// digit, and decided differently in a drawing that is moved or read again.
const straightMM = 1e-5

// goesOn says of each piece whether it may lie on one arc with the one before
// it. A chord between a turn to one side and one to the other lies on none.
func (f fitting) goesOn(p geometry.Path, all []piece) []bool {
	n := len(all)
	turns := make([]float64, n) // at the start of each piece, 0 where no arc goes on
	on := make([]bool, n)
	for i := range all {
		before := all[(i+n-1)%n]
		if i == 0 && !p.Closed || !f.chords(before, all[i]) {
			continue
		}
		if turn := turnAt(before, all[i]); math.Abs(turn) <= mostTurn {
			on[i] = true
			if math.Abs(turn)*min(before.length(), all[i].length()) > straightMM {
				turns[i] = turn
			}
		}
	}
	for i := range all {
		if next := (i + 1) % n; turns[i]*turns[next] < 0 {
			on[i], on[next] = false, false
		}
	}
	return on
}

// chords reports whether two pieces that follow each other are straight and
// nothing else meets them.
func (f fitting) chords(a, b piece) bool {
	c := &f.contacts
	return a.seg.Kind == geometry.Line && b.seg.Kind == geometry.Line && !c.node[b.from] && !c.met[chordOf(a)] && !c.met[chordOf(b)]
}

// seam returns the piece with which the runs of a path begin: in a closed one that
// after a break, or at the least vertex where there is none.
func seam(p geometry.Path, all []piece, on []bool) int {
	if !p.Closed {
		return 0
	}
	if i := slices.Index(on, false); i >= 0 {
		return i
	}
	least := 0
	for i := range all {
		if comparePoints(all[i].from, all[least].from) < 0 {
			least = i
		}
	}
	return least
}

// run draws one run of chords as arcs as far as they fit, from its lesser end.
// A ring is taken anticlockwise.
func (f fitting) run(all []piece) (segs []geometry.Segment, count int) {
	path := geometry.Path{Start: all[0].from}
	for _, q := range all {
		path.Segments = append(path.Segments, q.seg)
	}
	end := path.End()
	back := comparePoints(end, path.Start) < 0 || end == path.Start && path.Area() < 0
	if back {
		path = path.Reversed()
	}
	out := geometry.Path{Start: path.Start}
	vertices := verticesOf(path)
	for i := 0; i < len(path.Segments); {
		n, bulge := f.shared(vertices[i:])
		if n == 0 {
			out.Segments = append(out.Segments, path.Segments[i])
			i++
			continue
		}
		count++
		i += n
		out.Segments = append(out.Segments, geometry.ArcTo(bulge, vertices[i]))
	}
	if back {
		out = out.Reversed()
	}
	return out.Segments, count
}

// shared is farthest, but leaves the next arc as many chords as it needs: a ring of
// 101 chords is no two arcs and one chord between corners.
func (f fitting) shared(vs []geometry.Point) (n int, bulge float64) {
	n, bulge = f.farthest(vs)
	left := len(vs) - 1 - n
	if left <= 0 || left >= leastFacets || n < 2*leastFacets {
		return n, bulge
	}
	fewer := n - (leastFacets - left)
	if b, ok := f.fit(vs[:fewer+1]); ok {
		if _, ok := f.fit(vs[fewer:]); ok {
			return fewer, b
		}
	}
	return n, bulge
}

func verticesOf(p geometry.Path) []geometry.Point {
	all := append(make([]geometry.Point, 0, len(p.Segments)+1), p.Start)
	for _, s := range p.Segments {
		all = append(all, s.End)
	}
	return all
}

// farthest returns how many chords from the first vertex on one arc takes, and
// its bulge; none where fewer than leastFacets fit. It doubles the number as long
// as they fit and halves the last step then.
func (f fitting) farthest(vs []geometry.Point) (n int, bulge float64) {
	most := len(vs) - 1
	if most < leastFacets {
		return 0, 0
	}
	ok := false
	if bulge, ok = f.fit(vs[:leastFacets+1]); !ok {
		return 0, 0
	}
	n = leastFacets
	for step := leastFacets; step > 0; {
		if b, ok := f.fit(vs[:min(most, n+step)+1]); ok && n < most {
			n, bulge = min(most, n+step), b
			step *= 2
			continue
		}
		if step = step / 2; n+step > most {
			step = most - n
		}
	}
	return n, bulge
}
