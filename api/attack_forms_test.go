package api_test

import (
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
)

// Forms that are built to be read in two ways, or to cost more than they are.
func TestAttackForms(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1})
	part := func(disposition, body string) string {
		return "--b\r\nContent-Disposition: " + disposition + "\r\n\r\n" + body + "\r\n"
	}
	file := func(name string) string { return part(`form-data; name="drawing"; filename=`+name, plate) }
	stock := part(`form-data; name="stock"`, "film-removable-610")
	many := func(n int) string {
		return strings.Repeat(part(`form-data; name="answer"`, "a=b"), n)
	}
	for what, body := range map[string]string{
		"two drawings": file(`"a.svg"`) + file(`"b.svg"`) + stock, "a field twice": file(`"a.svg"`) + stock + stock, "no end": strings.TrimSuffix(file(`"a.svg"`), "\r\n"),
		"ten thousand fields": file(`"a.svg"`) + many(10_000), "another field": file(`"a.svg"`) + part(`form-data; name="owner"`, "victim"),
		"no name": file(`"a.svg"`) + part("form-data", "x"), "a name twice": part(`form-data; name="drawing"; name="stock"; filename="a.svg"`, plate),
		"a form within":          "--b\r\nContent-Disposition: form-data; name=\"drawing\"; filename=\"a.svg\"\r\nContent-Type: multipart/mixed; boundary=c\r\n\r\n--c\r\n\r\n" + plate + "\r\n--c--\r\n",
		"a field that is a file": file(`"a.svg"`) + part(`form-data; name="stock"; filename="stock"`, strings.Repeat("a", 20<<10)), "an endless header": "--b\r\nX: " + strings.Repeat("a", 900<<10) + "\r\n\r\n",
		"ten thousand headers": "--b\r\n" + strings.Repeat("X-A: b\r\n", 11_000) + "\r\n\r\n", "no drawing": stock, "a drawing without bytes": part(`form-data; name="drawing"; filename="a.svg"`, "") + stock,
		"a line in a name": file("\"a\r\nX-Injected: yes\r\n.svg\"") + stock, "another coding": "--b\r\nContent-Disposition: form-data; name=\"drawing\"; filename=\"a.svg\"\r\nContent-Transfer-Encoding: base64\r\n\r\n####\r\n" + stock,
	} {
		a := d.call(t, "POST", "/v1/plans", []byte(body+"--b--\r\n"), "Content-Type", "multipart/form-data; boundary=b")
		injected(t, a, what)
		if what != "a form within" && what != "another coding" { // of which the bytes are taken as a drawing, that is none
			a.refusedWell(t, what)
		} else if a.status >= 500 {
			t.Errorf("%s: %d %.200s", what, a.status, a.body)
		}
	}
	for _, kind := range []string{"multipart/form-data", "multipart/form-data; boundary=", "multipart/form-data; boundary=\"\r\n\"", "multipart/mixed; boundary=b", "multipart/form-data; boundary=" + strings.Repeat("b", 5000)} {
		if strings.ContainsAny(kind, "\r\n") {
			continue // no client sends this
		}
		d.call(t, "POST", "/v1/plans", []byte(file(`"a.svg"`)+stock+"--b--\r\n"), "Content-Type", kind).refusedWell(t, kind)
	}
	for _, name := range []string{`"../../etc/passwd"`, `"..\\..\\a.svg"`, `"a.svg;.exe"`, `"<img src=x onerror=alert(1)>.svg"`, `"=cmd|' /C calc'!A0.svg"`, `"` + strings.Repeat("n", 5000) + `"`} {
		a := d.call(t, "POST", "/v1/plans", []byte(file(name)+stock+"--b--\r\n"), "Content-Type", "multipart/form-data; boundary=b", "Prefer", "wait=20")
		if a.status >= 500 {
			t.Errorf("%s: %d %.200s", name, a.status, a.body)
		}
		if a.status != http.StatusOK {
			continue
		}
		var p api.Plan
		a.json(t, &p)
		for _, link := range []string{"cut_file", "worksheet"} {
			offered := d.call(t, "GET", p.Links[link], nil).header.Get("Content-Disposition")
			if strings.ContainsAny(offered, "/\\<>\r\n") || strings.Contains(offered, "..") {
				t.Errorf("a drawing named %s is offered as %q", name, offered)
			}
		}
	}
	d.onTime(t)
}
