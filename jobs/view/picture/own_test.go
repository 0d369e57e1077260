package picture_test

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"sync"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
)

// own are drawings that only test pictures: each is hard on labels in its own way.
func own() map[string]drawn {
	film := plan.Choices{Stock: "film-removable-610", Size: plan.Size{Unit: "mm"}}
	card := plan.Choices{Stock: "card-160-a3", Size: plan.Size{Frame: "none", Unit: "mm"}}
	sixty := film
	sixty.Copies = 60
	stencil := plan.Choices{Stock: "stencil-a3", Size: plan.Size{Frame: "none", Unit: "mm"}}
	return map[string]drawn{
		"lettering": {drawingOf(260, 60, lettering(14, 3)), film},
		"snowflake": {drawingOf(160, 160, snowflake(80, 80, 70)), film},
		"lace":      {drawingOf(280, 200, lace(11, 7)), stencil},
		"kit":       {drawingOf(280, 200, kit(6, 4)), card},
		"banner-3m": {drawingOf(3000, 300, lettering(24, 1)), film},
		"labels":    {drawingOf(50, 25, rounded(0, 0, 50, 25, 4)+ring(12, 12.5, 8)), sixty},
		"box":       {drawingOf(200, 160, boxNet()), card},
		"rings":     {drawingOf(180, 180, rings(9)), film},
		"knot":      {drawingOf(160, 160, knot()), film},
		"panels":    {drawingOf(1740, 900, lettering(14, 1)+"|"+rounded(0, 110, 1740, 790, 40)), panelled(film)},
		"overlaps":  {drawingOf(120, 60, strings.TrimPrefix(ring(30, 30, 20), "|")+ring(55, 30, 20)+ring(85, 30, 20)), welded(film)},
	}
}

// welded is choices with shapes that overlap joined.
func welded(c plan.Choices) plan.Choices {
	c.Replies = ask.Replies{weeding.QuestionWeld: {Answer: weeding.AnswerWeld}}
	return c
}

// panelled is choices with work that is larger than the stock made of panels.
func panelled(c plan.Choices) plan.Choices {
	c.Options.Panels = layout.PanelsAllowed
	return c
}

// ownPlans plans them and those of fresh once.
var ownPlans = sync.OnceValues(func() (map[string]*planned, error) {
	plans := map[string]*planned{}
	all := own()
	maps.Copy(all, fresh())
	for name, o := range all {
		p, err := planOf([]byte(o.file), o.choices)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		plans[name] = p
	}
	return plans, nil
})

// drawingOf is an SVG file of w × h mm with layers as groups; bare path data is cut.
func drawingOf(w, h float64, body string) string {
	if !strings.HasPrefix(body, "<") {
		body = onLayerOf("CUT", body)
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %[1]g %[2]g" fill="none" stroke="#007c91" stroke-width="0.1">%[3]s</svg>`, w, h, body)
}

func onLayerOf(layer, data string) string {
	return `<g id="` + layer + `"><path d="` + strings.ReplaceAll(data, "|", `"/><path d="`) + `"/></g>`
}

// ring is a circle; | parts paths.
func ring(x, y, r float64) string {
	return fmt.Sprintf("|M%g %ga%[3]g %[3]g 0 0 1 %[4]g 0a%[3]g %[3]g 0 0 1 -%[4]g 0z", x-r, y, r, 2*r)
}

func rounded(x, y, w, h, r float64) string {
	return fmt.Sprintf("M%g %gh%ga%[5]g %[5]g 0 0 1 %[5]g %[5]gv%[4]ga%[5]g %[5]g 0 0 1 -%[5]g %[5]gh-%[3]ga%[5]g %[5]g 0 0 1 -%[5]g -%[5]gv-%[4]ga%[5]g %[5]g 0 0 1 %[5]g -%[5]gz", x+r, y, w-2*r, h-2*r, r)
}

// lettering is rows of n letters A and O, which have counters; one row is as high as its
// drawing.
func lettering(n, rows int) string {
	var b strings.Builder
	for row := range rows {
		for i := range n {
			x, y, k := 18*float64(i), 19*float64(row), 1.0
			if rows == 1 {
				x, k = 124*float64(i), 6.5
			}
			at := func(px, py float64) string { return fmt.Sprintf("%g %g", x+k*px, y+k*py) }
			if i%2 == 0 {
				fmt.Fprintf(&b, "|M%sL%sL%sL%sL%sL%sL%sL%sz|M%sL%sL%sz", at(0, 16), at(6, 0), at(10, 0), at(16, 16), at(12, 16), at(10.5, 12), at(5.5, 12), at(4, 16), at(6.6, 9), at(9.4, 9), at(8, 5))
				continue
			}
			b.WriteString(ring(x+k*8, y+k*8, 8*k) + ring(x+k*8, y+k*8, 4.5*k))
		}
	}
	return strings.TrimPrefix(b.String(), "|")
}

// snowflake is a star of six arms with twigs, in one outline, with holes.
func snowflake(x, y, r float64) string {
	var b strings.Builder
	arm := [][2]float64{{0.12, 30}, {0.38, 9}, {0.5, 24}, {0.56, 20}, {0.46, 5}, {0.7, 4}, {0.82, 14}, {0.87, 11}, {0.8, 2}, {1, 0}}
	for i := range 6 {
		base := 60 * float64(i)
		for k := range 2*len(arm) - 1 {
			p, side := arm[min(k, 2*len(arm)-2-k)], -1.0
			if k >= len(arm) {
				side = 1
			}
			sin, cos := math.Sincos((base + side*p[1]) * math.Pi / 180)
			fmt.Fprintf(&b, "%c%.3f %.3f", "ML"[min(i+k, 1)], x+r*p[0]*cos, y+r*p[0]*sin)
		}
	}
	return b.String() + "z" + ring(x, y, 4)
}

// lace is a stencil with rows of openings and rings between them.
func lace(nx, ny int) string {
	var b strings.Builder
	for j := range ny {
		for i := range nx {
			x, y := 20+24*float64(i), 20+26*float64(j)
			if (i+j)%3 == 0 {
				b.WriteString(ring(x, y, 8) + ring(x, y, 3.5))
				continue
			}
			fmt.Fprintf(&b, "|M%g %gl7 9l-7 9l-7 -9z", x, y-9)
		}
	}
	return strings.TrimPrefix(b.String(), "|")
}

// kit is many different parts with holes.
func kit(nx, ny int) string {
	var b strings.Builder
	for j := range ny {
		for i := range nx {
			x, y := 8+45*float64(i), 8+46*float64(j)
			fmt.Fprintf(&b, "|M%g %gh%dv%dh-%dz", x, y, 24+2*i, 20+4*j, 24+2*i)
			b.WriteString(ring(x+8, y+8, 4) + ring(x+17, y+11, 3+0.2*float64(i)))
		}
	}
	return strings.TrimPrefix(b.String(), "|")
}

// boxNet is an outline with folds, a strip to tear off, and a mark to draw.
func boxNet() string {
	return onLayerOf("CUT", "M40 0h80v40h40v60h-40v50h-80v-50h-40v-60h40z") +
		onLayerOf("FOLD", "M40 40h80|M40 100h80|M40 40v60|M120 40v60") + onLayerOf("PERFORATE", "M40 135h80") + onLayerOf("PEN", "M60 60h40v20h-40z")
}

// rings are circles in each other.
func rings(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(ring(90, 90, 88-9.5*float64(i)))
	}
	return strings.TrimPrefix(b.String(), "|")
}

// knot is a clover of four leaves, a band of even width, with its eyes.
func knot() string {
	var b strings.Builder
	for edge, wide := range []float64{4, -4} {
		for k := range 121 {
			a := 2 * math.Pi * float64(k) / 120
			r := 44 + 24*math.Cos(4*a) + wide
			fmt.Fprintf(&b, "%c%.3f %.3f", "ML"[min(k, 1)], 80+r*math.Cos(a), 80+r*math.Sin(a))
		}
		b.WriteString([...]string{"z|", "z"}[edge])
	}
	for i := range 4 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i))
		b.WriteString(ring(80+50*cos, 80+50*sin, 4))
	}
	return b.String()
}
