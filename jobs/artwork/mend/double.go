package mend

import (
	"iter"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/near"
	"knifedesk/jobs/artwork"
)

// Double is two closed contours that keep the same distance all round: the two
// sides of a line that was turned into outlines, or a thin ring.
type Double struct {
	Outer, Inner int // strokes
	WidthMM      float64
}

// Doubles finds them, and the boxes of their outer contours.
func Doubles(effort *Effort, strokes []artwork.Stroke, lim Limits) ([]Double, Spots) {
	r := newRings(effort, strokes, lim.DoubleMM)
	var all []Double
	var spots Spots
	for _, i := range slices.Compact(slices.Clone(r.owner)) {
		o, width := r.beside(i, lim.DoubleMM)
		if o < 0 || math.Abs(strokes[o].Path.Area()) < math.Abs(strokes[i].Path.Area()) {
			continue
		}
		if back, _ := r.beside(o, 2*lim.DoubleMM); back != i || !r.boxes[o].ContainsBox(r.boxes[i]) {
			continue
		}
		all = append(all, Double{Outer: o, Inner: i, WidthMM: width})
		spots.add(placeOf(&strokes[o], r.boxes[o]), width)
	}
	spots.Places = sortedPlaces(effort.steps(), spots.Places)
	return all, spots
}

// rings are the closed strokes as chords in one index.
type rings struct {
	effort  *Effort
	strokes []artwork.Stroke
	boxes   []geometry.Box // of each stroke
	chords  []piece
	owner   []int
	tree    *near.Tree
}

func newRings(e *Effort, strokes []artwork.Stroke, reach float64) *rings {
	r := &rings{effort: e, strokes: strokes, boxes: make([]geometry.Box, len(strokes))}
	for i := range strokes {
		r.boxes[i] = strokes[i].Path.BoundsIn(e.steps())
	}
	boxed := near.NewTree(e.steps(), r.boxes)
	var boxes []geometry.Box
	for i := range strokes {
		if !r.paired(boxed, i, mitre*reach) {
			continue
		}
		pts := strokes[i].Path.FlattenIn(e.steps(), flatMM)
		for k := 1; k < len(pts); k++ {
			r.chords = append(r.chords, piece{pts[k-1], geometry.LineTo(pts[k])})
			r.owner = append(r.owner, i)
			boxes = append(boxes, geometry.BoxAround(pts[k-1], pts[k]))
		}
	}
	r.tree = near.NewTree(e.steps(), boxes)
	return r
}

// mitre is how much farther than its sides a pointed corner of an outlined
// line may reach (SVG 2, initial value of stroke-miterlimit).
const mitre = 4

// paired reports whether another closed stroke has a box whose sides are all
// within reach of those of stroke i.
func (r *rings) paired(boxed *near.Tree, i int, reach float64) bool {
	if !r.strokes[i].Path.Closed {
		return false
	}
	found := false
	box := r.boxes[i]
	r.effort.each(boxed, geometry.BoxAround(box.Min).Grow(reach), func(k int) bool {
		o := r.boxes[k]
		found = k != i && r.strokes[k].Path.Closed && sameCorner(o.Min, box.Min, reach) && sameCorner(o.Max, box.Max, reach)
		return !found
	})
	return found
}

func sameCorner(p, q geometry.Point, reach float64) bool {
	return math.Abs(p.X-q.X) <= reach && math.Abs(p.Y-q.Y) <= reach
}

// samples is how many places along a contour are measured.
const samples = 32

// beside returns the one contour of the same operation that keeps the same
// distance, at most reach, from contour i, and that distance; −1 for none.
// A corner may be farther: seven places in eight have to agree within a tenth.
func (r *rings) beside(i int, reach float64) (other int, width float64) {
	other = -1
	var widths []float64
	for p := range evenly(r.effort.steps(), r.strokes[i].Path, samples) {
		o, d := r.nearest(i, p, reach)
		if o < 0 || other >= 0 && o != other {
			return -1, 0
		}
		other = o
		widths = append(widths, d)
	}
	if other < 0 {
		return -1, 0
	}
	slices.Sort(widths)
	width = widths[len(widths)/2]
	agree := 0
	for _, w := range widths {
		if math.Abs(w-width) <= width/10 {
			agree++
		}
	}
	if 8*agree < 7*len(widths) {
		return -1, 0
	}
	return other, width
}

// nearest returns the contour nearest to p other than i, −1 where none is
// within reach.
func (r *rings) nearest(i int, p geometry.Point, reach float64) (other int, dist float64) {
	other, dist = -1, reach
	r.effort.each(r.tree, geometry.BoxAround(p).Grow(reach), func(k int) bool {
		o := r.owner[k]
		if o == i || r.strokes[o].Operation != r.strokes[i].Operation {
			return true
		}
		if _, d, _ := r.chords[k].foot(p); d < dist || d == dist && other >= 0 && compare(&r.strokes[o], &r.strokes[other]) < 0 {
			other, dist = o, d
		}
		return true
	})
	return other, dist
}

// evenly are n points spread evenly along p.
func evenly(b *budget.Budget, p geometry.Path, n int) iter.Seq[geometry.Point] {
	pts := p.FlattenIn(b, flatMM)
	length := geometry.Polyline(pts...).Length()
	return func(yield func(geometry.Point) bool) {
		at, k := 0.0, 1
		for i := range n {
			want := (float64(i) + 0.5) / float64(n) * length
			for k < len(pts)-1 && at+pts[k-1].Dist(pts[k]) < want {
				at += pts[k-1].Dist(pts[k])
				k++
			}
			if l := pts[k-1].Dist(pts[k]); l > 0 && !yield(pts[k-1].Lerp(pts[k], clamp01((want-at)/l))) {
				return
			}
		}
	}
}
