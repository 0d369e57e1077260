package geometry_test

import (
	"errors"
	"math"
	"testing"

	"knifedesk/geometry"
)

// FuzzParsePathData: no text makes the reader panic, errors have their type
// and a place in the text, every path starts and ends where its segments do,
// and what is written of one reads back as the same curve. Seeds are forms of
// SVG 2, section 9.3.
func FuzzParsePathData(f *testing.F) {
	for _, seed := range []string{
		"M10.5.5.5.5-.5-1.5e0 1E1-2e+0zm1 1a5 3 30 0110 0s1 2 3 4q5 6 7 8t1 2h3v-4",
		"M0 0H10V10H0Z M5 5A1 1 0 1 0 5 5.001Z", "M0,0a25,25 -30 0,1 50,-25l50,-25", "m1 2 3 4,5-6z", "M0 0A0 5 0 0 1 9 9",
		"M1e308 1e308L-1e308 0", "M0 0C1 1", "M0 0A1 1 0 2 0 1 1", "L1 1", "M0 0Z L1 1 Z M", "M 1e-320 0 a 1e-9 1e-9 0 1 1 1 0",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data string) {
		paths, err := geometry.ParsePathData(data)
		var bad *geometry.PathDataError
		if err != nil && !errors.As(err, &bad) {
			t.Fatalf("an untyped error: %v", err)
		}
		if some, err := geometry.ParsePathDataUpTo(nil, data, 3); len(some) > len(paths) || bad == nil && err != nil {
			t.Fatalf("up to 3 segments: %d paths and %v, of %d", len(some), err, len(paths))
		}
		for _, p := range paths {
			if p.Empty() {
				t.Fatalf("an empty path of %q", data)
			}
			if p.Closed && p.End() != p.Start {
				t.Fatalf("%v is closed and does not end at its start", p)
			}
			sameAgain(t, p)
		}
	})
}

// sameAgain writes p and reads it back. Numbers are written exactly, so only
// arcs may differ, by the rounding of their centre. Numbers beyond 1e6 mm and
// circles that are larger than their chord by more than that lose digits.
func sameAgain(t *testing.T, p geometry.Path) {
	t.Helper()
	b := p.Bounds()
	reach := max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y)
	if !p.Finite() || !(reach < 1e6) {
		return
	}
	var q geometry.Path
	if err := q.UnmarshalText([]byte(p.String())); err != nil {
		t.Fatalf("%v: %v", p, err)
	}
	tol := 1e-9 * (1 + reach) * float64(len(p.Segments))
	if q.Closed != p.Closed || q.Start != p.Start || q.End() != p.End() || math.Abs(q.Length()-p.Length()) > tol {
		t.Fatalf("%v came back as %v, length %v as %v", p, q, p.Length(), q.Length())
	}
}
