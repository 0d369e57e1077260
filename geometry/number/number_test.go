package number_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"knifedesk/geometry/geometrytest/property"
	"knifedesk/geometry/number"
)

func TestText(t *testing.T) {
	for _, tt := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{2.5, 2, "2.5"}, {2.504, 2, "2.5"}, {2.506, 2, "2.51"}, {100, 2, "100"}, {100, 0, "100"}, {0.6, 0, "1"},
		{0, 2, "0"}, {-0.001, 2, "0"}, {math.Copysign(0, -1), 0, "0"}, {-0.4, 0, "0"}, {-2.5, 1, "-2.5"},
		{1e21, 2, "1000000000000000000000"}, {math.NaN(), 2, "NaN"}, {math.Inf(-1), 2, "-Inf"},
	} {
		if got := number.Text(tt.v, tt.decimals); got != tt.want {
			t.Errorf("%g with %d decimals is %q, want %q", tt.v, tt.decimals, got, tt.want)
		}
	}
}

func TestForms(t *testing.T) {
	for _, tt := range [][2]string{
		{number.Fixed(2.5, 2), "2.50"}, {number.Fixed(2.5, 0), "2"},
		{number.Significant(0.012345, 3), "0.0123"}, {number.Significant(0.5, 3), "0.5"}, {number.Significant(1234, 2), "1.2e+03"},
		{number.Exact(0.1), "0.1"}, {number.Exact(210), "210"}, {number.Exact(1e-7), "0.0000001"},
	} {
		if tt[0] != tt[1] {
			t.Errorf("%q, want %q", tt[0], tt[1])
		}
	}
}

// A text reads back within half of its last decimal, and says nothing twice.
func TestTextReadsBack(t *testing.T) {
	property.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(rt, "v")
		decimals := rapid.IntRange(0, 6).Draw(rt, "decimals")
		s := number.Text(v, decimals)
		back, err := strconv.ParseFloat(s, 64)
		if err != nil || math.Abs(back-v) > 0.5*math.Pow10(-decimals)*(1+1e-9)+1e-9 {
			rt.Fatalf("%v became %q: %v", v, s, err)
		}
		if strings.Contains(s, ".") && strings.HasSuffix(s, "0") || strings.HasSuffix(s, ".") || s == "-0" {
			rt.Fatalf("%v became %q", v, s)
		}
	})
}
