package figure

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// Pattern fills an area with parallel lines. Lengths are in pixels.
type Pattern struct {
	Tint  string  // #rrggbb under the lines, empty: none
	Deg   float64 // of the lines, counterclockwise from level, in degrees
	Gap   float64 // from line to line, 0: no lines
	Line  Style
	Dots  float64 // distance of dots along the lines, 0: whole lines
	Brick bool    // every other line is moved by half that distance
}

// hatch returns the pattern's lines within the rings.
func (t Pattern) hatch(b *budget.Budget, rings []geometry.Path) []geometry.Path {
	turn := geometry.Rotate(-t.Deg * math.Pi / 180)
	back := geometry.Rotate(t.Deg * math.Pi / 180)
	rows := rowsOf(b, rings, turn, t.Gap)
	most := 0
	for _, row := range rows {
		most += len(row.xs) / 2
	}
	lines := make([]geometry.Path, 0, most)
	ends := make([]geometry.Segment, 0, most) // of all lines in one array: a fine comb has a million
	for _, row := range rows {
		b.Step()
		for i := 0; i+1 < len(row.xs); i += 2 {
			b.Spend(2)
			x0, x1 := row.xs[i], row.xs[i+1]
			if t.Dots > 0 {
				x0 = t.firstDot(row.k, x0)
			}
			if x0 >= x1 {
				continue
			}
			y := float64(row.k) * t.Gap
			ends = append(ends, geometry.LineTo(back.Apply(geometry.Pt(x1, y))))
			lines = append(lines, geometry.Path{Start: back.Apply(geometry.Pt(x0, y)), Segments: ends[len(ends)-1 : len(ends) : len(ends)]})
		}
	}
	return lines
}

// firstDot returns where the first dot at or after x stands in row k.
func (t Pattern) firstDot(k int, x float64) float64 {
	shift := 0.0
	if t.Brick && k%2 != 0 {
		shift = t.Dots / 2
	}
	return math.Ceil((x-shift)/t.Dots)*t.Dots + shift
}

// row is where a line y = k·gap meets rings, ascending.
type row struct {
	k  int
	xs []float64
}

// rowsOf meets the turned rings with parallel lines, from the lowest y on.
func rowsOf(b *budget.Budget, rings []geometry.Path, turn geometry.Affine, gap float64) []row {
	at := map[int]int{}
	var rows []row
	for _, r := range rings {
		pts := flatten(b, r.Transform(turn), 0.3)
		for i, from := range pts {
			to := pts[(i+1)%len(pts)]
			if from.Y > to.Y {
				from, to = to, from
			}
			for k := int(math.Ceil(from.Y / gap)); float64(k)*gap < to.Y; k++ {
				b.Step()
				i, ok := at[k]
				if !ok {
					i = len(rows)
					at[k] = i
					rows = append(rows, row{k: k})
				}
				t := (float64(k)*gap - from.Y) / (to.Y - from.Y)
				rows[i].xs = append(rows[i].xs, from.X+(to.X-from.X)*t)
			}
		}
	}
	slices.SortFunc(rows, func(a, b row) int { return a.k - b.k })
	for _, r := range rows {
		b.Spend(len(r.xs))
		slices.Sort(r.xs)
	}
	return rows
}
