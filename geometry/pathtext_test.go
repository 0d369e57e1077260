package geometry_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"
)

// Numbers in path data are those that strconv writes as the shortest that read back
// exactly, whether they are whole steps of 0.1 µm or not.
func TestPathDataHasTheShortestNumbers(t *testing.T) {
	check := func(t interface{ Fatalf(string, ...any) }, v float64) {
		text, err := geometry.Path{Start: geometry.Pt(v, 0)}.AppendText([]byte("x"))
		if err != nil {
			t.Fatalf("%v: %v", v, err)
		}
		want := strconv.FormatFloat(v, 'g', -1, 64)
		if got := strings.TrimSuffix(strings.TrimPrefix(string(text), "xM"), " 0"); got != want {
			t.Fatalf("%v is written %q, want %q", v, got, want)
		}
	}
	for _, v := range []float64{0.0001, -0.0001, 0.00005, 1, -20, 0.1, 1.5, 100.05, -0.3, 999999.9999, 1e6, 1e6 + 0.5, 1e21, 0.30000000000000004, math.Pi, 5e-324, math.MaxFloat64} {
		check(t, v)
	}
	property.Check(t, func(t *rapid.T) {
		steps := rapid.Int64Range(-2e10, 2e10).Draw(t, "steps")
		if steps != 0 {
			check(t, float64(steps)/1e4)
			check(t, math.Nextafter(float64(steps)/1e4, 0))
		}
		if v := rapid.Float64().Draw(t, "any"); v != 0 && !math.IsNaN(v) && !math.IsInf(v, 0) {
			check(t, v)
		}
	})
	if _, err := (geometry.Path{Start: geometry.Pt(math.NaN(), 0)}).AppendText(nil); err == nil {
		t.Error("NaN has no text form")
	}
}
