package dxf_test

import (
	"bufio"
	"fmt"
	"io"
	"math"
)

// uniform is the counter-based splitmix64 of reference/peers/sm64.py.
type uniform struct{ seed, i uint64 }

func (r *uniform) next() float64 {
	r.i++
	z := r.seed + r.i*0x9E3779B97F4A7C15
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return float64((z^z>>31)>>11) / (1 << 53)
}

// generator writes the file of reference/peers/gen_big_dxf.py, to the byte.
type generator struct {
	*bufio.Writer
	handle, splines int
	lines, arcs     float64 // sums of their lengths
}

// generate writes n entities of seed 1.
func generate(w io.Writer, n int) (lines, arcs float64) {
	g := &generator{Writer: bufio.NewWriter(w), handle: 0x100}
	io.WriteString(g, groups("SECTION 2=HEADER 9=$ACADVER 1=AC1015 9=$HANDSEED 5=FFFFFF 9=$INSUNITS 70=4 ENDSEC"+
		" SECTION 2=TABLES TABLE 2=LAYER 5=2 330=0 100=AcDbSymbolTable 70=11"))
	for i := range 11 {
		name := fmt.Sprintf("L%d", i)
		if i == 10 {
			name = "0"
		}
		io.WriteString(g, groups(fmt.Sprintf("LAYER 5=%X 330=2 100=AcDbSymbolTableRecord 100=AcDbLayerTableRecord 2=%s 70=0 62=%d 6=CONTINUOUS", 0x30+i, name, 1+i%7)))
	}
	io.WriteString(g, groups("ENDTAB ENDSEC SECTION 2=ENTITIES"))
	for k := range n {
		g.entity(&uniform{seed: uint64(1000003 + k)})
	}
	io.WriteString(g, groups("ENDSEC EOF"))
	g.Flush()
	return g.lines, g.arcs
}

func (g *generator) real(code int, v float64) { fmt.Fprintf(g, "%d\n%.6f\n", code, v) }

func (g *generator) int(code, v int) { fmt.Fprintf(g, "%d\n%d\n", code, v) }

func (g *generator) entity(r *uniform) {
	u := r.next
	t, layer, colour := u(), int(u()*10), int(u()*8)
	x, y := 2000*u(), 2000*u()
	head := func(name, subclass string) {
		fmt.Fprintf(g, "0\n%s\n5\n%X\n330\n1F\n100\nAcDbEntity\n8\nL%d\n", name, g.handle, layer)
		g.handle++
		if colour != 0 {
			g.int(62, colour)
		}
		fmt.Fprintf(g, "100\n%s\n", subclass)
	}
	switch {
	case t < .3:
		head("LINE", "AcDbLine")
		g.line(u, x, y)
	case t < .7:
		n := 4 + int(u()*13)
		closed := 0
		if u() < .5 {
			closed = 1
		}
		head("LWPOLYLINE", "AcDbPolyline")
		g.polyline(u, x, y, n, closed)
	case t < .9:
		head("ARC", "AcDbCircle")
		g.arc(u, x, y)
	default:
		g.splines++
		n := 4 + int(u()*9)
		head("SPLINE", "AcDbSpline")
		g.spline(u, x, y, n)
	}
}

func (g *generator) line(u func() float64, x, y float64) {
	x2 := x + 40*u() - 20
	y2 := y + 40*u() - 20
	for i, v := range []float64{x, y, 0, x2, y2, 0} {
		g.real([]int{10, 20, 30, 11, 21, 31}[i], v)
	}
	g.lines += math.Hypot(x2-x, y2-y)
}

func (g *generator) polyline(u func() float64, x, y float64, n, closed int) {
	g.int(90, n)
	g.int(70, closed)
	g.real(43, 0)
	for i := range n {
		a, q := 2*math.Pi*float64(i)/float64(n), 5+15*u()
		g.real(10, x+q*math.Cos(a))
		g.real(20, y+q*math.Sin(a))
		if u() < .25 {
			g.real(42, 2*u()-1)
		}
	}
}

func (g *generator) arc(u func() float64, x, y float64) {
	q := 1 + 20*u()
	start := 360 * u()
	sweep := 10 + 340*u()
	g.real(10, x)
	g.real(20, y)
	g.real(30, 0)
	g.real(40, q)
	io.WriteString(g, "100\nAcDbArc\n")
	g.real(50, start)
	g.real(51, math.Mod(start+sweep, 360))
	g.arcs += q * sweep * math.Pi / 180
}

func (g *generator) spline(u func() float64, x, y float64, n int) {
	rational := g.splines%5 == 0
	flags := 8
	if rational {
		flags = 12
	}
	for i, v := range []int{flags, 3, n + 4, n, 0} {
		g.int(70+i, v)
	}
	for i := range n + 4 {
		g.real(40, float64(min(max(i-3, 0), n-3)))
	}
	var weights []float64
	var points [][2]float64
	for i := range n {
		px := x + 10*float64(i)*(u()-.3)
		points = append(points, [2]float64{px, y + 30*u()})
		if rational {
			weights = append(weights, .5+u())
		}
	}
	for _, w := range weights {
		g.real(41, w)
	}
	for _, p := range points {
		g.real(10, p[0])
		g.real(20, p[1])
		g.real(30, 0)
	}
}
