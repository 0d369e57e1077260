package figure

import (
	"image"
	"image/color"
	"math"

	"knifedesk/geometry"
)

// stroke inks polylines with round ends and joints, half the width to each
// side. Where strokes of one call overlap they are inked once.
//
// They are outlined twice, since the area has to be known before the first is
// inked and the outlines of all dashes would take far more memory than that
// takes time.
func (c *canvas) stroke(lines [][]geometry.Point, pattern []float64, half float64, ink color.NRGBA) {
	box := geometry.EmptyBox()
	each := func(do func(polygon []geometry.Point)) {
		o := outliner{half: half, round: dot(half), do: do}
		for _, l := range lines {
			for _, dash := range dashed(c.b, l, pattern, c.scale) {
				c.b.Spend(len(dash))
				o.outline(dash)
			}
		}
	}
	each(func(polygon []geometry.Point) {
		for _, q := range polygon {
			box = box.Include(q)
		}
	})
	area := c.touched(box)
	if area.Empty() {
		return
	}
	const pixels = 64 // what one step inks
	c.b.Spend(area.Dx() * area.Dy() / pixels)
	c.raster.Reset(area.Dx(), area.Dy())
	each(func(polygon []geometry.Point) {
		c.b.Spend(rows(polygon))
		c.trace(polygon, area.Min)
	})
	c.raster.Draw(c.img, area, image.NewUniform(ink), image.Point{})
}

// trace hands a polygon to the rasterizer, whose first pixel is at from.
func (c *canvas) trace(polygon []geometry.Point, from image.Point) {
	for i, q := range polygon {
		x, y := float32(q.X-float64(from.X)), float32(q.Y-float64(from.Y))
		if i == 0 {
			c.raster.MoveTo(x, y)
		} else {
			c.raster.LineTo(x, y)
		}
	}
	c.raster.ClosePath()
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

// outliner makes the outlines of polylines: one quadrilateral a chord and a
// round dot at ends and at joints that would gape, all turning the same way, so
// that the nonzero rule joins them.
type outliner struct {
	half    float64          // of the width
	round   []geometry.Point // a dot round the origin
	do      func(polygon []geometry.Point)
	polygon []geometry.Point // the last one, whose memory is used again
}

func (o *outliner) outline(line []geometry.Point) {
	var before geometry.Point // direction of the chord before
	for i, a := range line {
		if i+1 == len(line) {
			o.dot(a)
			break
		}
		dir := line[i+1].Sub(a).Unit()
		if gape := o.half * math.Abs(before.Cross(dir)); gape > 0.1 || before.Dot(dir) <= 0 {
			o.dot(a)
		}
		if line[i+1] == a {
			continue
		}
		n := dir.Perp().Mul(o.half)
		o.polygon = append(o.polygon[:0], a.Sub(n), line[i+1].Sub(n), line[i+1].Add(n), a.Add(n))
		o.do(o.polygon)
		before = dir
	}
}

func (o *outliner) dot(at geometry.Point) {
	o.polygon = o.polygon[:0]
	for _, q := range o.round {
		o.polygon = append(o.polygon, at.Add(q))
	}
	o.do(o.polygon)
}

// dot is a polygon of radius r round the origin.
func dot(r float64) []geometry.Point {
	ring := make([]geometry.Point, max(6, int(4*r)))
	for k := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(len(ring)))
		ring[k] = geometry.Pt(cos, sin).Mul(r)
	}
	return ring
}
