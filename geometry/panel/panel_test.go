package panel_test

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/geometrytest/stop"
	"knifedesk/geometry/panel"

	"pgregory.net/rapid"
)

var picture = flag.String("picture", "", "write the sign and its panels as SVG into this file")

// rectangle is the outline of a box.
func rectangle(x0, y0, x1, y1 float64) []geometry.Point {
	c := geometry.Box{Min: geometry.Pt(x0, y0), Max: geometry.Pt(x1, y1)}.Corners()
	return c[:]
}

// sign is 1500 × 700 mm: six posts 700 high and 170 wide with 80 mm between them, joined
// by a rail 40 high.
func sign() panel.Work {
	w := panel.Work{Bounds: geometry.Box{Max: geometry.Pt(1500, 700)}}
	for i := range 6 {
		x := 250 * float64(i)
		w.Kept = append(w.Kept, rectangle(x, 0, x+170, 300), rectangle(x, 340, x+170, 700))
	}
	w.Kept = append(w.Kept, rectangle(0, 300, 1500, 340))
	return w
}

// inside tells by counting crossings whether a point is kept: independently of the
// profiles, by points and not by lines.
func inside(w panel.Work, p geometry.Point) bool {
	in := false
	for _, ring := range w.Kept {
		for i, q := range ring {
			a := ring[(i+len(ring)-1)%len(ring)]
			if (a.Y > p.Y) != (q.Y > p.Y) && p.X < a.X+(q.X-a.X)*(p.Y-a.Y)/(q.Y-a.Y) {
				in = !in
			}
		}
	}
	return in
}

// check holds a division against the limits: panels in a band follow each other with
// the overlap, bands too, they cover the work, and no four corners meet.
func check(t interface{ Fatalf(string, ...any) }, w panel.Work, l panel.Limits, d panel.Division) {
	const tol = 1e-6
	cover := geometry.EmptyBox()
	corners := map[[2]int]int{}
	for i, p := range d.Panels {
		cover = cover.Union(p.Box)
		if p.Box.Width() > l.Width+tol || p.Box.Height() > l.Length+tol {
			t.Fatalf("panel %s of %v is larger than %v", p.Code, p.Box, l)
		}
		if i > 0 && d.Panels[i-1].Band == p.Band {
			over := d.Panels[i-1].Box.Max.X - p.Box.Min.X
			if d.Upright {
				over = d.Panels[i-1].Box.Max.Y - p.Box.Min.Y
			}
			if math.Abs(over-l.Overlap) > tol {
				t.Fatalf("panels %s and %s overlap by %g mm, want %g", d.Panels[i-1].Code, p.Code, over, l.Overlap)
			}
		}
		at := p.Box.Min
		corners[[2]int{int(math.Round(at.X)), int(math.Round(at.Y))}]++
	}
	if !cover.Grow(tol).ContainsBox(w.Bounds) || !w.Bounds.Grow(tol).ContainsBox(cover) {
		t.Fatalf("the panels cover %v of %v", cover, w.Bounds)
	}
	// Within the work a corner of four panels is one where seams of two bands start
	// together.
	for _, p := range d.Panels {
		for _, q := range d.Panels {
			dx := p.Box.Min.X - q.Box.Min.X
			if d.Upright {
				dx = p.Box.Min.Y - q.Box.Min.Y
			}
			first := p.Box.Min.X == w.Bounds.Min.X || q.Box.Min.X == w.Bounds.Min.X
			if d.Upright {
				first = p.Box.Min.Y == w.Bounds.Min.Y || q.Box.Min.Y == w.Bounds.Min.Y
			}
			if q.Band == p.Band+1 && !first && math.Abs(dx) < 30 {
				t.Fatalf("panels %s and %s begin %g mm from each other in neighbouring bands", p.Code, q.Code, dx)
			}
		}
	}
}

// By hand: 1740 × 900 mm without anything on it, on 590 mm, overlap 10, are two panels
// of 1740 × 455; 1740 on 590 with 10 are three, 1800 four (check values, row 51).
func TestPlainWork(t *testing.T) {
	for _, c := range []struct {
		w, h   float64
		limits panel.Limits
		want   int
		size   geometry.Point
	}{
		{1740, 900, panel.Limits{Width: 1e6, Length: 590, Overlap: 10}, 2, geometry.Pt(1740, 455)},
		{1740, 100, panel.Limits{Width: 590, Length: 590, Overlap: 10}, 3, geometry.Pt(0, 100)},
		{1800, 100, panel.Limits{Width: 590, Length: 590, Overlap: 10}, 4, geometry.Pt(457.5, 100)},
		{500, 400, panel.Limits{Width: 590, Length: 590, Overlap: 10}, 1, geometry.Pt(500, 400)},
		{1750, 400, panel.Limits{Width: 590, Length: 590, Overlap: 10}, 3, geometry.Pt(590, 400)}, // exactly
	} {
		w := panel.Work{Bounds: geometry.Box{Max: geometry.Pt(c.w, c.h)}}
		d, ok := panel.Divide(nil, w, c.limits)
		if !ok || len(d.Panels) != c.want {
			t.Fatalf("%g × %g: %d panels, want %d", c.w, c.h, len(d.Panels), c.want)
		}
		check(t, w, c.limits, d)
		// Seams lie on whole mm, so a panel may differ from the others by one.
		if b := d.Panels[0].Box; c.size.X > 0 && (math.Abs(b.Width()-c.size.X) > 1 || math.Abs(b.Height()-c.size.Y) > 1) {
			t.Errorf("%g × %g: the first panel is %g × %g, want %v", c.w, c.h, b.Width(), b.Height(), c.size)
		}
	}
	if _, ok := panel.Divide(nil, panel.Work{Bounds: geometry.Box{Max: geometry.Pt(100, 10)}}, panel.Limits{Width: 10, Length: 10, Overlap: 10}); ok {
		t.Error("panels as wide as their overlap")
	}
}

// By hand: a sign of 1500 × 700 on a roll with 590 usable and a longest run of 1200, lead
// and tail 50, is three panels 700 high. Between the posts a seam crosses the rail alone,
// 40 mm at each of its two cuts; two seams cross 160. Equal seams, at 496⅔ and 993⅓,
// end 10 mm on in the third post and in the fifth, and cross 700 mm there each: 1480.
func TestSeamsKeepOffWhatIsKept(t *testing.T) {
	w, l := sign(), panel.Limits{Width: 590, Length: 1100, Overlap: 10}
	d, ok := panel.Divide(nil, w, l)
	if !ok || len(d.Panels) != 3 {
		t.Fatalf("%d panels, want 3", len(d.Panels))
	}
	check(t, w, l, d)
	if math.Abs(d.CrossedMM-160) > 1e-6 || math.Abs(d.EqualMM-1480) > 1e-6 {
		t.Errorf("seams cross %g mm, equal ones %g; want 160 and 1480", d.CrossedMM, d.EqualMM)
	}
	crossed := 0.0
	for _, p := range d.Panels[1:] {
		for _, x := range []float64{p.Box.Min.X, p.Box.Min.X + l.Overlap} {
			for y := 0.05; y < 700; y += 0.1 {
				if inside(w, geometry.Pt(x+1e-7, y)) {
					crossed += 0.1
				}
			}
		}
	}
	if math.Abs(crossed-d.CrossedMM) > 0.5 {
		t.Errorf("by points the seams cross %g mm", crossed)
	}
	if *picture != "" {
		draw(t, w, d)
	}
	// What is fine in most of a gap, from 420 to 500, is gone round.
	w.Avoid = []geometry.Box{{Min: geometry.Pt(435, 100), Max: geometry.Pt(500, 120)}}
	d, _ = panel.Divide(nil, w, l)
	if d.Fine != 0 || d.CrossedMM > 160+1e-6 {
		t.Errorf("seams go through %d thin parts and cross %g mm", d.Fine, d.CrossedMM)
	}
}

// draw writes the sign with its panels.
func draw(t *testing.T, w panel.Work, d panel.Division) {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-20 -40 %g %g"><rect x="-20" y="-40" width="100%%" height="100%%" fill="#fff"/>`, w.Bounds.Width()+40, w.Bounds.Height()+60)
	for _, ring := range w.Kept {
		b.WriteString(`<polygon fill="#b9c4d6" points="`)
		for _, p := range ring {
			fmt.Fprintf(&b, "%g,%g ", p.X, w.Bounds.Max.Y-p.Y)
		}
		b.WriteString(`"/>`)
	}
	colours := []string{"#c0392b", "#1f6f54", "#6c3483"}
	for i, p := range d.Panels {
		c := colours[i%len(colours)]
		fmt.Fprintf(&b, `<rect x="%g" y="%g" width="%g" height="%g" fill="none" stroke="%s" stroke-width="2"/><text x="%g" y="-10" font-size="28" fill="%s">%s</text>`,
			p.Box.Min.X, w.Bounds.Max.Y-p.Box.Max.Y, p.Box.Width(), p.Box.Height(), c, p.Box.Min.X+20, c, p.Code)
	}
	b.WriteString("</svg>")
	if err := os.WriteFile(*picture, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Whatever is divided: the panels fit, overlap as asked, cover the work, and meet in no
// four corners; and the same every time.
func TestDivisionsAreSound(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		w := panel.Work{Bounds: geometry.Box{Min: geometry.Pt(-7, 3)}}
		w.Bounds.Max = geometry.Pt(-7+rapid.Float64Range(50, 2500).Draw(t, "width"), 3+rapid.Float64Range(50, 2500).Draw(t, "height"))
		for range rapid.IntRange(0, 8).Draw(t, "shapes") {
			x, y := rapid.Float64Range(0, w.Bounds.Width()).Draw(t, "x"), rapid.Float64Range(0, w.Bounds.Height()).Draw(t, "y")
			w.Kept = append(w.Kept, rectangle(x-7, y+3, x+43, y+73))
		}
		l := panel.Limits{Width: rapid.Float64Range(200, 700).Draw(t, "wide"), Length: rapid.Float64Range(200, 1100).Draw(t, "long"), Overlap: rapid.SampledFrom([]float64{0, 6, 10}).Draw(t, "overlap")}
		d, ok := panel.Divide(nil, w, l)
		if !ok {
			t.Fatal("not divided")
		}
		check(t, w, l, d)
		if again, _ := panel.Divide(nil, w, l); !slices.Equal(d.Panels, again.Panels) {
			t.Fatal("another division of the same work")
		}
	})
}

func TestDivideStops(t *testing.T) {
	w := panel.Work{Bounds: geometry.Box{Max: geometry.Pt(9000, 9000)}}
	for i := range 800 {
		x, y := float64(i*977%8000), float64(i*613%8000)
		w.Kept = append(w.Kept, rectangle(x, y, x+900, y+900))
	}
	stop.Check(t, func(ctx context.Context) error {
		return budget.Run(ctx, func(b *budget.Budget) { panel.Divide(b, w, panel.Limits{Width: 1200, Length: 1200, Overlap: 10}) })
	})
}
