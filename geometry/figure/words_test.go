package figure_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"knifedesk/geometry/figure"
	"knifedesk/geometry/geometrytest/property"
)

func TestRoundLength(t *testing.T) {
	for v, want := range map[float64]float64{1: 1, 1.99: 1, 2: 2, 4.9: 2, 5: 5, 99: 50, 1234: 1000, 0.03: 0.02} {
		if got := figure.RoundLength(v); got < want*(1-1e-12) || got > want*(1+1e-12) {
			t.Errorf("%g: %g, want %g", v, got, want)
		}
	}
}

// Wrapping loses no letter, breaks no rune, and makes no empty line of words.
func TestWrap(t *testing.T) {
	property.Check(t, func(rt *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("aW.é→ \t"))).Draw(rt, "text")
		width := rapid.Float64Range(20, 400).Draw(rt, "width")
		lines := figure.Wrap(text, 14, width)
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
