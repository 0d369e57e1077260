package preview

import (
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry"
)

func words(s string) []string { return strings.Fields(s) }

// badge writes a number in a ring at the point (mm). Where the ring, of the
// given room in mm, would not fit, it stands beside with a leader line.
func (p *page) badge(at geometry.Point, room float64, number int, s style) {
	text := strconv.Itoa(number)
	r, size := 10.0, 13.0
	if len(text) > 2 {
		r = 13
	}
	if fits := room * p.scale; fits >= 0.7*r && fits < r+1 {
		r, size = 0.7*r, 9
	}
	q := p.view.Apply(at)
	spot := q
	if room*p.scale < r || p.blocked(q, r) {
		spot = p.freeSpot(q, r)
	}
	if spot != q {
		end := spot.Add(q.Sub(spot).Unit().Mul(r))
		p.line(style{stroke: s.stroke, width: 1}, end, q)
		p.draw(style{fill: s.stroke}, geometry.Circle(q, 2))
	}
	p.draw(style{fill: s.fill, stroke: s.stroke, width: 1.4}, geometry.Circle(spot, r))
	p.writeBold(geometry.Pt(spot.X, spot.Y+0.36*size), size, middle, ink, text)
	p.taken = append(p.taken, geometry.BoxAround(spot).Grow(r))
}

func (p *page) blocked(q geometry.Point, r float64) bool {
	b := geometry.BoxAround(q).Grow(r)
	if !p.area.Grow(14).ContainsBox(b) {
		return true
	}
	for _, t := range p.taken {
		if t.Overlaps(b) {
			return true
		}
	}
	return false
}

// freeSpot looks outward on rings of sixteen directions, nearest first.
func (p *page) freeSpot(q geometry.Point, r float64) geometry.Point {
	for d := 2.2 * r; d < 9*r; d += r {
		for k := 0; k < 16; k++ {
			sin, cos := math.Sincos(math.Pi/4 + 2*math.Pi*float64(k)/16)
			s := q.Add(geometry.Pt(cos, -sin).Mul(d))
			if !p.blocked(s, r) {
				return s
			}
		}
	}
	return q
}

// arrow draws an arrow from the point (pixels) along deg (y up).
func (p *page) arrow(s style, from geometry.Point, deg, length float64) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	dir := geometry.Pt(cos, -sin)
	tip := from.Add(dir.Mul(length))
	p.line(s, from, tip)
	n := dir.Perp().Mul(4)
	back := tip.Sub(dir.Mul(8))
	p.draw(style{fill: s.stroke}, geometry.Polygon(tip, back.Add(n), back.Sub(n)))
}

// dimension draws a dimension line between two points in mm, offset to the
// side by off pixels (to the right of a→b on the page), with its text.
func (p *page) dimension(a, b geometry.Point, off float64, text string) {
	s := style{stroke: ink, width: 1}
	qa, qb := p.view.Apply(a), p.view.Apply(b)
	dir := qb.Sub(qa).Unit()
	n := geometry.Pt(-dir.Y, dir.X)
	ea, eb := qa.Add(n.Mul(off)), qb.Add(n.Mul(off))
	p.line(style{stroke: faint, width: 0.8}, qa, qa.Add(n.Mul(off*1.2)))
	p.line(style{stroke: faint, width: 0.8}, qb, qb.Add(n.Mul(off*1.2)))
	p.line(s, ea, eb)
	for _, end := range []struct{ tip, dir geometry.Point }{{ea, dir}, {eb, dir.Mul(-1)}} {
		back := end.tip.Add(end.dir.Mul(9))
		side := end.dir.Perp().Mul(3)
		p.draw(style{fill: ink}, geometry.Polygon(end.tip, back.Add(side), back.Sub(side)))
	}
	mid := ea.Lerp(eb, 0.5)
	w := 8.2*float64(len([]rune(text))) + 8
	p.draw(style{fill: paper}, geometry.Box{Min: geometry.Pt(mid.X-w/2, mid.Y-10), Max: geometry.Pt(mid.X+w/2, mid.Y+8)}.Path())
	p.writeBold(geometry.Pt(mid.X, mid.Y+5), 15, middle, ink, text)
}
