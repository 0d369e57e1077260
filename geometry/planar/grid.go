package planar

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"knifedesk/geometry"
)

// PerMM is the number of grid steps in a millimetre: the grid is 0.1 µm.
const PerMM = 10000

// reach is the largest distance of a grid point from the local origin along
// either axis: 50 m. Twice it fits 30 bits, so that the cross product of two
// differences fits 61 bits, and its double an int64.
const reach = 50_000 * PerMM

// farthest bounds the coordinates in front of the move to the local origin,
// so that a whole number of grid steps is exact in a float64.
const farthest = 1 << 52

// The reasons for which Arrange refuses lines; match them with errors.Is.
var (
	ErrNotFinite = errors.New("coordinate is not a finite number")
	ErrExtent    = errors.New("geometry is wider than 100 m or too far from the origin")
)

// LineError says which line was refused, by its index in the input.
type LineError struct {
	Line int
	Err  error // ErrNotFinite or ErrExtent
}

func (e *LineError) Error() string { return fmt.Sprintf("line %d: %v", e.Line, e.Err) }

// Unwrap returns the reason.
func (e *LineError) Unwrap() error { return e.Err }

// node is a grid point relative to the local origin of its grid.
type node struct{ x, y int32 }

// before orders nodes by x, then y.
func (p node) before(q node) bool { return p.x < q.x || p.x == q.x && p.y < q.y }

// compare is before as a three-way comparison.
func (p node) compare(q node) int {
	if c := cmp.Compare(p.x, q.x); c != 0 {
		return c
	}
	return cmp.Compare(p.y, q.y)
}

// grid places grid points in the plane: its origin counts grid steps.
type grid struct{ originX, originY int64 }

// steps rounds a length in mm to whole grid steps, halves upward.
func steps(mm float64) float64 { return math.Floor(mm*PerMM + 0.5) }

func (g grid) node(p geometry.Point) node {
	return node{int32(int64(steps(p.X)) - g.originX), int32(int64(steps(p.Y)) - g.originY)}
}

func (g grid) point(p node) geometry.Point {
	return geometry.Point{X: float64(int64(p.x)+g.originX) / PerMM, Y: float64(int64(p.y)+g.originY) / PerMM}
}

// holds reports whether p lies within reach of the grid's origin.
func (g grid) holds(p geometry.Point) bool {
	dx, dy := steps(p.X)-float64(g.originX), steps(p.Y)-float64(g.originY)
	return math.Abs(dx) <= reach && math.Abs(dy) <= reach
}

// gridFor returns the grid for the lines: the origin of the plane wherever
// all lines lie within 50 m of it, else the middle of the lines.
func gridFor(lines []Line) (grid, error) {
	box := geometry.EmptyBox()
	for i := range lines {
		a, b := lines[i].A, lines[i].B
		if !a.Finite() || !b.Finite() {
			return grid{}, &LineError{i, ErrNotFinite}
		}
		box = box.Include(a).Include(b)
	}
	if (grid{}).holds(box.Min) && (grid{}).holds(box.Max) || box.Empty() {
		return grid{}, nil
	}
	centre := box.Centre()
	g := grid{int64(clampSteps(centre.X)), int64(clampSteps(centre.Y))}
	for i := range lines {
		if !g.holds(lines[i].A) || !g.holds(lines[i].B) {
			return grid{}, &LineError{i, ErrExtent}
		}
	}
	return g, nil
}

func clampSteps(mm float64) float64 {
	return math.Max(-farthest, math.Min(farthest, steps(mm)))
}
