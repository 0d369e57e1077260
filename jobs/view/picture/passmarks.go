package picture

import (
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/passes"
)

// manyRuns is how many runs are numbered as closely as the numbers fit, and
// mostMarked above how many those without a number are not marked: dots without end
// would hide the lines.
const (
	manyRuns   = 60
	mostMarked = 2000
)

// mark shows where in the row the strokes of a pass start and which way they run, and
// numbers the first, the last, and as many others as stay readable.
func (r *runs) mark(ps *passes.Pass, row geometry.Box) {
	prices := r.prices(ps, row)
	ink := strokeStyle(ps.Operation).Stroke
	near := 26.0
	if len(ps.Runs) > manyRuns {
		near = 64
	}
	last := len(ps.Runs) - 1
	numbered := map[int]bool{}
	for _, i := range firstThenLast(len(ps.Runs)) {
		r.b.Step()
		if !inRow(ps.Runs[i].At, row) {
			continue
		}
		apart := near
		if i == 0 || i == last {
			apart = 0
		}
		numbered[i] = r.numberRun(ps.Runs[i].At, i+1, apart, prices, ink)
		r.bare = r.bare || !numbered[i]
	}
	for i, run := range ps.Runs {
		r.b.Step()
		if inRow(run.At, row) && (numbered[i] || len(ps.Runs) <= mostMarked) {
			r.startAndWay(run, numbered[i], ink)
		} else if inRow(run.At, row) {
			r.dropped = true
		}
	}
}

// firstThenLast lists 0 to n−1 with the ends first.
func firstThenLast(n int) []int {
	var list []int
	for i := range n {
		if i == 1 && n > 2 {
			list = append(list, n-1)
		}
		if i == 0 || i < n-1 || n == 2 {
			list = append(list, i)
		}
	}
	return list
}

func inRow(q geometry.Point, row geometry.Box) bool { return q.Y >= row.Min.Y && q.Y <= row.Max.Y }

// numberReach is how far from its start a number may stand, in radii.
const numberReach = 8

// numberRun writes the number of a run beside its start, unless other numbers stand
// within apart pixels, and reports whether it had room.
func (r *runs) numberRun(start geometry.Point, n int, apart float64, prices []float64, ink string) bool {
	q := r.View.Apply(start)
	b := badgeSizes(len(strconv.Itoa(n)))[1]
	if apart > 0 && !r.Spots.Lonely(q, apart) {
		return false
	}
	reach := numberReach * b[0]
	if apart == 0 { // the first and the last must not be missed
		reach = anywhere
	}
	at, ok := r.Spots.Beside(q, b[0], reach, func(i int) float64 { return prices[i] })
	if !ok {
		return false
	}
	r.Leader(at, b[0], q, ink)
	r.Badge(at, b[0], b[1], figure.Style{Stroke: ink, Width: 1.6, Fill: figure.Paper}, strconv.Itoa(n))
	r.Spots.Take(at, b[0]+2)
	return true
}

// What a number costs that covers a cell with a line of its pass, or with a start.
const (
	linePrice  = 1.5
	startPrice = 3.0
)

// prices says by cell what should not lie under a number: the lines of the pass, and
// above all where they start.
func (r *runs) prices(ps *passes.Pass, row geometry.Box) []float64 {
	price := make([]float64, r.Spots.Count())
	for _, q := range r.lines(ps) {
		pts := q.FlattenIn(r.b, 0.5)
		for i := 1; i < len(pts); i++ {
			long := pts[i].Dist(pts[i-1])
			for d := 0.0; d <= long && r.Area.Contains(pts[i]); d += figure.Cell {
				r.b.Step()
				if k, ok := r.Spots.At(pts[i-1].Lerp(pts[i], d/max(long, 1e-9))); ok {
					price[k] = linePrice
				}
			}
		}
	}
	if len(ps.Runs) > mostMarked {
		return price
	}
	for _, run := range ps.Runs {
		if inRow(run.At, row) {
			r.Spots.Cells(r.View.Apply(run.At), headAt, func(i int) bool { price[i] = max(price[i], startPrice); return true })
		}
	}
	return price
}

// headAt is how far along its stroke the head of an arrow stands, headLong how long it
// is, leastHead how long it is at least on a short stroke, where it is an eighth of a closed
// line or a quarter of an open one; all in pixels.
const (
	headAt    = 15.0
	headLong  = 9.0
	leastHead = 7.0
)

// startAndWay marks where a run starts and which way it goes; where others are in the
// way only what has a number is marked.
func (r *runs) startAndWay(run passes.Run, numbered bool, ink string) {
	q := r.View.Apply(run.At)
	if !numbered && !r.Spots.Free(q, 3) {
		r.dropped = true
		return
	}
	if !numbered {
		r.start(q, ink)
		r.Spots.Take(q, 3)
	}
	at, way, long := r.along(run)
	if long < leastHead || !numbered && !r.Spots.Free(at, long/2) {
		r.dropped = true
		return
	}
	r.head(at, way.Mul(long/2), ink)
	r.Spots.Take(at, long/2)
}

// along returns where on its stroke, in pixels, the head of the arrow of a run stands,
// where it points, and how long it is; 0 where there is no stroke.
func (r *runs) along(run passes.Run) (at, way geometry.Point, head float64) {
	line := passes.Trace(run, r.strokes, r.laid).Transform(r.View)
	if line.Empty() || !line.Finite() {
		return at, way, 0
	}
	pts := line.FlattenIn(r.b, 0.25)
	long := 0.0
	for i := 1; i < len(pts); i++ {
		long += pts[i].Dist(pts[i-1])
	}
	share := 4.0
	if line.Closed {
		share = 8
	}
	middle := min(headAt, 2*long/share)
	tail, tip := after(pts, middle-0.5), after(pts, middle+0.5)
	return tail.Lerp(tip, 0.5), tip.Sub(tail).Unit(), min(headLong, long/share)
}

// after returns the point of a polyline so far from its start along it.
func after(pts []geometry.Point, far float64) geometry.Point {
	for i := 1; i < len(pts); i++ {
		step := pts[i].Dist(pts[i-1])
		if step >= far && step > 0 {
			return pts[i-1].Lerp(pts[i], far/step)
		}
		far -= step
	}
	return pts[len(pts)-1]
}

// start draws the dot at the start of a stroke.
func (r *runs) start(at geometry.Point, ink string) {
	r.Draw(figure.Style{Fill: ink, Stroke: figure.Paper, Width: 1}, geometry.Circle(at, 3.2))
}

// head draws the head of an arrow round a point of a stroke; half is from its middle to
// its tip.
func (r *runs) head(at, half geometry.Point, ink string) {
	r.Draw(figure.Style{Fill: ink, Stroke: figure.Paper, Width: 1}, geometry.Polygon(at.Add(half), at.Sub(half).Add(half.Perp()), at.Sub(half).Sub(half.Perp())))
}
