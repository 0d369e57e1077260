package svg_test

import (
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/drawing/svg"
)

func read(t testing.TB, text string, opt svg.Options) *drawing.Drawing {
	t.Helper()
	d, err := svg.Read(t.Context(), strings.NewReader(text), opt)
	if err != nil {
		t.Fatalf("%s\n%v", text, err)
	}
	return d
}

// in wraps content in a drawing of 100 by 100 px.
func in(content string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100" height="100">` + content + `</svg>`
}

func text(c *drawing.Colour) string {
	if c == nil {
		return "none"
	}
	return c.String()
}

// Source: CSS Cascading and Inheritance 4, section 6, and Selectors 4; the
// outcome of each row is worked out by hand.
func TestCascade(t *testing.T) {
	const path = `<path id="p" class="a b" d="M0 0h9"/>`
	for _, tt := range []struct{ name, content, stroke string }{
		{"nothing", path, "none"},
		{"attribute", `<path stroke="red" d="M0 0h9"/>`, "#ff0000"},
		{"type beats attribute", `<style>path{stroke:lime}</style><path stroke="red" d="M0 0h9"/>`, "#00ff00"},
		{"universal beats attribute", `<style>*{stroke:lime}</style><path stroke="red" d="M0 0h9"/>`, "#00ff00"},
		{"class beats type", `<style>.a{stroke:red}path{stroke:lime}</style>` + path, "#ff0000"},
		{"id beats two classes", `<style>#p{stroke:red}.a.b{stroke:lime}</style>` + path, "#ff0000"},
		{"later beats earlier", `<style>.a{stroke:red}.b{stroke:lime}</style>` + path, "#00ff00"},
		{"inline beats id", `<style>#p{stroke:red}</style><path id="p" style="stroke:lime" d="M0 0h9"/>`, "#00ff00"},
		{"important beats inline", `<style>path{stroke:red!important}</style><path style="stroke:lime" d="M0 0h9"/>`, "#ff0000"},
		{"important inline beats all", `<style>#p{stroke:red ! important}</style><path id="p" style="stroke:lime !important" d="M0 0h9"/>`, "#00ff00"},
		{"a list of selectors", `<style>rect, .b{stroke:red}</style>` + path, "#ff0000"},
		{"child", `<style>g>path{stroke:red}</style><g>` + path + `</g>`, "#ff0000"},
		{"no child", `<style>svg>path{stroke:red}</style><g>` + path + `</g>`, "none"},
		{"descendant", `<style>svg path{stroke:red}</style><g>` + path + `</g>`, "#ff0000"},
		{"adjacent", `<style>rect+path{stroke:red}</style><rect/>` + path, "#ff0000"},
		{"sibling", `<style>rect~path{stroke:red}</style><rect/><g/>` + path, "#ff0000"},
		{"attribute there", `<style>[d]{stroke:red}</style>` + path, "#ff0000"},
		{"attribute equal", `<style>[class="a b"]{stroke:red}</style>` + path, "#ff0000"},
		{"attribute word", `<style>[class~=b]{stroke:red}</style>` + path, "#ff0000"},
		{"attribute start", `<style>[id^=q]{stroke:red}</style>` + path, "none"},
		{"first child", `<style>path:first-child{stroke:red}</style><g>` + path + `</g>`, "#ff0000"},
		{"a selector that is not read", `<style>path:hover{stroke:red}</style>` + path, "none"},
		{"case of a type", `<style>PATH{stroke:red}</style>` + path, "none"},
		{"a bad value leaves the one before", `<style>path{stroke:red;stroke:nonsense}</style>` + path, "#ff0000"},
		{"inherited", `<g stroke="red">` + path + `</g>`, "#ff0000"},
		{"the word inherit", `<style>path{stroke:inherit}</style><g stroke="red"><path stroke="lime" d="M0 0h9"/></g>`, "#ff0000"},
		{"the word initial", `<g stroke="red"><path stroke="initial" d="M0 0h9"/></g>`, "none"},
		{"current colour", `<g color="red"><path stroke="currentColor" d="M0 0h9"/></g>`, "#ff0000"},
		{"current colour is inherited as such", `<g color="red" stroke="currentColor"><path color="lime" d="M0 0h9"/></g>`, "#00ff00"},
		{"print only", `<style>@media print{path{stroke:red}}</style>` + path, "none"},
		{"screen", `<style>@media screen{path{stroke:red}}</style>` + path, "#ff0000"},
		{"after a block that does not apply", `<style>@font-face{font-family:x}@media print{*{stroke:lime}}.a{stroke:red}</style>` + path, "#ff0000"},
		{"style type", `<style type="text/x">path{stroke:red}</style>` + path, "none"},
		{"comments", `<style><!-- /* path{stroke:lime} */ path{/*;*/stroke:/**/red} --></style>` + path, "none"}, // an XML comment
		{"in CDATA", `<style><![CDATA[ g > path { stroke : red } ]]></style><g>` + path + `</g>`, "#ff0000"},
		{"width nought", `<path stroke="red" stroke-width="0" d="M0 0h9"/>`, "none"},
		{"transparent", `<path stroke="transparent" d="M0 0h9"/>`, "none"},
		{"opacity nought above", `<g opacity="0"><path stroke="red" d="M0 0h9"/></g>`, "none"},
		{"stroke opacity nought", `<path stroke="red" stroke-opacity="0%" d="M0 0h9"/>`, "none"},
		{"gradient", `<linearGradient id="g"><stop stop-color="red"/></linearGradient><path stroke="url(#g)" d="M0 0h9"/>`, "#ff0000"},
		{"gradient by another", `<linearGradient id="g"><stop style="stop-color:red"/></linearGradient><radialGradient id="h" xlink:href="#g"/><path stroke="url('#h')" d="M0 0h9"/>`, "#ff0000"},
		{"fallback", `<path stroke="url(#none) red" d="M0 0h9"/>`, "#ff0000"},
		{"no fallback", `<path stroke="url(#none)" d="M0 0h9"/>`, "none"},
		{"by use, rules match where the element stands", `<style>defs path{stroke:red}</style><defs><path id="x" d="M0 0h9"/></defs><use href="#x"/>`, "#ff0000"},
		{"by use, the rest is inherited", `<defs><path id="x" d="M0 0h9"/></defs><use href="#x" stroke="red"/>`, "#ff0000"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := read(t, in(tt.content), svg.Options{KeepHidden: true})
			if len(d.Shapes) != 1 {
				t.Fatalf("%d shapes", len(d.Shapes))
			}
			if got := text(d.Shapes[0].Stroke); got != tt.stroke {
				t.Errorf("stroke %s, want %s", got, tt.stroke)
			}
		})
	}
}

// Source: CSS Color 4; the rows from hwb on are its own examples or
// the tables beside them.
func TestColours(t *testing.T) {
	for value, want := range map[string]string{
		"#F80": "#ff8800", "#f808": "#ff8800", "#ff880080": "#ff8800", "#f800": "none", "#ff88": "#ffff88",
		"RED": "#ff0000", "DarkSlateGrey": "#2f4f4f", "rebeccapurple": "#663399", "nonsense": "#000000", "#12": "#000000",
		"rgb(255,136,0)": "#ff8800", "rgb( 255 136 0 / 50% )": "#ff8800", "rgba(255,136,0,0)": "none",
		"rgb(100%,53.333%,0%)": "#ff8800", "rgb(300,-20,0)": "#ff0000", "rgb(1,2)": "#000000",
		"hsl(120,100%,50%)": "#00ff00", "hsl(120deg 100% 25%)": "#008000", "hsl(-240,100%,50%)": "#00ff00",
		"hsla(.5turn,100%,50%,.5)": "#00ffff", "hwb(194 0% 0%)": "#00c3ff", "hwb(0 100% 100%)": "#808080",
		"lab(46.2775% -47.5621 48.5837)": "#008000", "lch(46.2775% 67.9892 134.3912)": "#008000",
		"oklab(51.975% -0.1403 0.10768)": "#008000", "oklch(51.975% 0.17686 142.495)": "#008000",
		"color(srgb 1 .5 0)": "#ff8000", "color(xyz 1 1 1)": "#000000",
		"#CD853F icc-color(acmecmyk, 0.11, 0.48, 0.83, 0.00)": "#cd853f",
	} {
		d := read(t, in(`<path fill="`+value+`" d="M0 0h9v9z"/>`), svg.Options{KeepHidden: true})
		if got := text(d.Shapes[0].Fill); got != want {
			t.Errorf("%s: %s, want %s", value, got, want)
		}
	}
}
