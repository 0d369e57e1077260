package view_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// drawnAtRandom is a piece of 84 × 64 mm that a knife finds hard, as an SVG: radii from
// 0.1 mm, corners to 12°, steps below the offset, curves and cusps, holes, and, on card,
// folds, marks of a pen and perforations along lines, arcs and curves.
func drawnAtRandom(r *rand.Rand, film bool) string {
	cut, fold, perforate, pen := []string{outlineAtRandom(r)}, []string{}, []string{}, []string{}
	for cell := range 6 {
		x, y := 15+24*float64(cell%3), 20+26*float64(cell/3)
		switch kind := r.IntN(8); {
		case kind < 4 || film:
			cut = append(cut, holeAtRandom(r, x, y))
		case kind == 4:
			fold = append(fold, fmt.Sprintf("M%g %gl%g %g", x-8, y-8*r.Float64(), 16*r.Float64(), 16*r.Float64()))
		case kind == 5:
			perforate = append(perforate, tornAtRandom(r, x, y))
		case kind == 6:
			pen = append(pen, fmt.Sprintf("M%g %gc%g 9 4 -9 9 0s-3 6 -5 %g", x-6, y, 6*r.Float64(), 4*r.Float64()))
		default:
			pen = append(pen, fmt.Sprintf("M%g %gh8v8h-8z", x-4, y-4))
		}
	}
	var out strings.Builder
	out.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80" fill="none" stroke="#000">`)
	for _, g := range []struct {
		layer string
		lines []string
	}{{"CUT", cut}, {"FOLD", fold}, {"PERFORATE", perforate}, {"PEN", pen}} {
		if len(g.lines) > 0 {
			fmt.Fprintf(&out, `<g id="%s"><path d="%s"/></g>`, g.layer, strings.Join(g.lines, `"/><path d="`))
		}
	}
	out.WriteString("</svg>")
	return out.String()
}

var hardRadii = []float64{0.1, 0.15, 0.2, 0.3, 0.5, 0.8, 1.2, 3}

func outlineAtRandom(r *rand.Rand) string {
	switch q := hardRadii[r.IntN(len(hardRadii))]; r.IntN(5) {
	case 0:
		return fmt.Sprintf("M%[1]g 2H%[2]ga%[3]g %[3]g 0 0 1 %[3]g %[3]gV%[4]ga%[3]g %[3]g 0 0 1 -%[3]g %[3]gH%[1]ga%[3]g %[3]g 0 0 1 -%[3]g -%[3]gV%[5]ga%[3]g %[3]g 0 0 1 %[3]g -%[3]gz", 2+q, 86-q, q, 66-q, 2+q)
	case 1: // steps below the offset, and a tip
		return fmt.Sprintf("M2 2H60v.2h.2v.2h.2V2H86V40l-%g %gL86 66H2Z", 4*r.Float64(), 0.2+2*r.Float64())
	case 2: // a wavy edge
		return "M2 2C12 6 20 -1 30 2S48 6 56 2 78 -1 86 2C90 20 82 40 86 66C60 70 40 62 2 66C-1 50 5 30 2 2Z"
	case 3: // chords for what was round
		var b strings.Builder
		n := 60 + r.IntN(240)
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			fmt.Fprintf(&b, "%s%.4f %.4f", map[bool]string{true: "M", false: "L"}[i == 0], 44+42*cos, 34+32*sin)
		}
		return b.String() + "Z"
	}
	return fmt.Sprintf("M2 2L86 2L86 66L%g 66L%g %gL%g 66L2 66Z", 60.0, 55-3*r.Float64(), 60.5, 50.0)
}

func holeAtRandom(r *rand.Rand, x, y float64) string {
	q := hardRadii[r.IntN(len(hardRadii))]
	switch r.IntN(5) {
	case 0:
		q *= 2
		return fmt.Sprintf("M%g %ga%[3]g %[3]g 0 1 0 %[4]g 0a%[3]g %[3]g 0 1 0 -%[4]g 0z", x-q, y, q, 2*q)
	case 1: // a star
		var b strings.Builder
		n, deep := 4+r.IntN(8), 0.25+0.6*r.Float64()
		for i := range 2 * n {
			sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
			far := 8 * map[bool]float64{true: 1, false: deep}[i%2 == 0]
			fmt.Fprintf(&b, "%s%.4f %.4f", map[bool]string{true: "M", false: "L"}[i == 0], x+far*cos, y+far*sin)
		}
		return b.String() + "Z"
	case 2: // a drop with a cusp
		return fmt.Sprintf("M%g %gc%g %g -9 7 0 8s%g -8 0 -8z", x, y-4, 9*r.Float64(), 2+3*r.Float64(), 1+4*r.Float64())
	case 3: // a slot with round ends
		return fmt.Sprintf("M%g %gh8a%[3]g %[3]g 0 0 1 0 %[4]gh-8a%[3]g %[3]g 0 0 1 0 -%[4]gz", x-4, y-q, q, 2*q)
	}
	return fmt.Sprintf("M%g %gl6 0l%g %gl-6 0z", x-4, y-3, 3*r.Float64()-1.5, 4+3*r.Float64())
}

// tornAtRandom is an open line or a closed one along which card is torn.
func tornAtRandom(r *rand.Rand, x, y float64) string {
	switch r.IntN(4) {
	case 0:
		return fmt.Sprintf("M%g %gl%g 5l-3 4", x-7, y-4, 10+4*r.Float64())
	case 1:
		return fmt.Sprintf("M%g %ga%[3]g %[3]g 0 0 1 9 2", x-5, y, 5+4*r.Float64())
	case 2:
		q := 2 + 5*r.Float64()
		return fmt.Sprintf("M%g %ga%[3]g %[3]g 0 1 0 %[4]g 0a%[3]g %[3]g 0 1 0 -%[4]g 0z", x-q, y, q, 2*q)
	}
	return fmt.Sprintf("M%g %gc2 %g 6 -9 9 0s3 3 5 -2", x-6, y, 12*r.Float64())
}
