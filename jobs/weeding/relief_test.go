package weeding_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// islands scatters up to seven polygons that keep at least gap mm apart.
func islands(seed uint64, gap float64) [][]geometry.Point {
	rng := rand.New(rand.NewPCG(seed, 7))
	want := 1 + rng.IntN(7)
	var out [][]geometry.Point
	for try := 0; len(out) < want && try < 200; try++ {
		c := geometry.Pt(rng.Float64()*120, rng.Float64()*80)
		size := 3 + 15*rng.Float64()
		n := 3 + rng.IntN(8)
		first := rng.Float64()
		var pts []geometry.Point
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + first) / float64(n))
			pts = append(pts, onGrid(c.Add(geometry.Pt(cos, sin).Mul(size*(0.4+0.6*rng.Float64())))))
		}
		free := true
		for _, other := range out {
			free = free && outlineGap(pts, other) > gap && !within(pts[0], other) && !within(other[0], pts)
		}
		if free {
			out = append(out, pts)
		}
	}
	return out
}

// onGrid rounds p to the kernel's grid of 0.1 µm, so that what is drawn is
// what is mapped.
func onGrid(p geometry.Point) geometry.Point {
	return geometry.Pt(math.Round(p.X*planar.PerMM)/planar.PerMM, math.Round(p.Y*planar.PerMM)/planar.PerMM)
}

// outlineGap returns the distance between two outlines, by all pairs of edges.
func outlineGap(a, b []geometry.Point) float64 {
	best := math.Inf(1)
	for i := range a {
		for j := range b {
			best = math.Min(best, edgeGap(a[i], a[(i+1)%len(a)], b[j], b[(j+1)%len(b)]))
		}
	}
	return best
}

func edgeGap(a, b, c, d geometry.Point) float64 {
	if cross := func(p, q, r geometry.Point) bool { return q.Sub(p).Cross(r.Sub(p)) > 0 }; cross(a, b, c) != cross(a, b, d) && cross(c, d, a) != cross(c, d, b) {
		return 0
	}
	return min(toSegment(a, c, d), toSegment(b, c, d), toSegment(c, a, b), toSegment(d, a, b))
}

func toSegment(p, a, b geometry.Point) float64 {
	d := b.Sub(a)
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Dist(a.Add(d.Mul(t)))
}

func toOutline(p geometry.Point, ring []geometry.Point) float64 {
	best := math.Inf(1)
	for i := range ring {
		best = math.Min(best, toSegment(p, ring[i], ring[(i+1)%len(ring)]))
	}
	return best
}

func within(p geometry.Point, ring []geometry.Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// shortestTree returns the length of the minimum spanning tree over the
// outlines, by Prim's method on the full matrix of distances.
func shortestTree(outlines [][]geometry.Point) float64 {
	n := len(outlines)
	near := make([]float64, n)
	for i := range near {
		near[i] = math.Inf(1)
	}
	near[0] = 0
	done := make([]bool, n)
	sum := 0.0
	for range n {
		best := -1
		for i := range n {
			if !done[i] && (best < 0 || near[i] < near[best]) {
				best = i
			}
		}
		done[best] = true
		sum += near[best]
		for i := range n {
			if !done[i] {
				near[i] = math.Min(near[i], outlineGap(outlines[best], outlines[i]))
			}
		}
	}
	return sum
}

// checkRelief holds a finished map against the rules for relief lines.
func checkRelief(m *weeding.Map, outlines [][]geometry.Point, clear float64) error {
	var errs []error
	for _, s := range m.Strokes {
		if s.Added == artwork.Relief {
			errs = append(errs, checkLine(s.Path, outlines, clear))
		}
	}
	// On the kernel's map of all strokes every outline hangs on the border,
	// and a relief line meets others only at its ends.
	faces, err := planar.Arrange(nil, flat(m.Strokes))
	if err != nil {
		return err
	}
	if n := faces.Components(); n != 1 {
		errs = append(errs, fmt.Errorf("the finished map has %d parts: some hole is not joined", n))
	}
	if err := faces.Euler(); err != nil {
		errs = append(errs, err)
	}
	errs = append(errs, checkCrossings(m, faces))
	for _, r := range m.Regions {
		if !r.Kept() && len(r.Holes) > 0 {
			errs = append(errs, fmt.Errorf("region %d still has %d holes", r.Number, len(r.Holes)))
		}
	}
	return errors.Join(errs...)
}

// checkCrossings checks that no outline or border passes through a relief
// line: at a corner of the map where both meet, the line ends.
func checkCrossings(m *weeding.Map, faces *planar.Map) error {
	relief, other := map[int32]map[int32]int{}, map[int32]bool{}
	for i, e := range faces.Edges {
		if faces.EdgeLength(int32(i)) < 3.0/planar.PerMM {
			continue // the end of a line, rounded to the grid beside the outline
		}
		for _, s := range faces.Sources(int32(i)) {
			for _, v := range [2]int32{e.From, e.To} {
				switch {
				case m.Strokes[s].Added != artwork.Relief:
					other[v] = true
				case relief[v] == nil:
					relief[v] = map[int32]int{s: 1}
				default:
					relief[v][s]++
				}
			}
		}
	}
	for v, lines := range relief {
		for s, n := range lines {
			if n > 1 && other[v] {
				return fmt.Errorf("relief line %v runs across an outline at %v", m.Strokes[s].Path, faces.Point(v))
			}
		}
	}
	return nil
}

// checkLine checks one relief line: it begins and ends square to within 30°,
// crosses no outline, and keeps clear of them beyond the clearance from its
// ends.
func checkLine(line geometry.Path, outlines [][]geometry.Point, clear float64) error {
	var errs []error
	length := line.Length()
	along := 0.0
	from := line.Start
	for _, s := range line.Segments {
		steps := max(50, int(from.Dist(s.End)/0.2))
		for k := range steps + 1 {
			p := from.Lerp(s.End, float64(k)/float64(steps))
			at := along + from.Dist(p)
			if at < clear || length-at < clear {
				continue
			}
			for i, o := range outlines {
				if d := toOutline(p, o); d < clear-1e-6 {
					errs = append(errs, fmt.Errorf("line %v comes within %.4f mm of outline %d", line, d, i))
				}
			}
		}
		along += from.Dist(s.End)
		from = s.End
	}
	segs := line.Segments
	errs = append(errs, checkEnd(line.Start, segs[0].End, outlines), checkEnd(line.End(), line.Reversed().Segments[0].End, outlines))
	return errors.Join(errs...)
}

// checkEnd checks that the line from its end at p towards q leaves an outline
// within 30° of its normals there: of those between the normals of the two
// edges at a corner.
func checkEnd(p, q geometry.Point, outlines [][]geometry.Point) error {
	for _, o := range outlines {
		if toOutline(p, o) > 2e-4 {
			continue
		}
		least := math.Inf(1)
		u := q.Sub(p).Unit()
		for i := range o {
			a, b := o[i], o[(i+1)%len(o)]
			if toSegment(p, a, b) > 2e-4 {
				continue
			}
			n := b.Sub(a).Unit().Perp()
			least = math.Min(least, math.Acos(math.Min(1, math.Abs(n.Dot(u)))))
			if p.Dist(b) < 2e-4 { // the corner between this edge and the next
				n2 := o[(i+2)%len(o)].Sub(b).Unit().Perp()
				if (n.Cross(u) > 0) != (n2.Cross(u) > 0) {
					least = 0
				}
			}
		}
		if least > math.Pi/6+1e-9 {
			return fmt.Errorf("line leaves %v at %.1f° to the normal", p, least*180/math.Pi)
		}
		return nil
	}
	return nil // the border, or another relief line
}

func artworkOf(outlines [][]geometry.Point) *artwork.Artwork {
	a := &artwork.Artwork{}
	for i, o := range outlines {
		a.Strokes = append(a.Strokes, artwork.Stroke{Path: geometry.Polygon(o...), Operation: artwork.KissCut, Shape: i})
	}
	a.Bounds = bounds(a)
	return a
}

// On 500 seeded sheets with up to seven islands the relief lines are no
// longer than the minimum spanning tree over the outlines and the border,
// computed here by other means, and keep all their rules on the finished map.
func TestReliefIsNoLongerThanTheSpanningTree(t *testing.T) {
	stock := film
	stock.Limits.HandMM = 1000 // no cuts for the hand
	for seed := range uint64(500) {
		outlines := islands(seed, 0.2)
		m := chart(t, artworkOf(outlines), weeding.Request{Purpose: weeding.Lettering, Stock: stock, Border: true, Relief: true})
		length := 0.0
		for _, s := range m.Strokes {
			if s.Added == artwork.Relief {
				length += s.Path.Length()
			}
		}
		corners := m.Bounds.Corners()
		all := append([][]geometry.Point{corners[:]}, outlines...)
		if tree := shortestTree(all); length > tree+1e-6 {
			t.Errorf("seed %d: %.6f mm of relief lines, the tree has %.6f", seed, length, tree)
		}
		if err := checkRelief(m, all, stock.Limits.ClearanceMM); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}

// The checks find a line that is turned, moved, or left out.
func TestReliefChecksCanFail(t *testing.T) {
	outlines := islands(3, 0.2)
	m := chart(t, artworkOf(outlines), weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true})
	if err := checkRelief(m, outlines, 0.5); err != nil {
		t.Fatal(err)
	}
	for i, s := range m.Strokes {
		if s.Added != artwork.Relief {
			continue
		}
		for name, path := range map[string]geometry.Path{
			"left out": {Start: s.Path.Start},
			"turned":   geometry.Polyline(s.Path.Start, s.Path.Start.Add(s.Path.End().Sub(s.Path.Start).Perp())),
		} {
			spoiled := *m
			spoiled.Strokes = append([]artwork.Stroke(nil), m.Strokes...)
			spoiled.Strokes[i].Path = path
			if name == "left out" {
				spoiled.Strokes = append(spoiled.Strokes[:i], spoiled.Strokes[i+1:]...)
			}
			if checkRelief(&spoiled, outlines, 0.5) == nil {
				t.Errorf("stroke %d %s: not noticed", i, name)
			}
		}
	}
}

// With the default hand of 200 mm no removed piece is longer, on sheets that
// need many cuts, and the cuts keep the same rules.
func TestNoPieceIsLongerThanAHand(t *testing.T) {
	for seed := range uint64(40) {
		var outlines [][]geometry.Point
		for _, o := range islands(seed, 0.4) {
			for i := range o {
				o[i] = o[i].Mul(6)
			}
			outlines = append(outlines, o)
		}
		m := chart(t, artworkOf(outlines), weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true})
		if err := checkRelief(m, outlines, film.Limits.ClearanceMM); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		for _, r := range m.Regions {
			if b := r.Outer.Bounds(); !r.Kept() && math.Max(b.Width(), b.Height()) > film.Limits.HandMM {
				t.Errorf("seed %d: region %d is %.0f × %.0f mm", seed, r.Number, b.Width(), b.Height())
			}
		}
	}
}
