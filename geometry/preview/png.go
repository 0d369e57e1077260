package preview

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"knifedesk/geometry"
)

// MaxPixels bounds a PNG.
const MaxPixels = 40 << 20

// PNG returns the picture with scale pixels for one unit of the page. It
// fails for a picture of more than MaxPixels.
func (p *Picture) PNG(scale float64) ([]byte, error) {
	w, h := math.Ceil(p.Width*scale), math.Ceil(p.Height*scale)
	if !(w*h >= 1 && w*h <= MaxPixels) {
		return nil, fmt.Errorf("preview: %g × %g pixels, at most %d are drawn", w, h, MaxPixels)
	}
	c := canvas{img: image.NewRGBA(image.Rect(0, 0, int(w), int(h))), scale: scale, faces: map[faceKey]font.Face{}}
	draw.Draw(c.img, c.img.Bounds(), image.NewUniform(colour(paper, 0)), image.Point{}, draw.Src)
	for _, f := range p.figures {
		if f.text != "" {
			if err := c.text(f); err != nil {
				return nil, err
			}
			continue
		}
		c.figure(f)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, c.img); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

type faceKey struct {
	size float64
	bold bool
}

type canvas struct {
	img   *image.RGBA
	scale float64
	faces map[faceKey]font.Face
}

func (c *canvas) figure(f figure) {
	var lines [][]geometry.Point
	for _, p := range f.paths {
		lines = append(lines, p.Transform(geometry.Scale(c.scale, c.scale)).Flatten(0.1))
	}
	if f.style.fill != "" {
		c.ink(evenOdd(lines), colour(f.style.fill, f.style.opacity))
	}
	if f.style.stroke != "" {
		c.ink(strokePolygons(dashed(lines, f.style.dash, c.scale), f.style.width*c.scale/2), colour(f.style.stroke, f.style.opacity))
	}
}

// ink fills polygons by the nonzero rule, rastering only where they lie.
func (c *canvas) ink(polys [][]geometry.Point, ink color.Color) {
	box := geometry.EmptyBox()
	for _, q := range polys {
		box = box.Union(geometry.BoxAround(q...))
	}
	if box.Empty() {
		return
	}
	r := image.Rect(int(math.Floor(box.Min.X)), int(math.Floor(box.Min.Y)), int(math.Ceil(box.Max.X))+1, int(math.Ceil(box.Max.Y))+1).Intersect(c.img.Bounds())
	if r.Empty() {
		return
	}
	z := vector.NewRasterizer(r.Dx(), r.Dy())
	for _, q := range polys {
		for i, pt := range q {
			x, y := float32(pt.X-float64(r.Min.X)), float32(pt.Y-float64(r.Min.Y))
			if i == 0 {
				z.MoveTo(x, y)
			} else {
				z.LineTo(x, y)
			}
		}
		z.ClosePath()
	}
	z.Draw(c.img, r, image.NewUniform(ink), image.Point{})
}

// evenOdd turns rings so that the nonzero rule fills what the even-odd rule
// would, for rings that do not cross: nested ones alternate in direction.
func evenOdd(rings [][]geometry.Point) [][]geometry.Point {
	out := make([][]geometry.Point, 0, len(rings))
	for i, ring := range rings {
		depth := 0
		for j, other := range rings {
			if i != j && len(ring) > 0 && inside(ring[0], other) {
				depth++
			}
		}
		if (signedArea(ring) > 0) != (depth%2 == 0) {
			ring = reversed(ring)
		}
		out = append(out, ring)
	}
	return out
}

func reversed(ring []geometry.Point) []geometry.Point {
	r := make([]geometry.Point, len(ring))
	for i, p := range ring {
		r[len(ring)-1-i] = p
	}
	return r
}

func signedArea(ring []geometry.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)])
	}
	return sum / 2
}

// inside counts crossings of a ray to the right.
func inside(p geometry.Point, ring []geometry.Point) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// strokePolygons returns one quadrilateral a chord and a round dot a joint,
// all turning the same way, so that the nonzero rule joins them.
func strokePolygons(lines [][]geometry.Point, half float64) [][]geometry.Point {
	var polys [][]geometry.Point
	dot := max(6, int(4*half))
	for _, l := range lines {
		for i, a := range l {
			ring := make([]geometry.Point, dot)
			for k := range ring {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(dot))
				ring[k] = geometry.Pt(a.X+half*cos, a.Y+half*sin)
			}
			polys = append(polys, ring)
			if i == 0 {
				continue
			}
			d := l[i].Sub(l[i-1])
			if d.Norm() == 0 {
				continue
			}
			n := d.Unit().Perp().Mul(half)
			polys = append(polys, []geometry.Point{l[i-1].Sub(n), l[i].Sub(n), l[i].Add(n), l[i-1].Add(n)})
		}
	}
	return polys
}

// dashed cuts polylines into the dashes of the pattern, scaled.
func dashed(lines [][]geometry.Point, pattern []float64, scale float64) [][]geometry.Point {
	if len(pattern) == 0 {
		return lines
	}
	var out [][]geometry.Point
	for _, l := range lines {
		k, left, on := 0, pattern[0]*scale, true
		var cur []geometry.Point
		for i := 1; i < len(l); i++ {
			a, b := l[i-1], l[i]
			for d := a.Dist(b); d > 0; d = a.Dist(b) {
				step := math.Min(d, left)
				q := a.Lerp(b, step/d)
				if on {
					if cur == nil {
						cur = []geometry.Point{a}
					}
					cur = append(cur, q)
				}
				a, left = q, left-step
				if left <= 1e-9 {
					if on {
						out = append(out, cur)
						cur = nil
					}
					on, k = !on, (k+1)%len(pattern)
					left = pattern[k] * scale
				}
				if step == d {
					break
				}
			}
		}
		if on && cur != nil {
			out = append(out, cur)
		}
	}
	return out
}

func (c *canvas) text(f figure) error {
	face, err := c.face(f.size*c.scale, f.bold)
	if err != nil {
		return err
	}
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(colour(f.style.fill, f.style.opacity)), Face: face}
	width := d.MeasureString(f.text)
	x := fixed.Int26_6(f.at.X * c.scale * 64)
	switch f.align {
	case middle:
		x -= width / 2
	case right:
		x -= width
	}
	d.Dot = fixed.Point26_6{X: x, Y: fixed.Int26_6(f.at.Y * c.scale * 64)}
	d.DrawString(f.text)
	return nil
}

func (c *canvas) face(size float64, bold bool) (font.Face, error) {
	key := faceKey{size, bold}
	if face, ok := c.faces[key]; ok {
		return face, nil
	}
	face, err := newFace(size, bold)
	if err == nil {
		c.faces[key] = face
	}
	return face, err
}

func newFace(size float64, bold bool) (font.Face, error) {
	ttf := goregular.TTF
	if bold {
		ttf = gobold.TTF
	}
	parsed, err := opentype.Parse(ttf)
	if err != nil {
		return nil, err
	}
	return opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72})
}

// colour reads #rrggbb; opacity 0 counts as opaque.
func colour(hex string, opacity float64) color.Color {
	var r, g, b uint8
	fmt.Sscanf(hex, "#%02x%02x%02x", &r, &g, &b)
	a := uint8(255)
	if opacity > 0 {
		a = uint8(255 * opacity)
	}
	return color.NRGBA{r, g, b, a}
}
