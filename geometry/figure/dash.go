package figure

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// dashed cuts a polyline into the dashes of the pattern, scaled.
func dashed(b *budget.Budget, line []geometry.Point, pattern []float64, scale float64) [][]geometry.Point {
	if len(pattern) == 0 {
		return [][]geometry.Point{line}
	}
	d := dasher{b: b, pattern: pattern, scale: scale, rest: pattern[0] * scale}
	for i := 1; i < len(line); i++ {
		d.chord(line[i-1], line[i])
	}
	d.end()
	return d.dashes
}

// dasher walks along one polyline.
type dasher struct {
	b       *budget.Budget
	pattern []float64
	scale   float64
	k       int     // place in the pattern: even on, odd off
	rest    float64 // what is left of that place
	dash    []geometry.Point
	dashes  [][]geometry.Point
}

func (d *dasher) chord(a, b geometry.Point) {
	for long := a.Dist(b); long > 0; long = a.Dist(b) {
		d.b.Step()
		step := math.Min(long, d.rest)
		q := a.Lerp(b, step/long)
		if step == long {
			q = b
		}
		if d.k%2 == 0 {
			if d.dash == nil {
				d.dash = append(d.dash, a)
			}
			d.dash = append(d.dash, q)
		}
		a, d.rest = q, d.rest-step
		const nothing = 1e-9 // pixels
		if d.rest <= nothing {
			d.end()
			d.k = (d.k + 1) % len(d.pattern)
			d.rest = d.pattern[d.k] * d.scale
		}
	}
}

func (d *dasher) end() {
	if d.dash != nil {
		d.dashes = append(d.dashes, d.dash)
		d.dash = nil
	}
}
