package figure

import (
	"image"
	"image/color"
	"math"
	"slices"

	"knifedesk/geometry"
)

// sublines is how many scan lines cover one row of pixels. Along a line the
// cover of a pixel is exact.
const sublines = 5

// strip is how many rows of pixels are filled together: a few, since each edge
// that crosses them is noted for every scan line.
const strip = 8

// fill inks the inside of closed rings by the even-odd rule within the clip.
// Rings are closed by a straight line where they are not.
func (c *canvas) fill(rings [][]geometry.Point, ink color.NRGBA) {
	area := c.reach(rings)
	if area.Empty() {
		return
	}
	cover := make([]float64, area.Dx()+1)
	lines := make([][]float64, strip*sublines)
	for y := 0; y < area.Dy(); y += strip {
		c.cross(lines, rings, float64(area.Min.Y), y*sublines)
		for row := range min(strip, area.Dy()-y) {
			clear(cover)
			for _, xs := range lines[row*sublines : (row+1)*sublines] {
				c.b.Spend(1 + len(xs))
				slices.Sort(xs)
				for i := 0; i+1 < len(xs); i += 2 {
					span(cover, xs[i]-float64(area.Min.X), xs[i+1]-float64(area.Min.X))
				}
			}
			c.blend(area.Min.X, area.Min.Y+y+row, cover[:area.Dx()], ink)
		}
	}
}

// cross notes anew where the rings meet scan lines, from the one with the
// number first below top on.
func (c *canvas) cross(lines [][]float64, rings [][]geometry.Point, top float64, first int) {
	for k := range lines {
		lines[k] = lines[k][:0]
	}
	at := func(k int) float64 { return top + (float64(k)+0.5)/sublines }
	for _, ring := range rings {
		c.b.Spend(1 + len(ring))
		for i, b := range ring {
			a := ring[(i+len(ring)-1)%len(ring)]
			if a.Y > b.Y {
				a, b = b, a
			}
			k := max(first, int(math.Ceil((a.Y-top)*sublines-0.5)))
			for ; k < first+len(lines) && at(k) < b.Y; k++ {
				t := (at(k) - a.Y) / (b.Y - a.Y)
				lines[k-first] = append(lines[k-first], a.X+(b.X-a.X)*t)
			}
		}
	}
}

// span adds what one scan line covers from x0 to x1 to the pixels.
func span(cover []float64, x0, x1 float64) {
	x0, x1 = math.Max(0, x0), math.Min(float64(len(cover)), x1)
	for x := int(x0); float64(x) < x1; x++ {
		cover[x] += (math.Min(x1, float64(x+1)) - math.Max(x0, float64(x))) / sublines
	}
}

// blend lays the ink over a row of pixels. The image is opaque all over.
func (c *canvas) blend(x, y int, cover []float64, ink color.NRGBA) {
	pix := c.img.Pix[c.img.PixOffset(x, y):]
	rgb := [3]float64{float64(ink.R), float64(ink.G), float64(ink.B)}
	for i, k := range cover {
		if k <= 0 {
			continue
		}
		k *= float64(ink.A) / 255
		for j := range rgb {
			was := float64(pix[4*i+j])
			pix[4*i+j] = uint8(was + (rgb[j]-was)*k + 0.5)
		}
	}
}

// reach returns the pixels that the points can touch, within the clip.
func (c *canvas) reach(lines [][]geometry.Point) image.Rectangle {
	box := geometry.EmptyBox()
	for _, l := range lines {
		for _, q := range l {
			box = box.Include(q)
		}
	}
	return c.touched(box)
}

// touched returns the pixels that a box touches, within the clip.
func (c *canvas) touched(box geometry.Box) image.Rectangle {
	if box.Empty() {
		return image.Rectangle{}
	}
	return pixels(box).Intersect(c.clip)
}

// pixels returns the whole pixels that a box touches.
func pixels(b geometry.Box) image.Rectangle {
	return image.Rect(int(math.Floor(b.Min.X)), int(math.Floor(b.Min.Y)), int(math.Ceil(b.Max.X))+1, int(math.Ceil(b.Max.Y))+1)
}
