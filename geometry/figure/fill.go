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

// fill inks the inside of closed rings by the even-odd rule within the clip.
// Rings are closed by a straight line where they are not.
func (c *canvas) fill(rings [][]geometry.Point, ink color.NRGBA) {
	area := c.reach(rings)
	if area.Empty() {
		return
	}
	lines := make([][]float64, area.Dy()*sublines)
	for _, ring := range rings {
		for i, b := range ring {
			a := ring[(i+len(ring)-1)%len(ring)]
			c.b.Spend(1 + cross(lines, a, b, float64(area.Min.Y)))
		}
	}
	cover := make([]float64, area.Dx()+1)
	for y := 0; y < area.Dy(); y++ {
		clear(cover)
		for _, xs := range lines[y*sublines : (y+1)*sublines] {
			c.b.Spend(1 + len(xs))
			slices.Sort(xs)
			for i := 0; i+1 < len(xs); i += 2 {
				span(cover, xs[i]-float64(area.Min.X), xs[i+1]-float64(area.Min.X))
			}
		}
		c.blend(area.Min.X, area.Min.Y+y, cover[:area.Dx()], ink)
	}
}

// cross notes where the edge from a to b meets the scan lines below top, and
// returns how many it meets.
func cross(lines [][]float64, a, b geometry.Point, top float64) int {
	if a.Y > b.Y {
		a, b = b, a
	}
	at := func(k int) float64 { return top + (float64(k)+0.5)/sublines }
	first := max(0, int(math.Ceil((a.Y-top)*sublines-0.5)))
	k := first
	for ; k < len(lines) && at(k) < b.Y; k++ {
		t := (at(k) - a.Y) / (b.Y - a.Y)
		lines[k] = append(lines[k], a.X+(b.X-a.X)*t)
	}
	return k - first
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
	if box.Empty() {
		return image.Rectangle{}
	}
	return pixels(box).Intersect(c.clip)
}

// pixels returns the whole pixels that a box touches.
func pixels(b geometry.Box) image.Rectangle {
	return image.Rect(int(math.Floor(b.Min.X)), int(math.Floor(b.Min.Y)), int(math.Ceil(b.Max.X))+1, int(math.Ceil(b.Max.Y))+1)
}
