package api_test

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"

	"knifedesk/api"
)

// malicious is a drawing that runs what it can and loads what it can: by script,
// handlers, style, entities, images, and by the names of its layers.
func malicious(outside string) string {
	return `<?xml version="1.0"?><?xml-stylesheet href="` + outside + `/style.css"?>
<!DOCTYPE svg [<!ENTITY file SYSTEM "file:///etc/passwd"><!ENTITY far SYSTEM "` + outside + `/entity">]>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="60mm" viewBox="0 0 100 60" onload="alert(1)">
<script>alert(1)</script><style>@import url(` + outside + `/import.css); rect { fill: url(` + outside + `/paint.svg#a) }</style>
<image href="` + outside + `/image.png" width="10" height="10"/><use xlink:href="` + outside + `/use.svg#a"/>
<foreignObject width="10" height="10"><iframe xmlns="http://www.w3.org/1999/xhtml" src="` + outside + `/frame"/></foreignObject>
<g id="CUT" fill="none" stroke="#007c91" onclick="alert(1)"><rect x="10" y="10" width="80" height="40"/></g>
<g id="&lt;script&gt;alert(1)&lt;/script&gt;" fill="none" stroke="#007c91"><circle cx="30" cy="30" r="8"/></g>
<g id="&#x22;&gt;&lt;img src=x onerror=alert(1)&gt;" fill="none" stroke="#007c91"><circle cx="60" cy="30" r="8"/></g>
<g id="=HYPERLINK(&#x22;` + outside + `&#x22;)" fill="none" stroke="#007c91"><circle cx="75" cy="30" r="4"/></g>
<g id="0&#10;EOF&#10;SP1;PU0,0;" fill="none" stroke="#007c91"><circle cx="45" cy="30" r="4"/></g></svg>`
}

// What a drawing says never runs, loads or breaks out in what is made of it: in
// pictures, the worksheet, the summary, and the files to cut from.
func TestAttackByTheDrawing(t *testing.T) {
	var asked atomic.Int64
	outside := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { asked.Add(1) }))
	t.Cleanup(outside.Close)
	d := openWith(t, api.Config{PerMinute: -1})
	p := d.submit(t, `=cmd()<b>.svg`, []byte(malicious(outside.URL)), "stock", "film-removable-610", "client_reference", `"><script>alert(1)</script>`, "cost_code", `=1+1`)
	if p.Status == "asking" {
		answers := fields{}
		for _, q := range p.Questions {
			answers[q.ID] = fields{"answer": q.Answers[0].ID}
		}
		p = send[api.Plan](t, d, "POST", p.Links["self"]+"/answers", fields{"answers": answers}, http.StatusOK, "Prefer", "wait=30")
	}
	if p.Status != "ready" {
		t.Fatalf("it is %s: %+v", p.Status, p.Findings)
	}
	file := strings.TrimSuffix(p.Links["cut_file"], ".dxf")
	for name, link := range p.Links {
		if strings.HasSuffix(link, "/answers") || strings.HasSuffix(link, "/events") || strings.HasSuffix(link, "/links") || strings.HasSuffix(link, "/acceptance") {
			continue
		}
		inert(t, name, d.call(t, "GET", link, nil), outside.URL)
	}
	for _, other := range []string{file + ".svg", file + ".plt", file + ".txt", file + ".json", p.Links["drawing"] + "/preview.svg"} {
		inert(t, other, d.call(t, "GET", other, nil), outside.URL)
	}
	text := d.call(t, "GET", p.Links["self"], nil, "Accept", "text/plain")
	inert(t, "the summary", text, outside.URL)
	if n := asked.Load(); n > 0 {
		t.Errorf("%d things were loaded", n)
	}
}

var (
	handler = regexp.MustCompile(`^on`)
	plotted = regexp.MustCompile(`^(?:[A-Z]{2}[-0-9.,]*;|\s)*$`)
)

// inert fails where an answer can do something, or says it is something else than
// it is.
func inert(t *testing.T, name string, a answer, outside string) {
	t.Helper()
	kind, _, _ := strings.Cut(a.header.Get("Content-Type"), ";")
	if a.status != http.StatusOK || a.header.Get("X-Content-Type-Options") != "nosniff" || !strings.Contains(a.header.Get("Content-Security-Policy"), "default-src") {
		t.Errorf("%s: %d %v", name, a.status, a.header)
	}
	if bytes.Contains(a.body, []byte("root:x:0")) {
		t.Errorf("%s holds a file of the service's machine", name)
	}
	switch kind {
	case "image/svg+xml":
		inertSVG(t, name, a.body)
	case "application/pdf":
		if found := regexp.MustCompile(`/(JS|JavaScript|Launch|EmbeddedFile|OpenAction|AA|SubmitForm)\b`).Find(a.body); found != nil {
			t.Errorf("%s holds %s", name, found)
		}
	case "image/vnd.dxf":
		lines := strings.Split(strings.ReplaceAll(string(a.body), "\r\n", "\n"), "\n")
		for i := 0; i+1 < len(lines); i += 2 { // a group code, then its value
			if !regexp.MustCompile(`^ *-?\d{1,4}$`).MatchString(lines[i]) {
				t.Errorf("%s: line %d is no group code: %q", name, i+1, lines[i])
				break
			}
		}
	case "application/vnd.hp-hpgl":
		if !plotted.Match(a.body) {
			t.Errorf("%s holds what is no plain instruction", name)
		}
	case "text/plain":
		if found := regexp.MustCompile(`[\x00-\x08\x0b-\x1f\x7f]`).Find(a.body); found != nil {
			t.Errorf("%s holds %q", name, found)
		}
	}
}

func inertSVG(t *testing.T, name string, body []byte) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(body))
	for {
		token, err := dec.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		switch x := token.(type) {
		case xml.Directive, xml.ProcInst:
			if p, ok := x.(xml.ProcInst); !ok || p.Target != "xml" {
				t.Errorf("%s holds a directive", name)
			}
		case xml.StartElement:
			if strings.Contains("|script|foreignObject|iframe|image|object|embed|animate|set|", "|"+x.Name.Local+"|") {
				t.Errorf("%s holds <%s>", name, x.Name.Local)
			}
			for _, at := range x.Attr {
				link := at.Name.Local == "href" && !strings.HasPrefix(at.Value, "#")
				if handler.MatchString(at.Name.Local) || link || strings.Contains(at.Value, "url(http") {
					t.Errorf("%s: <%s %s=%q>", name, x.Name.Local, at.Name.Local, at.Value)
				}
			}
		}
	}
}

// No cell of a report is a formula for a table program (OWASP, CSV injection).
func TestAttackByACell(t *testing.T) {
	d := openWith(t, api.Config{PerMinute: -1})
	for n, code := range []string{"=1+1", "+1", "-1", "@SUM(A1)", `=HYPERLINK("http://x")`, "4711"} {
		p := d.submit(t, "plate.svg", []byte(plate), "stock", "card-220-a4", "cost_code", code)
		send[any](t, d, "POST", p.Links["self"]+"/acceptance", fields{}, http.StatusCreated)
		send[any](t, d, "POST", "/v1/outcomes", fields{"plan_id": p.ID, "step": "issued"}, http.StatusCreated)
		send[any](t, d, "POST", "/v1/outcomes", fields{"plan_id": p.ID, "step": "done"}, http.StatusCreated)
		rows, err := csv.NewReader(bytes.NewReader(d.call(t, "GET", "/v1/reports/stores.csv", nil).body)).ReadAll()
		if err != nil || len(rows) < n+2 {
			t.Fatalf("%v, %d rows", err, len(rows))
		}
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) && !regexp.MustCompile(`^-?[0-9.]+$`).MatchString(cell) {
					t.Errorf("a cell begins as a formula: %q", cell)
				}
			}
		}
	}
}
