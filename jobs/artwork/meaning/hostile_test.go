package meaning_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// The sizes of the bombs: those that take most of all fill the megabyte that
// the bounds are for. The looks that all may take are the same for a part of it.
const (
	megabyte = 1 << 20
	part     = megabyte / 4
)

// sheet writes an SVG file in mm of at most about that many bytes, in the
// colour for cutting: each returns the i-th part of its path, and "" ends it.
func sheet(most int, each func(i int) string) string {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm" viewBox="0 0 500 500"><path fill="none" stroke="#007c91" stroke-width="0.1" d="`)
	for i := 0; b.Len() < most-64; i++ {
		next := each(i)
		if next == "" {
			break
		}
		b.WriteString(next)
	}
	b.WriteString(`"/></svg>`)
	return b.String()
}

// first repeats n parts.
func first(n int, each func(i int) string) func(int) string {
	return func(i int) string {
		if i >= n {
			return ""
		}
		return each(i)
	}
}

// lineBombs are files of at most a megabyte whose lines ask for as much work as
// they can.
func lineBombs() map[string]string {
	r := rand.New(rand.NewPCG(1, 2))
	f := fmt.Sprintf
	side := func(t float64) (x, y float64) { // round a square of 100
		switch k := math.Floor(t); k {
		case 0:
			return 100 * (t - k), 0
		case 1:
			return 100, 100 * (t - k)
		case 2:
			return 100 - 100*(t-k), 100
		default:
			return 0, 100 - 100*(t-k)
		}
	}
	chord := func(i int) string {
		x, y := side(4 * r.Float64())
		if i == 0 {
			return f("M%.1f %.1f", x, y)
		}
		return f("L%.1f %.1f", x, y)
	}
	return map[string]string{
		"chords of one path": sheet(part, chord),
		"chords apart": sheet(part, func(int) string {
			x, y := side(4 * r.Float64())
			u, v := side(4 * r.Float64())
			return f("M%.1f %.1fL%.1f %.1f", x, y, u, v)
		}),
		"closed triangles": sheet(megabyte, func(int) string {
			x, y := side(4 * r.Float64())
			u, v := side(4 * r.Float64())
			w, z := side(4 * r.Float64())
			return f("M%.0f %.0fL%.0f %.0f %.0f %.0fZ", x, y, u, v, w, z)
		}),
		"curves": sheet(megabyte, func(i int) string {
			if i == 0 {
				return "M0 0C"
			}
			return f("%d %d ", r.IntN(100), r.IntN(100))
		}),
		"arcs": sheet(megabyte, func(int) string {
			return f("M%d %dA9 9 0 1 1 %d %d", r.IntN(100), r.IntN(100), r.IntN(100), r.IntN(100))
		}),
		"star":                       sheet(part, func(i int) string { return f("M%d 0L%d 99", i%1000, r.IntN(1000)) }),
		"slanted lines side by side": sheet(part, func(i int) string { return f("M%.2f 0l90 90", float64(i)/100) }),
		"slanted zigzag": sheet(part, func(i int) string {
			if i == 0 {
				return "M0 0"
			}
			return f("l90.01 90l-90 -90")
		}),
		"equal curves":      sheet(megabyte, func(int) string { return "M0 0c1 9 9 1 9 9" }),
		"lines on one line": sheet(part, func(i int) string { return f("M%.3f 0h90", float64(i)/1000) }),
		"rings in rings": sheet(megabyte, func(i int) string {
			d := float64(i) / 1000
			return f("M%.3f %.3fH%.3fV%.3fH%.3fZ", d, d, 200-d, 200-d, d)
		}),
		"ends in one spot": sheet(part, func(i int) string { return f("M9 9L%d %d", 20+i%211, i%197) }),
		"ends near one spot": sheet(part, func(i int) string {
			return f("M9.%02d 9.%02dL%d %d", r.IntN(90), r.IntN(90), 20+i%211, i%197)
		}),
		"ends very near one spot": sheet(part, func(i int) string {
			return f("M9.0%02d 9.0%02dL%d %d", r.IntN(90), r.IntN(90), 20+i%211, i%197)
		}),
		"short lines in a heap": sheet(part, func(i int) string {
			return f("M.%02d .%02dl.%02d .%02d", r.IntN(99), r.IntN(99), r.IntN(99), r.IntN(99))
		}),
		"hatch":         sheet(part, first(2000, func(i int) string { return f("M0 %.2fh200M%.2f 0v200", float64(i)/10, float64(i)/10) })),
		"slanted hatch": sheet(part, first(2000, func(i int) string { return f("M0 %.2fl200 200M%.2f 300l200 -200", float64(i)/10, float64(i)/10) })),
		"hatch of cuts": sheet(part, first(450, func(i int) string { return f("M0 %.2fh200M%.2f 0v200", float64(i)/3, float64(i)/3) })),
		"hatch of outlines": sheet(part, first(2000, func(i int) string {
			return f("M0 %.2fh200v.05h-200zM%.2f 0v200h.05v-200z", float64(i)/10, float64(i)/10)
		})),
	}
}

// denseLines are files that ask for much, and no more than a drawing may.
func denseLines() map[string]string {
	r, f := rand.New(rand.NewPCG(1, 2)), fmt.Sprintf
	return map[string]string{
		"equal lines":           sheet(part, func(int) string { return "M0 0h90" }),
		"equal outlines":        sheet(megabyte, func(int) string { return "M0 0h9v9z" }),
		"equal circles":         sheet(part, func(int) string { return "M0 0a9 9 0 0 0 9 9" }),
		"lines nearly equal":    sheet(part, func(i int) string { return f("M%d.%05d 0h90", i%7/6, i%20000) }),
		"outlines nearly equal": sheet(part, func(i int) string { return f("M.%05d 0h9v9z", i%20000) }),
		"one path there and back": sheet(megabyte, func(i int) string {
			if i == 0 {
				return "M0 0"
			}
			return "h90h-90"
		}),
		"short curves in a heap": sheet(part, first(15_000, func(int) string {
			return f("M%d %dc1 2 2 1 %d %d", r.IntN(5), r.IntN(5), r.IntN(5), r.IntN(5))
		})),
		"short arcs in a heap": sheet(part, func(int) string {
			return f("M%d %da3 3 0 0 1 %d %d", r.IntN(5), r.IntN(5), r.IntN(5), r.IntN(5))
		}),
		"stray points":    sheet(part, func(i int) string { return f("M%d %dh0", i%700, i/700) }),
		"one stray point": sheet(part, func(int) string { return "M9 9h0" }),
		"tiny steps": sheet(part, func(i int) string {
			if i == 0 {
				return "M0 0"
			}
			return "l.01 0"
		}),
		"tiny steps up and down": sheet(part, func(i int) string {
			if i == 0 {
				return "M0 0"
			}
			return f("l.01 %.2fl.01 -%.2f", 0.01*float64(i%5), 0.01*float64(i%5))
		}),
		"ends on a long path": sheet(part, first(30_000, func(i int) string {
			switch {
			case i == 0:
				return "M0 0"
			case i < 20_000:
				return f("l.01 %d", i%2*2-1)
			}
			return f("M%.2f 1.5v9", float64(i-20_000)/100)
		})),
		"ornament": sheet(megabyte, first(25_000, func(i int) string { // each square crosses the four beside it
			return f("M%d %dh1.1v1.1h-1.1z", i%160, i/160)
		})),
		"spiral": sheet(part, func(i int) string {
			a := float64(i) / 50
			cmd := "L"
			if i == 0 {
				cmd = "M"
			}
			return f("%s%.2f %.2f", cmd, 100+a/20*math.Cos(a), 100+a/20*math.Sin(a))
		}),
		"hatch of the pen": strings.ReplaceAll(sheet(part, first(1000, func(i int) string { return f("M0 %.2fh200M%.2f 0v200", float64(i)/5, float64(i)/5) })), "#007c91", "#4a5568"),
		"hatch of cuts":    sheet(part, first(400, func(i int) string { return f("M0 %.2fh200M%.2f 0v200", float64(i)/2, float64(i)/2) })),
	}
}

// TestLineBombs works out each bomb within 2 s and 256 MB, the reading
// included, and says of what there is too much and where.
func TestLineBombs(t *testing.T) {
	cost.Bound(t, lineBombs(), func(text string) string {
		a := resolved(t, request(t, film), text)
		f := find(a, finding.TooDense)
		if f == nil || f.Severity != finding.Block || len(f.Places) != 1 || f.Places[0].Box.Empty() {
			t.Errorf("%q: %+v", codes(a), f)
			return ""
		}
		return fmt.Sprintf("%d strokes, %v, %v", len(a.Strokes), f.Values, f.Places)
	})
}

// wideOutline is a filled, jagged ring of n chords with a line 20 mm wide.
func wideOutline(n int) string {
	ring := sheet(megabyte, first(n, func(i int) string {
		a := 2 * math.Pi * float64(i) / float64(n)
		return fmt.Sprintf("%c%.3f %.3f", "ML"[min(i, 1)], 100+80*math.Cos(a)+float64(i%2)/5, 100+80*math.Sin(a))
	}))
	return strings.NewReplacer(`fill="none"`, `fill="#007c91"`, `stroke-width="0.1"`, `stroke-width="20"`).Replace(ring)
}

// An answer asks for no more work than the lines do: the edges of wide lines
// are found within the same bounds.
func TestWideEdgesAreBounded(t *testing.T) {
	cost.Bound(t, map[string]string{"few": wideOutline(2000), "many": wideOutline(20_000)}, func(text string) string {
		req := request(t, film)
		req.Replies = ask.Replies{"artwork/painted_edge": {Answer: "edge"}}
		a := resolved(t, req, text)
		if f, many := find(a, finding.TooDense), strings.Count(text, "L") > 2000; (f != nil) != many {
			t.Errorf("%d chords: %+v", strings.Count(text, "L"), f)
		}
		return fmt.Sprint(codes(a))
	})
}

// Lines that are many or dense and yet no bomb are worked out.
func TestDenseLinesPass(t *testing.T) {
	cost.Bound(t, denseLines(), func(text string) string {
		a := resolved(t, request(t, card), text)
		if f := find(a, finding.TooDense); f != nil {
			t.Errorf("refused: %+v", f)
		}
		return fmt.Sprintf("%d strokes, %q", len(a.Strokes), codes(a))
	})
}

// resolved makes the artwork of an SVG file in mm.
func resolved(t *testing.T, req meaning.Request, text string) *artwork.Artwork {
	t.Helper()
	d, size := readSVG(t, text)
	a, err := meaning.Resolve(t.Context(), d, size, req)
	if err != nil {
		t.Fatal(err)
	}
	return a
}
