package planar_test

import (
	"math"
	"math/big"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
)

// tester is what testing.T and rapid.T have in common.
type tester interface {
	Helper()
	Error(args ...any)
	Errorf(format string, args ...any)
}

// gridPoint is a vertex in whole grid steps.
type gridPoint struct{ x, y int64 }

func onGrid(p geometry.Point) gridPoint {
	return gridPoint{int64(math.Round(p.X * planar.PerMM)), int64(math.Round(p.Y * planar.PerMM))}
}

// side returns the sign of the triangle a, b, c. It shares no code with the
// package: it computes with whole numbers of any size.
func side(a, b, c gridPoint) int {
	d := func(p, q int64) *big.Int { return big.NewInt(p - q) }
	l := new(big.Int).Mul(d(b.x, a.x), d(c.y, a.y))
	r := new(big.Int).Mul(d(b.y, a.y), d(c.x, a.x))
	return l.Cmp(r)
}

// between reports whether c, known to lie on the line a b, lies strictly
// inside the segment.
func between(a, b, c gridPoint) bool {
	if c == a || c == b {
		return false
	}
	return min(a.x, b.x) <= c.x && c.x <= max(a.x, b.x) && min(a.y, b.y) <= c.y && c.y <= max(a.y, b.y)
}

// checkMap verifies what holds of every map, comparing all pairs of edges.
func checkMap(t tester, lines []planar.Line, m *planar.Map) {
	t.Helper()
	if err := m.Euler(); err != nil {
		t.Error(err)
	}
	checkEdges(t, m)
	checkRings(t, m)
	checkNesting(t, m)
	checkSources(t, lines, m)
}

// checkEdges fails where two edges meet elsewhere than in common vertices, or
// are equal.
func checkEdges(t tester, m *planar.Map) {
	t.Helper()
	ends := make([][2]gridPoint, len(m.Edges))
	for i, e := range m.Edges {
		ends[i] = [2]gridPoint{onGrid(m.Point(e.From)), onGrid(m.Point(e.To))}
	}
	for i, e := range ends {
		for _, f := range ends[:i] {
			if e == f || e[0] == f[1] && e[1] == f[0] {
				t.Errorf("edge %v is there twice", e)
			}
			s, u := side(e[0], e[1], f[0]), side(e[0], e[1], f[1])
			v, w := side(f[0], f[1], e[0]), side(f[0], f[1], e[1])
			if s*u < 0 && v*w < 0 {
				t.Errorf("edges %v and %v cross", e, f)
			}
			if s == 0 && between(e[0], e[1], f[0]) || u == 0 && between(e[0], e[1], f[1]) ||
				v == 0 && between(f[0], f[1], e[0]) || w == 0 && between(f[0], f[1], e[1]) {
				t.Errorf("a vertex of %v and %v lies inside the other", e, f)
			}
		}
	}
}

// checkRings fails unless rings are closed, keep one face on their left, pass
// no vertex twice, and hold every side of a bounding edge once and no others.
func checkRings(t tester, m *planar.Map) {
	t.Helper()
	used := make([]int, 2*len(m.Edges))
	for r := range planar.Ring(m.NumRings()) {
		halves := m.HalfEdges(r)
		seen := map[int32]bool{}
		for i, h := range halves {
			used[h]++
			next := halves[(i+1)%len(halves)]
			if m.End(h) != m.Start(next) || m.Face(h) != m.RingFace(r) || seen[m.Start(h)] {
				t.Errorf("ring %d is not simple at %d", r, i)
			}
			seen[m.Start(h)] = true
		}
		outer := m.RingFace(r) != 0 && m.Faces[m.RingFace(r)].Outer == r
		if sign := shoelace(m.Points(r)); outer != (sign > 0) {
			t.Errorf("ring %d runs the wrong way round: outer %v, area of sign %d", r, outer, sign)
		}
	}
	for h, n := range used {
		e := m.Edges[h/2]
		bounding := e.Role == planar.Bounding
		if bounding != (n == 1) || n > 1 || bounding == (e.Left == e.Right) {
			t.Errorf("side %d of an edge with role %d lies on %d rings, faces %d and %d", h, e.Role, n, e.Left, e.Right)
		}
	}
}

// checkNesting fails unless every hole lies inside its face's outer ring and
// outside the face's other holes. With the count of Euler's formula, that
// leaves one face for every part of the drawing.
func checkNesting(t tester, m *planar.Map) {
	t.Helper()
	for f := range int32(len(m.Faces)) {
		for _, r := range m.Holes(f) {
			if f != 0 && !encloses(m, m.Faces[f].Outer, r, 1) {
				t.Errorf("hole %d is not inside face %d", r, f)
			}
			for _, other := range m.Holes(f) {
				if other != r && encloses(m, other, r, -1) {
					t.Errorf("face %d has hole %d inside its hole %d", f, r, other)
				}
			}
		}
	}
}

// encloses reports whether ring, which winds want times round what is inside
// it, winds so round some corner of inner. Corners they share say nothing.
func encloses(m *planar.Map, ring, inner planar.Ring, want int) bool {
	pts := m.Points(ring)
	for _, p := range m.Points(inner) {
		if w, on := winding(pts, p); !on {
			return w == want
		}
	}
	return want == 1
}

// winding returns how often the ring winds round p, and whether p lies on it
// (Sunday 2001).
func winding(ring []geometry.Point, p geometry.Point) (turns int, on bool) {
	q := onGrid(p)
	for i := range ring {
		a, b := onGrid(ring[i]), onGrid(ring[(i+1)%len(ring)])
		s := side(a, b, q)
		switch {
		case s == 0 && (a == q || between(a, b, q)):
			return 0, true
		case a.y <= q.y && b.y > q.y && s > 0:
			turns++
		case a.y > q.y && b.y <= q.y && s < 0:
			turns--
		}
	}
	return turns, false
}

// shoelace returns the sign of the area round which the points run.
func shoelace(pts []geometry.Point) int {
	sum := new(big.Int)
	for i := range pts {
		p, q := onGrid(pts[i]), onGrid(pts[(i+1)%len(pts)])
		sum.Add(sum, new(big.Int).Mul(big.NewInt(p.x), big.NewInt(q.y)))
		sum.Sub(sum, new(big.Int).Mul(big.NewInt(p.y), big.NewInt(q.x)))
	}
	return sum.Sign()
}

// checkSources fails unless the edges of every line make one chain from its
// start to its end, each use counted, that stays in the pixels the line meets:
// within 1/√2 grid steps of it.
func checkSources(t tester, lines []planar.Line, m *planar.Map) {
	t.Helper()
	odd := make([]map[gridPoint]int, len(lines))
	for i := range odd {
		odd[i] = map[gridPoint]int{}
	}
	for i, e := range m.Edges {
		a, b := onGrid(m.Point(e.From)), onGrid(m.Point(e.To))
		if len(m.Sources(int32(i))) == 0 {
			t.Errorf("edge %d has no source", i)
		}
		for _, s := range m.Sources(int32(i)) {
			odd[s][a]++
			odd[s][b]++
		}
	}
	for i, l := range lines {
		a, b := onGrid(l.A), onGrid(l.B)
		for p, n := range odd[i] {
			if end := p == a || p == b; end && n != 1 || !end && n != 2 {
				t.Errorf("line %d meets vertex %v %d times", i, p, n)
			}
			if d := lineDistance(a, b, p); d > math.Sqrt2/2+1e-9 {
				t.Errorf("line %d was moved %g grid steps at %v", i, d, p)
			}
		}
		if a != b && (odd[i][a] != 1 || odd[i][b] != 1) {
			t.Errorf("line %d does not run from end to end", i)
		}
	}
}

func lineDistance(a, b, p gridPoint) float64 {
	dx, dy := float64(b.x-a.x), float64(b.y-a.y)
	c, _ := new(big.Float).SetInt(new(big.Int).Sub(
		new(big.Int).Mul(big.NewInt(b.x-a.x), big.NewInt(p.y-a.y)),
		new(big.Int).Mul(big.NewInt(b.y-a.y), big.NewInt(p.x-a.x)))).Float64()
	return math.Abs(c) / math.Hypot(dx, dy)
}
