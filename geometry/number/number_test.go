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

// The digits that the bench has a use for: tenths of a millimetre, hundredths
// below one, and one digit of what is smaller still.
func TestPeople(t *testing.T) {
	for _, tt := range []struct {
		v             float64
		want, up, low string
	}{
		{141.4213, "141.4", "141.5", "141.4"}, {70.71, "70.7", "70.8", "70.7"}, {210, "210", "210", "210"}, {1.25, "1.3", "1.3", "1.2"},
		{0.25, "0.25", "0.25", "0.25"}, {0.999, "1", "1", "0.99"}, {0.8000001, "0.8", "0.81", "0.8"}, {0.0034, "0.003", "0.004", "0.003"},
		{1e-7, "0.0000001", "0.0000001", "0.0000001"}, {0, "0", "0", "0"}, {-12.34, "-12.3", "-12.4", "-12.3"}, {2 + 1e-12, "2", "2", "2"},
		{30_000, "30000", "30000", "30000"}, {math.Inf(1), "+Inf", "+Inf", "+Inf"}, {1e300, number.Text(1e300, 0), number.Text(1e300, 0), number.Text(1e300, 0)},
	} {
		if got, up, low := number.People(tt.v), number.PeopleUp(tt.v), number.PeopleDown(tt.v); got != tt.want || up != tt.up || low != tt.low {
			t.Errorf("%v reads %s, %s up, %s down; want %s, %s, %s", tt.v, got, up, low, tt.want, tt.up, tt.low)
		}
	}
}

func TestThrough(t *testing.T) {
	for want, between := range map[string][2]int{"7 and 8": {7, 8}, "1 to 4": {1, 4}, "1 to 3": {1, 3}} {
		if got := number.Through(between[0], between[1]); got != want {
			t.Errorf("%v reads %q, want %q", between, got, want)
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
