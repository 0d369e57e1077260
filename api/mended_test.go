package api_test

import (
	"bytes"
	"net/http"
	"testing"
)

// The mended drawing is there while the plan still asks about a line, which is in it
// as it was drawn, and not before the size is known.
func TestMendedDrawing(t *testing.T) {
	d := open(t)
	p := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	a := d.call(t, http.MethodGet, p.Links["mended_svg"], nil)
	if a.status != http.StatusOK || a.header.Get("Content-Type") != "image/svg+xml" || !bytes.Contains(a.body, []byte(`1 line waits for an answer`)) || !bytes.Contains(a.body, []byte(`id="FOLD"`)) {
		t.Errorf("%d %s: %s", a.status, a.header, a.body)
	}
	a = d.call(t, http.MethodGet, p.Links["mended_dxf"], nil)
	if a.status != http.StatusOK || !bytes.Contains(a.body, []byte("PAGE_")) || a.header.Get("Content-Disposition") == "" {
		t.Errorf("%d %s: %.300s", a.status, a.header, a.body)
	}
	unsized := d.submit(t, "unsized.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h10v10h-10z" stroke="#000" fill="none"/></svg>`), "stock", "film-removable-610")
	if unsized.Links["mended_svg"] != "" {
		t.Error("a drawing without a size is given back")
	}
	d.refuses(t, d.call(t, http.MethodGet, unsized.Links["self"]+"/mended.svg", nil), 409, "not_yet")
}
