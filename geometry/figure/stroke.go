package figure

import (
	"image"
	"image/color"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// stroke inks polylines with round ends and joints, half the width to each
// side. Where strokes of one call overlap they are inked once.
func (c *canvas) stroke(lines [][]geometry.Point, half float64, ink color.NRGBA) {
	polys := outlines(c.b, lines, half)
	area := c.reach(polys)
	if area.Empty() {
		return
	}
	const pixels = 64 // what one step inks
	c.b.Spend(area.Dx() * area.Dy() / pixels)
	c.raster.Reset(area.Dx(), area.Dy())
	for _, q := range polys {
		c.b.Spend(rows(q))
		for i, pt := range q {
			x, y := float32(pt.X-float64(area.Min.X)), float32(pt.Y-float64(area.Min.Y))
			if i == 0 {
				c.raster.MoveTo(x, y)
			} else {
				c.raster.LineTo(x, y)
			}
		}
		c.raster.ClosePath()
	}
	c.raster.Draw(c.img, area, image.NewUniform(ink), image.Point{})
}

// outlines returns one quadrilateral a chord and a round dot at ends and at
// joints that would gape, all turning the same way, so that the nonzero rule
// joins them.
func outlines(b *budget.Budget, lines [][]geometry.Point, half float64) [][]geometry.Point {
	var polys [][]geometry.Point
	for _, l := range lines {
		var before geometry.Point // direction of the chord before
		b.Spend(len(l))
		for i, a := range l {
			if i+1 == len(l) {
				polys = append(polys, dot(a, half))
				break
			}
			dir := l[i+1].Sub(a).Unit()
			if gape := half * math.Abs(before.Cross(dir)); gape > 0.1 || before.Dot(dir) <= 0 {
				polys = append(polys, dot(a, half))
			}
			if l[i+1] == a {
				continue
			}
			n := dir.Perp().Mul(half)
			polys = append(polys, []geometry.Point{a.Sub(n), l[i+1].Sub(n), l[i+1].Add(n), a.Add(n)})
			before = dir
		}
	}
	return polys
}

// rows is how many rows of pixels the sides of a polygon cross, which is what
// it costs to ink it.
func rows(polygon []geometry.Point) int {
	const most = 1 << 20
	sum := 1.0
	for i, q := range polygon {
		sum += 1 + math.Abs(q.Y-polygon[(i+1)%len(polygon)].Y)
	}
	if sum < most {
		return int(sum)
	}
	return most // no number, too
}

func dot(at geometry.Point, r float64) []geometry.Point {
	ring := make([]geometry.Point, max(6, int(4*r)))
	for k := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(len(ring)))
		ring[k] = at.Add(geometry.Pt(cos, sin).Mul(r))
	}
	return ring
}

// dashed cuts polylines into the dashes of the pattern, scaled.
func dashed(b *budget.Budget, lines [][]geometry.Point, pattern []float64, scale float64) [][]geometry.Point {
	if len(pattern) == 0 {
		return lines
	}
	var out [][]geometry.Point
	for _, l := range lines {
		d := dasher{b: b, pattern: pattern, scale: scale, rest: pattern[0] * scale}
		for i := 1; i < len(l); i++ {
			d.chord(l[i-1], l[i])
		}
		d.end()
		out = append(out, d.dashes...)
	}
	return out
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
