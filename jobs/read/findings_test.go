package read_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
)

const cut = `<path id="p" d="M0 0h9v9z" stroke="red" fill="none"/>`

// What a reader notes becomes a finding that weighs what the catalogue or the
// note says, with hints that have no gaps.
func TestFindings(t *testing.T) {
	for _, tt := range []struct {
		code     finding.Code
		severity finding.Severity
		with     string
	}{
		{finding.EmptyDrawing, finding.Block, `<g/>`},
		{finding.OutOfRange, finding.Block, `<path d="M0 0h9e99" stroke="red"/>`},
		{finding.LiveText, finding.Block, cut + `<text y="9">A</text>`},
		{finding.RasterImage, finding.Warn, cut + `<image width="9" height="9" href="x.png"/>`},
		{finding.RasterImage, finding.Block, `<image width="9" height="9"/>`},
		{finding.PaintServerUsed, finding.Warn, `<pattern id="x"/><path d="M0 0h9v9" fill="url(#x)"/>`},
		{finding.EffectUsed, finding.Warn, `<g filter="url(#f)">` + cut + `</g>`},
		{finding.DashedLine, finding.Warn, `<path d="M0 0h9" stroke="red" stroke-dasharray="1,2"/>`},
		{finding.HiddenGeometry, finding.Warn, cut + `<g display="none">` + cut + `</g>`},
		{finding.HiddenGeometry, finding.Warn, cut + `<g visibility="hidden">` + cut + `</g>`},
		{finding.UnpaintedGeometry, finding.Warn, cut + `<path d="M0 0h9v9" fill="none"/>`},
		{finding.UnpaintedGeometry, finding.Warn, cut + `<path d="M0 0h9h-5z"/>`},
		{finding.UnpaintedGeometry, finding.Warn, cut + `<line x2="9"/>`},
		{finding.ClipPathUsed, finding.Ask, `<clipPath id="c"><rect width="5" height="9"/></clipPath><g clip-path="url(#c)">` + cut + `</g>`},
		{finding.ClipPathUsed, finding.Ask, `<svg width="8" height="9">` + cut + `</svg>`},
		{finding.MaskUsed, finding.Ask, `<g mask="url(#m)">` + cut + `</g>`},
		{finding.ExternalReference, finding.Block, cut + `<use href="b.svg#x"/>`},
		{finding.ExternalReference, finding.Warn, `<style>@import "a.css";</style>` + cut},
		{finding.MissingReference, finding.Warn, cut + `<use href="#q"/>`},
		{finding.CircularReference, finding.Block, cut + `<g id="a"><use href="#a"/></g>`},
		{finding.PathDataBroken, finding.Ask, `<path d="M0 0h9 9z x" stroke="red"/>`},
		{finding.PathDataBroken, finding.Ask, `<polygon points="0,0 9,9 5"/>`},
		{finding.ValueUnreadable, finding.Ask, `<g transform="turn(3)">` + cut + `</g>`},
		{finding.ValueUnreadable, finding.Ask, `<g style="clip-path:circle(5px)">` + cut + `</g>`},
		{finding.ValueUnreadable, finding.Ask, `<rect width="1 0" height="9"/>` + cut},
		{finding.UnknownElement, finding.Warn, cut + `<rectangle/>`},
		{finding.ForeignContent, finding.Warn, cut + `<foreignObject/>`},
		{finding.MarkerIgnored, finding.Warn, `<path d="M0 0h9v9" marker-end="url(#m)"/>`},
		{finding.MotionIgnored, finding.Warn, cut + `<script>x</script>`},
		{finding.StyleRuleIgnored, finding.Warn, `<style>path:not(.a){fill:red}</style>` + cut},
	} {
		r := drawn(t, []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm">`+tt.with+`</svg>`), read.Request{})
		found := false
		for _, f := range r.Findings {
			if strings.ContainsAny(f.Hint+f.TechnicianHint, "{}") {
				t.Errorf("%s: a placeholder is left in %q, %q", f.Code, f.Hint, f.TechnicianHint)
			}
			if f.Code != tt.code {
				continue
			}
			found = true
			if f.Severity != tt.severity {
				t.Errorf("%s: %s, want %s", tt.with, f.Severity, tt.severity)
			}
		}
		if !found {
			t.Errorf("%s: no %s in %v", tt.with, tt.code, r.Findings)
		}
	}
}

// A file that no reader takes is a drawing without shapes that is refused.
func TestUnreadable(t *testing.T) {
	for text, want := range map[string]finding.Code{
		"": finding.UnknownFormat, "GIF89a": finding.UnknownFormat, "<svg><g>": finding.Unreadable, "%PDF-1.7": finding.Unreadable,
	} {
		r := drawn(t, []byte(text), read.Request{})
		if len(r.Findings) != 1 || r.Findings[0].Code != want || finding.Worst(r.Findings) != finding.Block || r.Checkable() {
			t.Errorf("%q: %+v", text, r.Findings)
		}
	}
}

func TestCheckPage(t *testing.T) {
	for head, want := range map[string]error{"%PDF-1.7": nil, "<svg>": read.ErrNoPages, "": read.ErrNoPages} {
		if err := read.CheckPage([]byte(head), 2); err != want {
			t.Errorf("page 2 of %q: %v", head, err)
		}
		if err := read.CheckPage([]byte(head), 0); err != nil {
			t.Errorf("no page of %q: %v", head, err)
		}
	}
}
