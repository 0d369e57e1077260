package picture_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"knifedesk/geometry/geometrytest/property"

	"pgregory.net/rapid"

	"knifedesk/jobs/view/picture"
)

func TestNumbers(t *testing.T) {
	for want, list := range map[string][]int{
		"": nil, "7": {7}, "1, 2": {1, 2}, "1 to 3": {1, 2, 3}, "1 to 4, 7, 9 to 12, 20": {1, 2, 3, 4, 7, 9, 10, 11, 12, 20},
	} {
		if got := picture.Numbers(list); got != want {
			t.Errorf("%v: %q, want %q", list, got, want)
		}
	}
}

func TestRoundLength(t *testing.T) {
	for v, want := range map[float64]float64{1: 1, 1.99: 1, 2: 2, 4.9: 2, 5: 5, 99: 50, 1234: 1000, 0.03: 0.02} {
		if got := picture.RoundLength(v); got < want*(1-1e-12) || got > want*(1+1e-12) {
			t.Errorf("%g: %g, want %g", v, got, want)
		}
	}
}

// Wrapping loses no letter, breaks no rune, and makes no empty line of words.
func TestWrap(t *testing.T) {
	property.Check(t, func(rt *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("aW.é→ \t"))).Draw(rt, "text")
		width := rapid.Float64Range(20, 400).Draw(rt, "width")
		lines := picture.Wrap(text, 14, width)
		squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := squeeze(strings.Join(lines, "")), squeeze(text); got != want {
			rt.Fatalf("%q became %q", want, got)
		}
		for _, line := range lines {
			if !utf8.ValidString(line) || len(lines) > 1 && strings.TrimSpace(line) == "" {
				rt.Fatalf("line %q of %q", line, text)
			}
		}
	})
}
