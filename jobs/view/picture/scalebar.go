package picture

import (
	"math"

	"knifedesk/geometry"
)

// scaleBar draws a bar of a round length with its mm.
func (p *page) scaleBar() {
	p.zone = zoneScale
	long := roundLength(180 / p.scale)
	w := long * p.scale
	y := p.foot + 24
	bar := func(x0, x1 float64) geometry.Path {
		return geometry.BoxAround(geometry.Pt(x0, y-7), geometry.Pt(x1, y)).Path()
	}
	p.draw(style{fill: ink}, bar(pageMargin, pageMargin+w/2))
	p.draw(style{stroke: ink, width: 1.2}, bar(pageMargin, pageMargin+w))
	p.write(geometry.Pt(pageMargin, y+17), 14, left, ink, "0")
	p.write(geometry.Pt(pageMargin+w, y+17), 14, middle, ink, trim(long)+" mm")
	p.foot = y + 46
}

// roundLength returns the largest of 1, 2, 5 × 10ⁿ that is at most v.
func roundLength(v float64) float64 {
	base := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{5, 2} {
		if k*base <= v {
			return k * base
		}
	}
	return base
}
