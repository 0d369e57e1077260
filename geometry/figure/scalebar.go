package figure

import (
	"math"

	"knifedesk/geometry"
)

// ScaleBar draws a bar of a round length with its mm.
func (p *Page) ScaleBar() {
	p.Zone = zoneScale
	long := roundLength(math.Min(180, p.format.Measure()/3) / p.Scale)
	w := long * p.Scale
	y := p.Foot + 24
	bar := func(x0, x1 float64) geometry.Path {
		return geometry.BoxAround(geometry.Pt(x0, y-7), geometry.Pt(x1, y)).Path()
	}
	p.Draw(Style{Fill: Ink}, bar(p.format.Margin, p.format.Margin+w/2))
	p.Draw(Style{Stroke: Ink, Width: 1.2}, bar(p.format.Margin, p.format.Margin+w))
	p.write(geometry.Pt(p.format.Margin, y+17), 14, left, Ink, "0")
	p.write(geometry.Pt(p.format.Margin+w, y+17), 14, middle, Ink, Number(long)+" mm")
	p.Foot = y + 46
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
