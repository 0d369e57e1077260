package api_test

import (
	"bufio"
	"bytes"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"knifedesk/api"
)

func TestHeadAndOptions(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	for _, path := range []string{"/", "/healthz", "/docs", "/v1/stocks", p.Links["self"], p.Links["passes_preview"], p.Links["self"] + "/events"} {
		get, head := d.call(t, http.MethodGet, path, nil), d.call(t, http.MethodHead, path, nil)
		if head.status != http.StatusOK || len(head.body) > 0 {
			t.Errorf("HEAD %s: %d with %d bytes", path, head.status, len(head.body))
		}
		for _, name := range []string{"Content-Type", "Etag"} {
			if get.header.Get(name) != head.header.Get(name) {
				t.Errorf("HEAD %s: %s is %q, by GET %q", path, name, head.header.Get(name), get.header.Get(name))
			}
		}
	}
	for path, want := range map[string]string{
		"/v1/plans": "GET, HEAD, POST, DELETE, OPTIONS", p.Links["self"]: "GET, HEAD, DELETE, OPTIONS", "/v1/stocks/a": "GET, HEAD, PUT, OPTIONS",
		p.Links["answers"]: "POST, OPTIONS",
		"/":                "GET, HEAD, OPTIONS", "/page/page.js": "GET, HEAD, OPTIONS", "/docs/curl": "GET, HEAD, OPTIONS", "/help": "GET, HEAD, OPTIONS", "/help/open_line": "GET, HEAD, OPTIONS",
	} {
		req, err := http.NewRequest(http.MethodOptions, d.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		resp, err := d.Client().Do(req)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		if resp.StatusCode != http.StatusNoContent || resp.Header.Get("Allow") != want {
			t.Errorf("OPTIONS %s: %d, Allow %q, want %q", path, resp.StatusCode, resp.Header.Get("Allow"), want)
		}
	}
}

// A page has one address, and takes nothing.
func TestPagesHaveOneAddress(t *testing.T) {
	d := open(t)
	for _, path := range []string{"/page/x/page.js", "/page/..%2fpage.js", "/page/%2e%2e/index.html", "/help/x/open_line", "/docs/x/curl", "/docs/curl/"} {
		if a := d.call(t, http.MethodGet, path, nil); a.status != http.StatusNotFound || a.code(t) == "" {
			t.Errorf("%s: %d %.100s", path, a.status, a.body)
		}
	}
	for _, path := range []string{"/", "/page/page.js", "/docs/curl", "/help"} {
		d.call(t, http.MethodPost, path, []byte("{}")).wants(t, "sending to "+path, http.StatusMethodNotAllowed, "method_not_allowed")
	}
}

// Reads are not sent twice to a client that names what it has (RFC 9110, 13.1.2).
func TestIfNoneMatch(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	paths := []string{"/v1/stocks", "/v1/stocks/film-removable-610", "/v1/plans", "/openapi.yaml", p.Links["self"] + "/usage", "/v1/drawings/" + p.DrawingID.String()}
	for name, link := range p.Links {
		if name != "answers" {
			paths = append(paths, link)
		}
	}
	for _, path := range paths {
		tag := d.call(t, http.MethodGet, path, nil).header.Get("Etag")
		for header, want := range map[string]int{tag: 304, "W/" + tag: 304, `"other", ` + tag: 304, "*": 304, `"other"`: 200, strings.Trim(tag, `"`): 200} {
			if a := d.call(t, http.MethodGet, path, nil, "If-None-Match", header); a.status != want || want == 304 && len(a.body) > 0 {
				t.Errorf("%s with If-None-Match %s: %d, want %d", path, header, a.status, want)
			}
		}
	}
	asText := d.call(t, http.MethodGet, p.Links["self"], nil, "Accept", "text/plain")
	asJSON := d.call(t, http.MethodGet, p.Links["self"], nil)
	if asText.header.Get("Etag") == asJSON.header.Get("Etag") || asText.header.Get("Vary") != "Accept" {
		t.Error("text and JSON cannot be told apart by a cache")
	}
}

// RFC 9110, 12.5.1: the type with the greater weight is sent.
func TestAccept(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	for accept, text := range map[string]bool{
		"": false, "*/*": false, "application/json": false, "text/plain": true, "text/*": true, "text/html, */*;q=0.8": false,
		"application/json;q=0.5, text/plain;q=0.9": true, "text/plain;q=0.1, application/json": false, "text/plain;q=0, */*": false,
		"text/plain, */*": true, "application/json, text/plain": false, "application/xml": false, "\xff": false,
	} {
		a := d.call(t, http.MethodGet, p.Links["self"], nil, "Accept", accept)
		if got := strings.HasPrefix(a.header.Get("Content-Type"), "text/plain"); a.status != http.StatusOK || got != text {
			t.Errorf("Accept %q: %d %s", accept, a.status, a.header.Get("Content-Type"))
		}
	}
}

// RFC 7240: what is not understood is left out, and what was done is said.
func TestPrefer(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	for prefer, applied := range map[string]string{
		"": "", "wait": "", "wait=abc": "", "wait=-5": "", "wait=0": "", "wait=1.5": "", "wait=99999999999999999999": "", "respond-async": "",
		"wait=7": "wait=7", `WAIT="2"`: "wait=2", "respond-async, wait=3": "wait=3", "wait=3600": "wait=60", "\xff\xfe": "",
	} {
		a := d.call(t, http.MethodGet, p.Links["self"], nil, "Prefer", prefer)
		if a.status != http.StatusOK || a.header.Get("Preference-Applied") != applied {
			t.Errorf("Prefer %q: %d, applied %q, want %q", prefer, a.status, a.header.Get("Preference-Applied"), applied)
		}
	}
}

// A request is found in the logs by its id, and by the trace it belongs to (W3C
// Trace Context, 3.2).
func TestRequestsAreFoundInTheLogs(t *testing.T) {
	var lines logBuffer
	d := openWith(t, api.Config{Log: slog.New(slog.NewTextHandler(&lines, nil))})
	const trace, parent = "4bf92f3577b34da6a3ce929d0e0e4736", "00f067aa0ba902b7" // the example of the standard
	for _, tt := range []struct {
		id, traceparent string
		kept, traced    bool
	}{
		{"bay-4.0001_a", "00-" + trace + "-" + parent + "-01", true, true},
		{strings.Repeat("a", 129), "01-" + trace + "-" + parent + "-01-what-comes-later", false, true},
		{"a b", "00-" + trace + "-" + parent + "-01-more", false, false},
		{"<b>", "ff-" + trace + "-" + parent + "-01", false, false},
		{"", "00-" + strings.Repeat("0", 32) + "-" + parent + "-01", false, false},
		{"a\xff", "00-" + strings.ToUpper(trace) + "-" + parent + "-01", false, false},
	} {
		lines.take()
		a := d.call(t, http.MethodGet, "/v1/stocks", nil, "X-Request-ID", tt.id, "traceparent", tt.traceparent)
		id, log := a.header.Get("X-Request-Id"), lines.take()
		if (id == tt.id) != tt.kept || len(id) > 128 {
			t.Errorf("the id %q came back as %q", tt.id, id)
		}
		if !strings.Contains(log, "request_id="+id) || strings.Contains(log, "trace_id="+trace+" parent_id="+parent) != tt.traced {
			t.Errorf("with traceparent %q the log says %s", tt.traceparent, log)
		}
	}
}

// logBuffer is written by the service and read by a test.
type logBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

// Write adds a line.
func (s *logBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *logBuffer) take() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	text := s.b.String()
	s.b.Reset()
	return text
}

// One address that asks too often is told so, and when to come again.
func TestRateLimit(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: 5})
	for left := 4; left >= 0; left-- {
		a := d.call(t, http.MethodGet, "/v1/stocks", nil)
		want := fmt.Sprintf(`"requests";r=%d;t=`, left)
		if a.status != http.StatusOK || !strings.HasPrefix(a.header.Get("Ratelimit"), want) || a.header.Get("Ratelimit-Policy") != `"requests";q=5;w=60` {
			t.Errorf("%d, %q, %q", a.status, a.header.Get("Ratelimit"), a.header.Get("Ratelimit-Policy"))
		}
	}
	a := d.call(t, http.MethodGet, "/v1/stocks", nil, "X-Forwarded-For", "192.0.2.7")
	d.refuses(t, a, http.StatusTooManyRequests, "too_many_requests")
	if s := a.header.Get("Retry-After"); s != "12" && s != "11" { // 60 s for 5
		t.Errorf("Retry-After is %q", s)
	}
	if a := d.call(t, http.MethodGet, "/healthz", nil); a.status != http.StatusOK {
		t.Errorf("health answers %d", a.status)
	}
}

// Counters do not grow with what callers make up.
func TestCountersStayFew(t *testing.T) {
	d := open(t)
	lines := func() int { return bytes.Count(d.call(t, http.MethodGet, "/metrics", nil).body, []byte("\n")) }
	d.call(t, http.MethodGet, "/nothing", nil)
	d.call(t, "CUT", "/v1/stocks", nil)
	lines()
	before := lines()
	for i := range 20 {
		d.call(t, http.MethodGet, fmt.Sprint("/nothing/", i), nil)
		d.call(t, fmt.Sprint("CUT", i), "/v1/stocks", nil)
		d.call(t, http.MethodGet, "/nothing", nil, "Host", fmt.Sprint("127.0.0.", i+2, ":80"))
	}
	if after := lines(); after > before {
		t.Errorf("%d lines became %d", before, after)
	}
}

// Bodies that are in memory at a time are bounded: of six that are sent slowly
// to a service that holds four, one at least is turned away.
func TestBodiesAtATime(t *testing.T) {
	d := open(t) // a body of at most 1 MB
	answers := make(chan *http.Response, 6)
	for range 6 {
		conn, err := net.Dial("tcp", strings.TrimPrefix(d.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		go func() {
			fmt.Fprintf(conn, "POST /v1/drawings HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: %d\r\n\r\n", 1<<20)
			conn.Write(make([]byte, 1<<20-1)) // and never the last byte
			if resp, err := http.ReadResponse(bufio.NewReader(conn), nil); err == nil {
				answers <- resp
			}
		}()
	}
	select {
	case resp := <-answers:
		if resp.StatusCode != http.StatusServiceUnavailable || resp.Header.Get("Retry-After") == "" {
			t.Errorf("%d, come again in %q", resp.StatusCode, resp.Header.Get("Retry-After"))
		}
	case <-time.After(20 * time.Second):
		t.Error("the service holds all of them")
	}
	if a := d.call(t, http.MethodGet, "/v1/stocks", nil); a.status != http.StatusOK {
		t.Errorf("meanwhile: %d", a.status)
	}
}

// A body that is turned away just before its end is answered at once, and not
// when its last byte comes.
func TestBodyTurnedAwayNearItsEnd(t *testing.T) {
	d := open(t) // a body of at most 1 MB, four of them in memory
	var first net.Conn
	for i := range 5 {
		conn, err := net.Dial("tcp", strings.TrimPrefix(d.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		fmt.Fprintf(conn, "POST /v1/drawings HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: %d\r\n\r\n", 1<<20)
		if _, err := conn.Write(make([]byte, 800_000)); err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			first = conn
		}
	}
	time.Sleep(time.Second) // until the service has read them
	if _, err := first.Write(make([]byte, 1<<20-800_001)); err != nil {
		t.Fatal(err)
	}
	first.SetReadDeadline(time.Now().Add(20 * time.Second))
	resp, err := http.ReadResponse(bufio.NewReader(first), nil)
	if err != nil || resp.StatusCode != http.StatusServiceUnavailable || resp.Header.Get("Retry-After") == "" {
		t.Errorf("%v, %v", resp, err)
	}
}

// Many pictures at once, one drawn at a time: all come, and what is light is
// not held up.
func TestPicturesInTurn(t *testing.T) {
	d := openWith(t, api.Config{Drawing: 1})
	p := d.submit(t, "rings.svg", dense(300), "stock", "film-removable-610")
	together(12, func(i int) {
		if a := d.call(t, http.MethodGet, p.Links["self"]+"/previews/weeding.png", nil); a.status != http.StatusOK {
			t.Errorf("%d %s", a.status, a.body)
		}
	})
}

// readEvents returns the events of a plan's stream as they come.
func (d *desk) readEvents(t *testing.T, path string) <-chan string {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, d.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	resp, err := d.Client().Do(req)
	if err != nil || resp.Header.Get("Content-Type") != "text/event-stream" {
		t.Fatal(resp, err)
	}
	events := make(chan string, 100)
	go func() {
		defer resp.Body.Close()
		defer close(events)
		lines := bufio.NewScanner(resp.Body)
		var one []string
		for lines.Scan() {
			if lines.Text() != "" {
				one = append(one, lines.Text())
				continue
			}
			events <- strings.Join(one, "\n")
			one = nil
		}
	}()
	return events
}

// A body that breaks off, or comes in another form than its headers say, is the
// sender's fault.
func TestBodiesThatBreakOff(t *testing.T) {
	d := open(t)
	for name, raw := range map[string]string{
		"a broken chunk": "Transfer-Encoding: chunked\r\nContent-Type: application/json\r\n\r\nzz\r\n",
		"half of it":     "Content-Length: 100\r\nContent-Type: application/json\r\n\r\n{",
		"half a file":    "Content-Length: 100\r\nContent-Type: multipart/form-data; boundary=b\r\n\r\n--b\r\n",
	} {
		conn, err := net.Dial("tcp", strings.TrimPrefix(d.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		fmt.Fprintf(conn, "POST /v1/plans HTTP/1.1\r\nHost: 127.0.0.1\r\n%s", raw)
		if err := conn.(*net.TCPConn).CloseWrite(); err != nil {
			t.Fatal(err)
		}
		resp, err := http.ReadResponse(bufio.NewReader(conn), nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if resp.StatusCode != http.StatusBadRequest || resp.Header.Get("Content-Type") != "application/problem+json" {
			t.Errorf("%s: %d %s", name, resp.StatusCode, resp.Header.Get("Content-Type"))
		}
	}
}

// A wait past all bounds, and past what a duration holds, is the longest one.
func TestPreferIsBounded(t *testing.T) {
	d := open(t)
	p := d.submit(t, "plate.svg", []byte(plate), "stock", "film-removable-610")
	for prefer, want := range map[string]string{
		"wait=5": "wait=5", `wait="5"`: "wait=5", "respond-async, wait=61": "wait=60", "wait=9223372037": "wait=60",
		"wait=-1": "", "wait=soon": "", "wait": "",
	} {
		a := d.call(t, http.MethodGet, p.Links["self"], nil, "Prefer", prefer)
		if got := a.header.Get("Preference-Applied"); a.status != http.StatusOK || got != want {
			t.Errorf("%s: %d, applied %q, want %q", prefer, a.status, got, want)
		}
	}
}
