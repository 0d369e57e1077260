package api_test

import (
	"net/http"
	"testing"

	"knifedesk/api"
)

// Without keys only this machine is served, and no page from elsewhere that a
// browser on it has open (Fetch Metadata; DNS rebinding by the host's name).
func TestOnlyThisMachineNeedsNoKey(t *testing.T) {
	d := open(t)
	home := d.URL
	for _, tt := range []struct {
		name, method string
		headers      []string
		status       int
		code         string
	}{
		{"curl", "POST", nil, 201, ""},
		{"the page itself", "POST", []string{"Origin", home, "Sec-Fetch-Site", "same-origin"}, 201, ""},
		{"an older browser", "POST", []string{"Origin", home}, 201, ""},
		{"a page on another port", "POST", []string{"Origin", "http://127.0.0.1:1", "Sec-Fetch-Site", "same-site"}, 403, "wrong_origin"},
		{"a page elsewhere", "POST", []string{"Origin", "https://form.example.org", "Sec-Fetch-Site", "cross-site"}, 403, "wrong_origin"},
		{"a page elsewhere in an older browser", "POST", []string{"Origin", "https://form.example.org"}, 403, "wrong_origin"},
		{"a page without an origin", "POST", []string{"Origin", "null"}, 403, "wrong_origin"},
		{"a page elsewhere that reads", "GET", []string{"Origin", "https://form.example.org"}, 403, "wrong_origin"},
		{"another host's name", "GET", []string{"Host", "rebound.example.org"}, 421, "wrong_host"},
		{"through a proxy", "GET", []string{"X-Forwarded-For", "192.0.2.7"}, 401, "key_missing"},
		{"through another proxy", "GET", []string{"Forwarded", "for=192.0.2.7"}, 401, "key_missing"},
	} {
		path, body, headers := "/v1/plans", "", tt.headers
		if tt.method == "POST" {
			path, body, headers = "/v1/drawings", plate, append(headers, "Content-Type", "image/svg+xml")
		}
		d.call(t, tt.method, path, []byte(body), headers...).wants(t, tt.name, tt.status, tt.code)
	}
	// A key is taken here too, and from anywhere.
	g := guarded{d}
	reader := g.key(t, "print", "read")
	g.as(t, reader, "GET", "/v1/plans", "", "Host", "cut.example.org").wants(t, "a key through a proxy", http.StatusOK, "")
	g.as(t, reader, "GET", "/v1/levels", "").wants(t, "a key without the scope", http.StatusForbidden, "scope_missing")
}

// Pages of the sites that are named may call from a browser, and no others.
func TestFormsOnOtherOrigins(t *testing.T) {
	const site = "https://form.example.org"
	g := openGuarded(t, api.Config{Origins: []string{site}})
	token := g.token(t, g.key(t, "print", "submit"), `{}`)
	asked := []string{"Access-Control-Request-Method", "POST", "Access-Control-Request-Headers", "authorization,content-type,idempotency-key"}
	before := g.call(t, "OPTIONS", "/v1/drawings", nil, append(asked, "Origin", site)...)
	if before.status != http.StatusNoContent || before.header.Get("Access-Control-Allow-Origin") != site || before.header.Get("Access-Control-Allow-Credentials") != "" {
		t.Errorf("before: %d %v", before.status, before.header)
	}
	a := g.call(t, "POST", "/v1/drawings", []byte(plate), "Origin", site, "Authorization", token, "Content-Type", "image/svg+xml")
	if a.status != http.StatusCreated || a.header.Get("Access-Control-Allow-Origin") != site || a.header.Get("Submission-Capability") == "" {
		t.Errorf("sending: %d %v", a.status, a.header)
	}
	for _, other := range []string{"https://other.example.org", "http://form.example.org", "null"} {
		if b := g.call(t, "OPTIONS", "/v1/drawings", nil, append(asked, "Origin", other)...); b.header.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s is let in: %v", other, b.header)
		}
	}
}
