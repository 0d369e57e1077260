package picture_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"knifedesk/jobs/view/picture"
)

// rgb is a colour in linear light, 0 to 1.
type rgb [3]float64

// linear reads #rrggbb into linear light (IEC 61966-2-1).
func linear(t testing.TB, hex string) rgb {
	t.Helper()
	var v [3]int
	if _, err := fmt.Sscanf(hex, "#%02x%02x%02x", &v[0], &v[1], &v[2]); err != nil {
		t.Fatalf("%q: %v", hex, err)
	}
	var c rgb
	for i := range c {
		s := float64(v[i]) / 255
		c[i] = s / 12.92
		if s > 0.04045 {
			c[i] = math.Pow((s+0.055)/1.055, 2.4)
		}
	}
	return c
}

// contrast returns the ratio of WCAG 2.2, "contrast ratio", from 1 to 21.
func contrast(a, b rgb) float64 {
	la, lb := a.luminance()+0.05, b.luminance()+0.05
	return math.Max(la, lb) / math.Min(la, lb)
}

func (c rgb) luminance() float64 {
	return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
}

// What people with full colour-vision deficiencies see: the matrices for
// severity 1.0 of Machado, Oliveira and Fernandes, "A Physiologically-based
// Model for Simulation of Color Vision Deficiency" (IEEE TVCG 15, 2009), to be
// applied to linear light; written from memory. Rows keep white: they sum to 1,
// which TestVision checks. Full colour blindness is luminance alone.
var visions = map[string][3]rgb{
	"all colours":   {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia":  {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"achromatopsia": {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}},
}

func seen(m [3]rgb, c rgb) rgb {
	var out rgb
	for i, row := range m {
		for j := range row {
			out[i] += row[j] * c[j]
		}
		out[i] = min(1, max(0, out[i]))
	}
	return out
}

func TestVision(t *testing.T) {
	for name, m := range visions {
		for _, row := range m {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 2e-6 {
				t.Errorf("%s: a row sums to %g", name, sum)
			}
		}
	}
}

// Lines and marks stand off from every ground by 3 to 1 (WCAG 2.2, success
// criterion 1.4.11), letters by 4.5 to 1 (1.4.3), however colours are seen.
func TestContrast(t *testing.T) {
	lines, letters, grounds := picture.Inks()
	for name, m := range visions {
		least := math.Inf(1)
		check := func(inks []string, ratio float64) {
			for _, ink := range inks {
				for _, ground := range grounds {
					got := contrast(seen(m, linear(t, ink)), seen(m, linear(t, ground)))
					least = math.Min(least, got)
					if got < ratio {
						t.Errorf("%s: %s on %s has a contrast of %.2f, below %g", name, ink, ground, got, ratio)
					}
				}
			}
		}
		check(lines, 3)
		check(letters, 4.5)
		t.Logf("%s: contrast at least %.2f", name, least)
	}
}

// Each two kinds of lines differ by their dash, or by a width that is told
// apart beside each other (half as wide again; common practice, no source).
func TestLinesDifferWithoutColour(t *testing.T) {
	all := picture.LineStyles()
	for a, s := range all {
		for b, o := range all {
			if a >= b || !slices.Equal(s.Dash, o.Dash) {
				continue
			}
			if math.Max(s.Width, o.Width) < 1.5*math.Min(s.Width, o.Width) {
				t.Errorf("%s and %s differ by colour alone: %v, %v", a, b, s, o)
			}
		}
	}
}

// Each two classes differ by their hatch, and what stays is darker in grey
// than anything that goes.
func TestRegionsDifferWithoutColour(t *testing.T) {
	all := picture.Patterns()
	for a, p := range all {
		for b, o := range all {
			hatch := [4]float64{p.Gap, p.Deg, p.Dots, 0}
			if a < b && hatch == [4]float64{o.Gap, o.Deg, o.Dots, 0} {
				t.Errorf("%s and %s have the same hatch", a, b)
			}
		}
		if a != "kept" && p.Tint != "" {
			kept, gone := linear(t, all["kept"].Tint), linear(t, p.Tint)
			if contrast(kept, gone) < 1.2 || kept.luminance() > gone.luminance() {
				t.Errorf("kept is hardly darker than %s, even before its hatch", a)
			}
		}
	}
}
