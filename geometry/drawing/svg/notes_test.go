package svg_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
)

const cut = `<path id="p" d="M0 0h9v9z" stroke="red" fill="none"/>`

// Each row has a drawing that triggers the note and a near miss that does
// not.
func TestNotes(t *testing.T) {
	for _, tt := range []struct {
		code       drawing.Code
		weight     drawing.Weight
		with, near string
	}{
		{drawing.EmptyDrawing, "", `<g/>`, cut},
		{drawing.OutOfRange, "", `<path d="M0 0h9e99" stroke="red"/>`, `<path d="M0 0h3e6" stroke="red"/>`},
		{drawing.LiveText, "", cut + `<text y="9">A</text>`, cut + `<text y="9"> <tspan/> </text>`},
		{drawing.RasterImage, "", cut + `<image width="9" height="9" href="x.png"/>`, cut + `<defs><image width="9" height="9"/></defs>`},
		{drawing.RasterImage, drawing.Blocks, `<image width="9" height="9"/>`, cut},
		{drawing.PaintServerUsed, "", `<pattern id="x"/><path d="M0 0h9v9" fill="url(#x)"/>`, `<pattern id="x"/><path d="M0 0h9v9" fill="none" stroke="red"/>`},
		{drawing.EffectUsed, "", `<g filter="url(#f)">` + cut + `</g>`, `<g filter="none">` + cut + `</g>`},
		{drawing.DashedLine, "", `<path d="M0 0h9" stroke="red" stroke-dasharray="1,2"/>`, `<path d="M0 0h9" stroke="red" stroke-dasharray="0,0"/>`},
		{drawing.HiddenGeometry, "", cut + `<g display="none">` + cut + `</g>`, cut + `<defs>` + cut + `</defs>`},
		{drawing.HiddenGeometry, "", cut + `<g visibility="hidden">` + cut + `</g>`, `<g visibility="hidden"><path visibility="visible" d="M0 0h9"/></g>`},
		{drawing.UnpaintedGeometry, "", cut + `<path d="M0 0h9v9" fill="none"/>`, cut + `<path d="M0 0h9v9"/>`},
		{drawing.UnpaintedGeometry, "", cut + `<path d="M0 0h9h-5z"/>`, cut + `<path d="M0 0h9h-5z" stroke="red"/>`},
		{drawing.UnpaintedGeometry, "", cut + `<line x2="9"/>`, cut + `<line x2="9" stroke="red"/>`},
		{drawing.ClipPathUsed, "", `<clipPath id="c"><rect width="5" height="9"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`,
			`<clipPath id="c"><rect width="9" height="9"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`},
		{drawing.ClipPathUsed, "", `<svg width="8" height="9">` + cut + `</svg>`, `<svg width="8" height="9" overflow="visible">` + cut + `</svg>`},
		{drawing.MaskUsed, "", `<g mask="url(#m)">` + cut + `</g>`, `<g mask="none">` + cut + `</g>`},
		{drawing.ExternalReference, "", cut + `<use href="b.svg#x"/>`, cut + `<use href="#p"/>`},
		{drawing.ExternalReference, drawing.Warns, `<style>@import "a.css";</style>` + cut, `<style>@charset "utf-8";</style>` + cut},
		{drawing.MissingReference, "", cut + `<use href="#q"/>`, cut + `<use href="#p"/>`},
		{drawing.CircularReference, "", cut + `<g id="a"><use href="#a"/></g>`, cut + `<g id="a"><use href="#p"/></g>`},
		{drawing.PathDataBroken, "", `<path d="M0 0h9 9z x" stroke="red"/>`, `<path d=" M0,0 h9 9 z " stroke="red"/>`},
		{drawing.PathDataBroken, "", `<polygon points="0,0 9,9 5"/>`, `<polygon points=" 0,0 9 9,5,0 "/>`},
		{drawing.ValueUnreadable, "", `<g transform="turn(3)">` + cut + `</g>`, `<g transform="rotate(3)">` + cut + `</g>`},
		{drawing.ValueUnreadable, "", `<g style="clip-path:circle(5px)">` + cut + `</g>`, `<g style="clip-path:none">` + cut + `</g>`},
		{drawing.ValueUnreadable, "", `<rect width="1 0" height="9"/>` + cut, `<rect width=" 10 " height="9"/>`},
		{drawing.ValueUnreadable, "", `<g style="offset-path:path('M0 0h9')">` + cut + `</g>`, `<g style="offset-path:none">` + cut + `</g>`},
		{drawing.ValueUnreadable, "", `<g style="rotate:x 45deg">` + cut + `</g>`, `<g style="rotate:z 45deg">` + cut + `</g>`},
		{drawing.ValueUnreadable, "", `<g transform="scale(1e300)">` + cut + `</g>` + cut, `<g transform="scale(1e3)">` + cut + `</g>` + cut},
		{drawing.ValueUnreadable, "", `<g stroke-width="1e308">` + cut + `</g>`, `<g stroke-width="1e3">` + cut + `</g>`},
		{drawing.ValueUnreadable, "", `<svg viewBox="0 0 -9 9">` + cut + `</svg>`, `<svg viewBox="-9 -9 9 9">` + cut + `</svg>`},
		{drawing.OutOfRange, "", `<svg width="1e300" height="9">` + cut + `</svg>`, `<svg width="1e3" height="9">` + cut + `</svg>`},
		{drawing.OutOfRange, "", `<clipPath id="c"><circle r="1e7"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`,
			`<clipPath id="c"><rect width="2e7" height="2e7" x="-1e7" y="-1e7"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`},
		{drawing.ClipPathUsed, "", `<clipPath id="c"><path d="M5-1e7V1e7H1e7V-1e7z"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`,
			`<clipPath id="c"><path d="M-1-1e7V1e7H1e7V-1e7z"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`},
		{drawing.StyleRuleIgnored, "", `<style>@supports (display:grid) and (fill:red) {path{fill:red}}</style>` + cut, `<style>@supports (fill:red) {path{fill:red}}</style>` + cut},
		{drawing.StyleRuleIgnored, "", `<style>@media (min-width:9px){path{fill:red}}</style>` + cut, `<style>@media print{path{fill:red}}</style>` + cut},
		{drawing.UnknownElement, "", cut + `<rectangle/>`, cut + `<x:rectangle xmlns:x="x"/>`},
		{drawing.ForeignContent, "", cut + `<foreignObject/>`, cut + `<metadata/>`},
		{drawing.MarkerIgnored, "", `<path d="M0 0h9v9" marker-end="url(#m)"/>`, `<rect width="9" height="9" marker-end="url(#m)"/>`},
		{drawing.MotionIgnored, "", cut + `<script>x</script>`, cut + `<style>path{}</style>`},
		{drawing.StyleRuleIgnored, "", `<style>path:not(.a){fill:red}</style>` + cut, `<style>path:root{fill:red}</style>` + cut},
		{drawing.StyleRuleIgnored, "", `<style>a{fill:red}` + strings.Repeat("a,", 60_000) + `b{fill:red}</style>` + cut, `<style>` + strings.Repeat("a{fill:red}", 60_000) + `</style>` + cut},
		{drawing.StyleRuleIgnored, "", `<path style="fill:` + strings.Repeat("a ", 60_000) + `" stroke="red" d="M0 0h9"/>`, `<path style="fill:` + strings.Repeat("a", 200_000) + `" stroke="red" d="M0 0h9"/>`},
	} {
		d := read(t, in(tt.with), svg.Options{})
		found := false
		for _, f := range d.Notes {
			if f.Code == tt.code {
				found = true
				if f.Weight != tt.weight {
					t.Errorf("%s: %q, want %q", tt.with, f.Weight, tt.weight)
				}
			}
		}
		if !found {
			t.Errorf("%s: no %s in %v", tt.with, tt.code, codes(d))
		}
		if near := codes(read(t, in(tt.near), svg.Options{})); near[string(tt.code)] != 0 {
			t.Errorf("%s: %s in the near miss", tt.near, tt.code)
		}
	}
}

func TestNotesOfWholeFiles(t *testing.T) {
	for _, tt := range []struct {
		text string
		code drawing.Code
	}{
		{`<svg><rect width="9%" height="9"/></svg>`, drawing.PercentUnresolved},
		{"<svg><g id=\"\xe9\"><rect width=\"9\" height=\"9\"/></g></svg>", drawing.EncodingGuessed},
		{`<!DOCTYPE svg [<!ENTITY a "<g/>">]><svg>&a;<rect width="9" height="9"/></svg>`, drawing.EntityMarkup},
		{`<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/x">]><svg>&a;<rect width="9" height="9"/></svg>`, drawing.ExternalReference},
		{`<svg width="1e200mm" height="9"><rect width="9" height="9"/></svg>`, drawing.ValueUnreadable},
		{`<svg width="9" height="9" viewBox="0 0 0 0"><rect width="9" height="9"/></svg>`, drawing.ValueUnreadable},
		{`<svg width="9" height="9" viewBox="0 0 9 -9"><rect width="9" height="9"/></svg>`, drawing.ValueUnreadable},
		{`<svg width="9" height="9" viewBox="0 0 1e-300 1e-300"><rect width="9" height="9"/></svg>`, drawing.ValueUnreadable},
		// the gradient is looked up first where the box of the group is measured
		{`<svg><linearGradient id="l"><stop stop-color="red" style="font-size:5vw"/></linearGradient><g style="transform:rotate(5deg);transform-box:fill-box"><rect width="9" height="9" fill="url(#l)"/></g></svg>`, drawing.PercentUnresolved},
		{`<?xml-stylesheet href="a.css"?><svg><rect width="9" height="9"/></svg>`, drawing.ExternalReference},
	} {
		got := codes(read(t, tt.text, svg.Options{}))
		delete(got, string(drawing.PaintServerUsed))
		if got[string(tt.code)] != 1 || len(got) != 1 {
			t.Errorf("%q: %v, want %s alone", tt.text, got, tt.code)
		}
	}
}

// The clip comes with the shape, so that the visible part can be cut.
func TestClipsAreKept(t *testing.T) {
	d := read(t, in(`<clipPath id="c"><circle id="k" r="5"/></clipPath>`+
		`<g clip-path="url(#c)" transform="translate(20 30)">`+cut+cut+`</g>`+cut), svg.Options{})
	if len(d.Clips) != 1 || len(d.Shapes) != 3 {
		t.Fatalf("%d clips, %d shapes", len(d.Clips), len(d.Shapes))
	}
	for i, want := range []int{1, 1, 0} {
		if len(d.Shapes[i].Clips) != want {
			t.Errorf("shape %d: clips %v", i, d.Shapes[i].Clips)
		}
	}
	b := d.Clips[0].Regions[0].Paths[0].Bounds()
	if c := b.Centre(); math.Abs(c.X-20) > 1e-9 || math.Abs(c.Y-70) > 1e-9 || math.Abs(b.Width()-10) > 1e-9 {
		t.Errorf("the clip lies at %v", b)
	}
}

func TestBrokenFiles(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		line       int
		is         error
	}{
		{"empty", "", 1, svg.ErrNotSVG},
		{"no XML", "0\nSECTION\n", 1, svg.ErrNotSVG},
		{"another root", "\n<html><svg/></html>", 2, svg.ErrNotSVG},
		{"cut off", "<svg>\n<g>\n<path d=", 3, nil},
		{"tags that cross", "<svg>\n<g></svg>", 2, nil},
		{"gzip cut off", packed("", "<g/>", 1)[:40], 0, svg.ErrCompressed},
		{"an unknown encoding", `<?xml version="1.0" encoding="x-none"?><svg/>`, 1, svg.ErrUnsupported},
	} {
		_, err := svg.Read(t.Context(), strings.NewReader(tt.text), svg.Options{})
		var parse *svg.ParseError
		if !errors.As(err, &parse) || parse.Line != tt.line || tt.is != nil && !errors.Is(err, tt.is) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

func TestEncodings(t *testing.T) {
	const body = `<svg><g id="Plané"><path stroke="red" d="M0 0h9"/></g></svg>`
	latin := strings.ReplaceAll(body, "é", "\xe9")
	wide := func(s string, low int) string {
		var b []byte
		for _, r := range s {
			u := [2]byte{byte(r >> 8), byte(r)}
			b = append(b, u[1-low], u[low])
		}
		return string(b)
	}
	for name, text := range map[string]string{
		"UTF-8":                  body,
		"UTF-8 with a mark":      "\xef\xbb\xbf" + body,
		"declared latin":         `<?xml version='1.0' encoding='ISO-8859-1'?>` + latin,
		"undeclared latin":       latin,
		"wrongly declared UTF-8": `<?xml version="1.0" encoding="UTF-8"?>` + latin,
		"a lie about UTF-16":     `<?xml version="1.0" encoding="UTF-16"?>` + body,
		"UTF-16 big":             "\xfe\xff" + wide(body, 1),
		"UTF-16 little":          "\xff\xfe" + wide(body, 0),
		"UTF-16 without a mark":  wide(`<?xml version="1.0" encoding="UTF-16"?>`+body, 0),
	} {
		if !svg.Sniff([]byte(text)) {
			t.Errorf("%s: not recognised", name)
		}
		d := read(t, text, svg.Options{})
		if len(d.Shapes) != 1 || d.Shapes[0].Layer != "Plané" {
			t.Errorf("%s: %+v", name, d.Shapes)
		}
	}
}

func TestSniff(t *testing.T) {
	for text, want := range map[string]bool{
		`<svg>`: true, `<?xml version="1.0"?>` + "\n<!-- <html> -->\n<!DOCTYPE svg [<!ENTITY a '>'>]>\n<s:svg a=''": true,
		packed("", "<g/>", 1): true, packed("", "<g/>", 5000)[:60]: true,
		`<html><svg></svg></html>`: false, `<!DOCTYPE html><body><svg>`: false, `<svgx>`: false, "": false, "%PDF-1.4": false, "0\nSECTION": false,
		"\x1f\x8bxx": false,
	} {
		if svg.Sniff([]byte(text)) != want {
			t.Errorf("%.60q: %v", text, !want)
		}
	}
}

// Dashes of two lengths are told from those of one, wherever the pattern stands.
func TestDashAndDot(t *testing.T) {
	d := read(t, in(`<g stroke="red" stroke-dasharray="8 2 1 2"><path d="M0 0h9"/><path d="M0 0h9" stroke-dasharray="8,2"/><path d="M0 0h9" style="stroke-dasharray:none"/></g>`), svg.Options{})
	for i, want := range [][2]bool{{true, true}, {true, false}, {false, false}} {
		if s := d.Shapes[i]; [2]bool{s.Dashed, s.DashDot} != want {
			t.Errorf("line %d: %v, %v", i, s.Dashed, s.DashDot)
		}
	}
}
