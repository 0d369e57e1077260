package weeding_test

import (
	"math"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/weeding"
)

// Without relief lines the neighbours of a region are those across the
// half-edges of its face on the kernel's map of the strokes: all and no other.
func TestTouchesAreTheHalfEdgesOfTheKernel(t *testing.T) {
	for name, data := range map[string][]string{
		"nested":             {outer, inner, leaf, vein},
		"squares in a row":   {"M0 0H10V10H0Z", "M10 0H20V10H10Z", "M20 10H30V20H20Z", "M10 3H20V5H10Z"},
		"star":               {pentagram},
		"split three ways":   {outer, "M0 30L100 40", "M50 0L60 100"},
		"island on a corner": {outer, "M40 40H60V60H40Z", "M60 60H80V80H60Z"},
	} {
		a := drawn(t, data...)
		m := chart(t, a, weeding.Request{Purpose: weeding.Pieces, Stock: card})
		faces, err := planar.Arrange(nil, flat(a.Strokes))
		if err != nil {
			t.Fatal(err)
		}
		number := make([]int, len(faces.Faces))
		for _, r := range m.Regions {
			number[faces.FaceAt(nil, r.Pick)] = r.Number
		}
		want := make([]map[int]bool, len(m.Regions)+1)
		for i := range want {
			want[i] = map[int]bool{}
		}
		for _, e := range faces.Edges {
			if l, r := number[e.Left], number[e.Right]; l != r && l > 0 && r > 0 {
				want[l][r], want[r][l] = true, true
			}
		}
		for _, r := range m.Regions {
			if len(r.Touches) != len(want[r.Number]) || slices.ContainsFunc(r.Touches, func(n int) bool { return !want[r.Number][n] }) {
				t.Errorf("%s: region %d touches %v, by the kernel %v", name, r.Number, r.Touches, want[r.Number])
			}
		}
	}
}

// With relief lines, which end between the corners of what they meet, two
// regions touch where a side of one runs along a side of the other: here by
// all pairs of sides.
func TestTouchesAcrossReliefLines(t *testing.T) {
	pairs := 0
	for seed := range uint64(30) {
		m := chart(t, artworkOf(islands(seed, 0.2)), weeding.Request{Purpose: weeding.Lettering, Stock: handOf(40), Border: true, Relief: true})
		for i := range m.Regions {
			for j := range i {
				p, q := &m.Regions[i], &m.Regions[j]
				along := sharedLength(p, q)
				told := slices.Contains(p.Touches, q.Number)
				if told != slices.Contains(q.Touches, p.Number) {
					t.Errorf("seed %d: %d and %d do not agree", seed, p.Number, q.Number)
				}
				if along > 1e-3 {
					pairs++
				}
				if along > 1e-3 && !told || along == 0 && told {
					t.Errorf("seed %d: %d and %d share %g mm, told %v", seed, p.Number, q.Number, along, told)
				}
			}
		}
	}
	if pairs < 300 {
		t.Errorf("only %d pairs touch", pairs)
	}
}

// sharedLength returns how far the sides of two regions run along each other,
// in opposite directions and within a nanometre.
func sharedLength(p, q *weeding.Region) float64 {
	sum := 0.0
	for _, a := range sides(p) {
		for _, b := range sides(q) {
			u := a[1].Sub(a[0]).Unit()
			if u.Dot(b[1].Sub(b[0]).Unit()) > -0.999 || math.Abs(u.Cross(b[0].Sub(a[0]))) > 1e-6 || math.Abs(u.Cross(b[1].Sub(a[0]))) > 1e-6 {
				continue
			}
			lo, hi := u.Dot(b[1].Sub(a[0])), u.Dot(b[0].Sub(a[0]))
			sum += math.Max(0, math.Min(hi, a[0].Dist(a[1]))-math.Max(lo, 0))
		}
	}
	return sum
}

func sides(r *weeding.Region) (all [][2]geometry.Point) {
	for _, ring := range append([]geometry.Path{r.Outer}, r.Holes...) {
		pts := corner(ring)
		for i, p := range pts {
			all = append(all, [2]geometry.Point{p, pts[(i+1)%len(pts)]})
		}
	}
	return all
}
