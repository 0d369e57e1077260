package api_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// The check that every test of this package leans on fails where an answer
// leaves the specification.
func TestTheCheckCanFail(t *testing.T) {
	d := open(t)
	const id = "/v1/plans/0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5"
	problem := `{"type":"about:blank","title":"Not Found","status":404,"code":"not_found","detail":"There is none."}`
	for _, tt := range []struct {
		name, method, path string
		status             int
		kind, body         string
		good               bool
	}{
		{"a problem", "GET", id, 404, "application/problem+json", problem, true},
		{"a problem without a code", "GET", id, 404, "application/problem+json", `{"type":"about:blank","title":"","status":404,"detail":""}`, false},
		{"a problem that is no problem", "GET", id, 404, "application/json", problem, false},
		{"an error in plain text", "GET", id, 500, "text/plain", "oops", false},
		{"an error beside the specification", "GET", "/nothing", 404, "text/plain", "404 page not found", false},
		{"a problem beside the specification", "GET", "/nothing", 404, "application/problem+json", problem, true},
		{"a status that is not named", "POST", "/v1/drawings", 200, "application/json", "{}", false},
		{"a plan without its parts", "GET", id, 200, "application/json", `{"id":"0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5"}`, false},
		{"health", "GET", "/healthz", 200, "application/json", `{"status":"ok"}`, true},
		{"another word for health", "GET", "/healthz", 200, "application/json", `{"status":"fine"}`, false},
		{"a summary", "GET", id, 200, "text/plain; charset=UTF-8", "status ready", true},
		{"a summary in broken text", "GET", id, 200, "text/plain", "\xff", false},
		{"a stock in plain text", "GET", "/v1/stocks/a", 200, "text/plain", "a stock", false},
		{"a picture that is none", "GET", id + "/previews/size.png", 200, "image/png", "no picture", false},
		{"a picture of another type", "GET", id + "/previews/size.png", 200, "image/gif", "GIF89a", false},
		{"a picture cut off", "GET", id + "/previews/size.svg", 200, "image/svg+xml", "<svg><g>", false},
		{"a page cut off", "GET", id + "/worksheet.pdf", 200, "application/pdf", "%PDF-1.4", false},
		{"a file cut off", "GET", id + "/files/load-1.dxf", 200, "image/vnd.dxf", "0\nSECTION\n", false},
		{"not modified", "GET", id, 304, "", "", true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			req := httptest.NewRequest(tt.method, d.URL+tt.path, nil)
			resp := &http.Response{StatusCode: tt.status, Header: http.Header{"X-Request-Id": {"a"}}, Body: io.NopCloser(strings.NewReader(tt.body))}
			if tt.kind != "" {
				resp.Header.Set("Content-Type", tt.kind)
			}
			if _, err := d.violation(req, resp, []byte(tt.body)); (err == nil) != tt.good {
				t.Errorf("the check says %v", err)
			}
		})
	}
}
