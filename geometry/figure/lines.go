package figure

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// lines are the cells of a box that lines of the work run through, with their counts
// summed up from the first cell on, so that any box is looked up in four steps.
type lines struct {
	b          *budget.Budget
	corner     geometry.Point // the first of the box, in pixels
	within     geometry.Box   // pixels; what lies off it is not shown
	cols, rows int
	at         []bool
	sums       []int32 // of the cells left of and above a corner; nil: to be summed anew
}

// Line notes lines of the work (pixels), which marks keep off.
func (s *Spots) Line(paths []geometry.Path) {
	for _, p := range paths {
		if !s.lines.within.Overlaps(p.Bounds()) {
			continue
		}
		from := p.Start
		for _, to := range p.FlattenIn(s.b, 0.5) {
			s.along(from, to, func(i int) bool { s.lines.at[i] = true; return true })
			from = to
		}
	}
	s.lines.sums = nil
	clear(s.failed)
}

// sum adds up the cells of lines, those among them that an edge of what is shown runs through.
func (l *lines) sum() {
	shown := l.within.Grow(Cell / 2)
	wide := l.cols + 1
	l.sums = make([]int32, wide*(l.rows+1))
	l.b.Spend(len(l.at))
	for y := range l.rows {
		row := int32(0)
		for x := range l.cols {
			middle := l.corner.Add(geometry.Pt((float64(x)+0.5)*Cell, (float64(y)+0.5)*Cell))
			if l.at[y*l.cols+x] && shown.Contains(middle) {
				row++
			}
			l.sums[(y+1)*wide+x+1] = l.sums[y*wide+x+1] + row
		}
	}
}

// halfLine is half the width of the broadest common line, in pixels.
const halfLine = 1.5

// cross reports whether a line of the work runs through a box (pixels).
func (l *lines) cross(b geometry.Box) bool {
	if l.sums == nil {
		l.sum()
	}
	cell := func(v float64, n int) int { return max(0, min(n, int(math.Floor(v/Cell)))) }
	x0, x1 := cell(b.Min.X-halfLine-l.corner.X, l.cols), cell(b.Max.X+halfLine-l.corner.X+Cell, l.cols)
	y0, y1 := cell(b.Min.Y-halfLine-l.corner.Y, l.rows), cell(b.Max.Y+halfLine-l.corner.Y+Cell, l.rows)
	wide := l.cols + 1
	return l.sums[y1*wide+x1]-l.sums[y0*wide+x1]-l.sums[y1*wide+x0]+l.sums[y0*wide+x0] > 0
}

// OnLine reports whether a line of the work runs through a disc. Three boxes cover it.
func (s *Spots) OnLine(q geometry.Point, r float64) bool {
	s.b.Step()
	for _, half := range [...]geometry.Point{{X: 1, Y: 0.55}, {X: 0.85, Y: 0.85}, {X: 0.55, Y: 1}} {
		if h := half.Mul(r); s.lines.cross(geometry.BoxAround(q.Sub(h), q.Add(h))) {
			return true
		}
	}
	return false
}

// Clear reports whether no line of the work runs through a box (pixels) and no mark
// stands in it.
func (s *Spots) Clear(b geometry.Box) bool {
	s.b.Step()
	return !s.lines.cross(b) && s.Untaken(b)
}

// Untaken reports whether no mark stands in a box (pixels).
func (s *Spots) Untaken(b geometry.Box) bool {
	return s.cells(b, func(i int) bool { return !s.busy[i] })
}

// cells calls f for the cells of a box that there are, until it returns false.
func (s *Spots) cells(b geometry.Box, f func(i int) bool) bool {
	for y := b.Min.Y; y < b.Max.Y+Cell; y += Cell {
		s.b.Step()
		for x := b.Min.X; x < b.Max.X+Cell; x += Cell {
			if i, ok := s.At(geometry.Pt(math.Min(x, b.Max.X), math.Min(y, b.Max.Y))); ok && !f(i) {
				return false
			}
		}
	}
	return true
}

// TakeBox keeps other marks off a box (pixels).
func (s *Spots) TakeBox(b geometry.Box) {
	s.cells(b, func(i int) bool { s.busy[i] = true; return true })
}

// Forget takes back all marks, but not the lines of the work.
func (s *Spots) Forget() {
	clear(s.busy)
	clear(s.failed)
}
