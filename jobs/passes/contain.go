package passes

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
)

// contour is a stroke as the order sees it: flattened, in the piece's own
// coordinates.
type contour struct {
	pts    []geometry.Point
	box    geometry.Box
	area   float64 // enclosed, 0 for an open line
	closed bool
}

func contourOf(p geometry.Path) contour {
	c := contour{pts: p.Flatten(0.1), closed: p.Closed}
	c.box = geometry.BoxAround(c.pts...)
	if p.Closed {
		c.area = math.Abs(p.Area())
	}
	return c
}

// inside returns a point of the line that tells what holds it: the middle of
// its middle chord, which is not an end that may touch another line.
func (c contour) inside() geometry.Point {
	if len(c.pts) < 2 {
		return c.pts[0]
	}
	i := len(c.pts) / 2
	return c.pts[i-1].Lerp(c.pts[i], 0.5)
}

// holds reports whether p lies within the closed contour, by counting the
// edges that a ray from p to the right crosses.
func (c contour) holds(p geometry.Point) bool {
	in := false
	for i := 1; i < len(c.pts); i++ {
		a, b := c.pts[i-1], c.pts[i]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// containers returns for every contour the smallest closed contour that holds
// it, -1 where none does. Candidates come from a coarse grid over the boxes.
func containers(cs []contour) []int {
	parents := make([]int, len(cs))
	order := make([]int, len(cs))
	for i := range cs {
		parents[i], order[i] = -1, i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(cs[i].area, cs[j].area) })
	cells := newCells(cs, order)
	for i, c := range cs {
		p := c.inside()
		for _, j := range cells.at(p) {
			o := cs[j]
			if j != i && o.area > c.area && o.box.ContainsBox(c.box) && o.holds(p) {
				parents[i] = j
				break
			}
		}
	}
	return parents
}

// cells lists, for each cell of a grid, the closed contours whose box touches
// it, in the given order.
type cells struct {
	box  geometry.Box
	n    int
	list [][]int
}

func newCells(cs []contour, order []int) *cells {
	g := &cells{box: geometry.EmptyBox()}
	for _, c := range cs {
		g.box = g.box.Union(c.box)
	}
	g.n = max(1, min(64, int(math.Sqrt(float64(len(cs))))))
	g.list = make([][]int, g.n*g.n)
	for _, i := range order {
		if !cs[i].closed {
			continue
		}
		x0, y0 := g.cell(cs[i].box.Min)
		x1, y1 := g.cell(cs[i].box.Max)
		for y := y0; y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				g.list[y*g.n+x] = append(g.list[y*g.n+x], i)
			}
		}
	}
	return g
}

func (g *cells) cell(p geometry.Point) (x, y int) {
	at := func(v, lo, extent float64) int {
		if extent <= 0 {
			return 0
		}
		return max(0, min(g.n-1, int((v-lo)/extent*float64(g.n))))
	}
	return at(p.X, g.box.Min.X, g.box.Width()), at(p.Y, g.box.Min.Y, g.box.Height())
}

func (g *cells) at(p geometry.Point) []int {
	x, y := g.cell(p)
	return g.list[y*g.n+x]
}
