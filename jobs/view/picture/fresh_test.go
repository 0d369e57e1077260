package picture_test

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/jobs/plan"
)

// drawn is a drawing with what it is cut from.
type drawn struct {
	file    string
	choices plan.Choices
}

// fresh are ten more drawings of the kinds that a workshop gets, drawn otherwise than those
// of own: rows of low letters, an ornament of spirals, a flake with many holes, a doily, a
// kit with slots and pen marks, a banner of 3 m, labels with a hole and a tear line, a box
// with flaps, rings that touch nothing, and a knot of
// three bands that lie over each other and are joined.
func fresh() map[string]drawn {
	size := plan.Size{Frame: "none", Unit: "mm"}
	on := func(stock string, copies int) plan.Choices {
		return plan.Choices{Stock: stock, Copies: copies, Size: size}
	}
	film := on("film-removable-610", 1)
	return map[string]drawn{
		"fresh-words":    {drawingOf(250, 120, words(5, 12)), film},
		"fresh-ornament": {drawingOf(220, 220, spirals(8)), film},
		"fresh-flake":    {drawingOf(200, 200, flake(12)), film},
		"fresh-doily":    {drawingOf(280, 280, doily()), on("stencil-a3", 1)},
		"fresh-kit":      {drawingOf(380, 260, slotted()), on("card-160-a3", 2)},
		"fresh-banner":   {drawingOf(3000, 420, banner()), film},
		"fresh-labels":   {drawingOf(60, 30, tag()), on("card-220-a4", 60)},
		"fresh-box":      {drawingOf(260, 190, flapped()), on("card-160-a3", 1)},
		"fresh-rings":    {drawingOf(240, 160, apart()), film},
		"fresh-knot":     {drawingOf(180, 180, overUnder()), welded(film)},
	}
}

// polygon writes closed path data through n points.
func polygon(n int, at func(k float64) (x, y float64)) string {
	var b strings.Builder
	for k := range n {
		x, y := at(float64(k))
		fmt.Fprintf(&b, "%c%.3f %.3f", "ML"[min(k, 1)], x, y)
	}
	return b.String() + "z"
}

func joined(parts ...string) string { return strings.TrimPrefix(strings.Join(parts, ""), "|") }

// words is rows of n letters E, D, H and T of 9 mm, of which the D has a counter.
func words(rows, n int) string {
	forms := []string{"0 0h6v2h-4v1.5h3v2h-3v1.5h4v2h-6z", "0 0h4l3 3v3l-3 3h-4z", "0 0h2v3.5h3v-3.5h2v9h-2v-3.5h-3v3.5h-2z", "0 0h7v2h-2.5v7h-2v-7h-2.5z"}
	var b strings.Builder
	for row := range rows {
		for i := range n {
			x, y, k := 5+20*float64(i), 6+22*float64(row), (i+row)%len(forms)
			fmt.Fprintf(&b, "|M%g %gm%s", x, y, forms[k])
			if k == 1 {
				fmt.Fprintf(&b, "M%g %gh1.5l1.5 1.5v2l-1.5 1.5h-1.5z", x+2, y+2)
			}
		}
	}
	return joined(b.String())
}

// spirals is n hooks round a middle ring, each a band that tapers to its end, in a wreath.
func spirals(n int) string {
	out := ring(110, 110, 104) + ring(110, 110, 22) + ring(110, 110, 12)
	for i := range n {
		turn := 2 * math.Pi * float64(i) / float64(n)
		out += "|" + polygon(80, func(k float64) (float64, float64) {
			t, side := k/39, 1.0
			if k >= 40 {
				t, side = (79-k)/39, -1
			}
			r, wide := 16-13*t, 4.2-2.2*t
			a := 4.2 * t
			x, y := 64+(r+side*wide/2)*math.Cos(a), (r+side*wide/2)*math.Sin(a)
			return 110 + x*math.Cos(turn) - y*math.Sin(turn), 110 + x*math.Sin(turn) + y*math.Cos(turn)
		})
	}
	return joined(out)
}

// flake is a star with n rays that swell, and holes of drops in each.
func flake(n int) string {
	out := "|" + polygon(40*n, func(k float64) (float64, float64) {
		a := 2 * math.Pi * k / float64(40*n)
		r := 52 + 40*math.Pow(math.Abs(math.Cos(a*float64(n)/2)), 1.4) + 3*math.Cos(a*float64(4*n))
		return 100 + r*math.Cos(a), 100 + r*math.Sin(a)
	})
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		for k, r := range []float64{1.6, 2.4, 3.2} {
			at := 76 - 16*float64(k)
			out += ring(100+at*math.Cos(a), 100+at*math.Sin(a), r)
		}
	}
	return joined(out)
}

// doily is rings of openings: drops, lozenges and dots.
func doily() string {
	out := ""
	for row, g := range []struct {
		r, long, wide float64
		n             int
	}{{18, 6, 4, 6}, {42, 9, 6, 12}, {72, 11, 8, 18}, {104, 12, 9, 24}} {
		for i := range g.n {
			a := 2 * math.Pi * (float64(i) + 0.5*float64(row%2)) / float64(g.n)
			cos, sin := math.Cos(a), math.Sin(a)
			out += "|" + polygon(20, func(k float64) (float64, float64) {
				t := 2 * math.Pi * k / 20
				x, y := g.r+g.long*math.Cos(t), g.wide*math.Sin(t)*(0.7+0.3*math.Cos(t))
				return 140 + x*cos - y*sin, 140 + x*sin + y*cos
			})
		}
	}
	for i := range 36 {
		a := 2 * math.Pi * float64(i) / 36
		out += ring(140+126*math.Cos(a), 140+126*math.Sin(a), 3)
	}
	return joined(out)
}

// slotted is wheels, a base with slots for them and struts, each numbered by the pen.
func slotted() string {
	cut, pen := "", ""
	for i := range 4 {
		x := 40 + 75*float64(i)
		cut += "|" + polygon(72, func(k float64) (float64, float64) {
			a, r := 2*math.Pi*k/72, 30.0
			if int(k)%6 < 3 {
				r = 34
			}
			return x + r*math.Cos(a), 40 + r*math.Sin(a)
		}) + ring(x, 40, 4)
		cut += fmt.Sprintf("|M%g 90h12v100h-4v6h-4v-6h-4z", x-6)
		pen += fmt.Sprintf("|M%g 60h8v5h-8z", x-4)
	}
	cut += "|" + rounded(6, 205, 300, 50, 8)
	for i := range 7 {
		cut += fmt.Sprintf("|M%d 225h4v12h-4z", 30+40*i)
	}
	return onLayerOf("CUT", joined(cut)) + onLayerOf("PEN", joined(pen))
}

// banner is big letters between two wavy lines, 3 m long.
func banner() string {
	out := ""
	for row := range 2 {
		out += "|" + polygon(240, func(k float64) (float64, float64) {
			t, wide := k/119, 0.0
			if k >= 120 {
				t, wide = (239-k)/119, 14
			}
			return 20 + 2960*t, 40 + 320*float64(row) + wide + 12*math.Sin(24*math.Pi*t)
		})
	}
	for i := range 13 {
		x := 60 + 225*float64(i)
		if i%2 == 0 {
			out += fmt.Sprintf("|M%g 330v-230h110l45 45v140l-45 45zM%g 285h50l12 -12v-112l-12 -12h-50z", x, x+45)
			continue
		}
		out += fmt.Sprintf("|M%g 100h150v45h-105v48h85v45h-85v47h105v45h-150z", x)
	}
	return joined(out)
}

// tag is a label with a hole, a tear line and a mark.
func tag() string {
	return onLayerOf("CUT", rounded(0, 0, 60, 30, 5)+ring(7, 15, 2.5)) + onLayerOf("PERFORATE", "M45 0v30") + onLayerOf("PEN", "M15 10h22|M15 15h22|M15 20h14")
}

// flapped is a box with flaps, a window, a tear strip and folds.
func flapped() string {
	cut := "M10 50h15l5 -30h50l5 30h60l5 -30h50l5 30h5l20 6v78l-20 6h-5l-5 30h-50l-5 -30h-60l-5 30h-50l-5 -30h-15z" + "|" + rounded(100, 70, 36, 40, 6)
	return onLayerOf("CUT", cut) + onLayerOf("FOLD", "M25 50v90|M85 50v90|M145 50v90|M205 50v90|M25 50h60|M145 50h60|M25 140h60|M145 140h60") + onLayerOf("PERFORATE", "M25 62h60|M25 70h60")
}

// apart is five rings in two rows that touch nothing, each a band.
func apart() string {
	out := ""
	for i := range 5 {
		x, y := 45+37.5*float64(i), 50+58*float64(i%2)
		out += ring(x, y, 34) + ring(x, y, 27) + ring(x, y, 9)
	}
	return joined(out)
}

// overUnder is three hooks of a band in three loops, each of which lies over the next.
func overUnder() string {
	at := func(t float64) (x, y, dx, dy float64) {
		x, y = math.Sin(t)+2*math.Sin(2*t), math.Cos(t)-2*math.Cos(2*t)
		dx, dy = math.Cos(t)+4*math.Cos(2*t), -math.Sin(t)+4*math.Sin(2*t)
		long := math.Hypot(dx, dy)
		return 90 + 25*x, 90 + 25*y, dx / long, dy / long
	}
	out := ""
	for i := range 3 {
		from, to := 2*math.Pi/3*float64(i)-0.62, 2*math.Pi/3*float64(i)+1.08
		out += "|" + polygon(80, func(k float64) (float64, float64) {
			t, side := k/39, 4.5
			if k >= 40 {
				t, side = (79-k)/39, -4.5
			}
			x, y, dx, dy := at(from + t*(to-from))
			return x - side*dy, y + side*dx
		})
	}
	return joined(out)
}
