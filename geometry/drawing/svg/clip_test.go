package svg_test

import (
	"math"
	"testing"

	"knifedesk/geometry/drawing/clip"
	"knifedesk/geometry/drawing/svg"
)

// Source: CSS Masking 1, section 6, and SVG 2, Object bounding box units. What
// shows of the lines is worked out by hand; chromium 156 prints the same but
// for the two marked cases, which it prints as masks.
func TestWhatClipsShow(t *testing.T) {
	const lines = `<path d="M0 10H100M0 30H100M0 70H100" fill="none" stroke="red"`
	for _, tt := range []struct {
		name, content string
		length        float64
	}{
		{"a clip", `<clipPath id="c"><rect x="20" width="40" height="50"/></clipPath>` + lines + ` clip-path="url(#c)"/>`, 80},
		{"a clip path that is clipped", `<clipPath id="d"><rect width="50" height="20"/></clipPath>` +
			`<clipPath id="c" clip-path="url(#d)"><rect x="20" width="40" height="50"/></clipPath>` + lines + ` clip-path="url(#c)"/>`, 30},
		{"its transform moves what it holds only", `<clipPath id="d"><rect width="50" height="20"/></clipPath>` +
			`<clipPath id="c" clip-path="url(#d)" transform="translate(20)"><rect width="40" height="50"/></clipPath>` + lines + ` clip-path="url(#c)"/>`, 30},
		{"a clipped child (a mask in chromium)", `<clipPath id="d"><rect width="50" height="20"/></clipPath>` +
			`<clipPath id="c"><rect x="20" width="40" height="50" clip-path="url(#d)"/></clipPath>` + lines + ` clip-path="url(#c)"/>`, 30},
		{"a clip path that clips itself is none", `<clipPath id="c" clip-path="url(#c)"><rect x="20" width="40" height="50"/></clipPath>` + lines + ` clip-path="url(#c)"/>`, 80},
		{"children that overlap count once, however they run", `<clipPath id="c"><path d="M20 0H60V50H20z"/><path d="M20 0V50H60V0z"/></clipPath>` + lines + ` clip-path="url(#c)"/>`, 80},
		{"no inside hides all (a mask in chromium)", `<clipPath id="c"><path d="M5 5z"/></clipPath><path d="M0 0h50" stroke="red"/>` + lines + ` clip-path="url(#c)"/><path d="M0 0h9v9" clip-path="url(#c)"/>`, 50},
		{"parts of the box of a group", `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect x=".1" y="-.1" width=".5" height=".7"/></clipPath>` +
			`<g clip-path="url(#c)">` + lines + `/></g>`, 100},
		{"a transform about the box", `<clipPath id="c" clipPathUnits="objectBoundingBox" transform="translate(20)"><rect x=".1" y="-.1" width=".85" height=".7"/></clipPath>` +
			`<g clip-path="url(#c)">` + lines + `/></g>`, 140},
		{"a box without a height hides all", `<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height="1"/></clipPath>` +
			`<path d="M0 0h50" stroke="red"/><path d="M0 10H100" stroke="red" clip-path="url(#c)"/>`, 50},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := read(t, in(tt.content), svg.Options{})
			if _, whole := clip.Visible(nil, d, 0.01); whole > 0 {
				t.Errorf("%d shapes stayed whole", whole)
			}
			if _, got := extent(d); math.Abs(got-tt.length) > 1e-6 {
				t.Errorf("%.9g px show, want %g", got, tt.length)
			}
		})
	}
}

// A clip that hides no more than the rounding of the program that wrote it cuts
// nothing; one that hides a tenth of a millimetre of an A4 page does. The numbers
// are as a browser and a PDF printer wrote them for the same page.
func TestClipThatHidesAHair(t *testing.T) {
	for _, tt := range []struct {
		clip string
		cuts bool
	}{
		{"M0 0H595.276V841.89H0z", false}, {"M0.0078125 0H594.95996V841.88H0z", true},
		{"M0 0H595.27V841.88H0z", false}, {"M0.001 0.001H595.275V841.889H0.001z", false}, {"M0 0H595V841.89H0z", true},
	} {
		d := read(t, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 595.276 841.89"><clipPath id="c"><path d="`+tt.clip+`"/></clipPath>`+
			`<g clip-path="url(#c)"><path d="M0 0H595.276V841.89H0z" fill="none" stroke="red"/></g></svg>`, svg.Options{})
		if cuts := len(d.Clips) > 0; cuts != tt.cuts {
			t.Errorf("%s: cuts %v, want %v", tt.clip, cuts, tt.cuts)
		}
	}
}

// What lies in a viewport that is turned or skewed is not clipped by it, though its box
// stands out of it. Worked out by hand: the lens touches the middles of the sides.
func TestClipThatIsTurned(t *testing.T) {
	for _, tt := range []struct {
		transform, shape string
		cuts             bool
	}{
		{"rotate(20)", `<path d="M0 10A12.5 12.5 0 0 1 20 10A12.5 12.5 0 0 1 0 10z"/>`, false},
		{"rotate(-70)", `<circle cx="10" cy="10" r="10"/>`, false},
		{"skewX(30)", `<path d="M0 0H20V20H0z"/>`, false},
		{"matrix(1 .5 -.2 2 7 8)", `<ellipse cx="10" cy="10" rx="10" ry="9"/>`, false},
		{"rotate(20)", `<circle cx="10" cy="10" r="10.1"/>`, true},
		{"skewX(30)", `<path d="M0 0H20.1V20H0z"/>`, true},
		{"rotate(20)", `<path d="M0 5H10"/><path d="M0 5H20.1"/>`, true},
	} {
		d := read(t, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 99 99"><symbol id="s" viewBox="0 0 20 20">`+
			tt.shape+`</symbol><g transform="`+tt.transform+`" fill="none" stroke="red"><use href="#s" width="20" height="20"/></g></svg>`, svg.Options{})
		if cuts := len(d.Clips) > 0; cuts != tt.cuts {
			t.Errorf("%s in %s: cuts %v, want %v", tt.shape, tt.transform, cuts, tt.cuts)
		}
	}
}
