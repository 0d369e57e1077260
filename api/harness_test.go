package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"sync"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/geometry/plan"
	"knifedesk/jobs"
)

// desk is a whole service on a database of its own. Every answer it gives is
// held against the specification.
type desk struct {
	*httptest.Server
	store  *db.DB
	spec   *openapi3.T
	router routers.Router

	mu   sync.Mutex
	seen map[string]bool // operations that were called
}

func TestMain(m *testing.M) {
	// Bodies that the response check has no reader for are taken as they are.
	for _, kind := range []string{"image/svg+xml", "image/png", "application/pdf", "image/vnd.dxf", "application/vnd.hp-hpgl", "text/html"} {
		openapi3filter.RegisterBodyDecoder(kind, openapi3filter.FileBodyDecoder)
	}
	os.Exit(dbtest.Run(m))
}

// open starts a service that runs the given stages, the real ones for nil.
func open(t *testing.T, stages []plan.Stage) *desk {
	t.Helper()
	ctx := context.Background()
	store := db.From(dbtest.New(t))
	if stages == nil {
		stages = jobs.Stages()
	}
	metrics := prometheus.NewRegistry()
	queue, err := jobs.New(store, stages, jobs.Config{Interactive: 2, Batch: 2, Registry: metrics})
	if err != nil {
		t.Fatal(err)
	}
	if err := queue.Start(ctx); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := queue.Stop(context.Background()); err != nil {
			t.Error(err)
		}
	})
	handler, err := api.New(api.Config{Store: store, Jobs: queue, Log: slog.New(slog.DiscardHandler), Metrics: metrics, MaxBytes: 1 << 20})
	if err != nil {
		t.Fatal(err)
	}
	spec, err := api.Spec()
	if err != nil {
		t.Fatal(err)
	}
	router, err := gorillamux.NewRouter(spec)
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{Server: httptest.NewServer(handler), store: store, spec: spec, router: router, seen: map[string]bool{}}
	t.Cleanup(d.Close)
	return d
}

// answer is one checked answer.
type answer struct {
	status int
	header http.Header
	body   []byte
}

// json decodes the body.
func (a answer) json(t *testing.T, into any) {
	t.Helper()
	if err := json.Unmarshal(a.body, into); err != nil {
		t.Fatalf("%v in %s", err, a.body)
	}
}

// call sends a request and holds the answer against the specification.
func (d *desk) call(t *testing.T, method, path string, body []byte, headers ...string) answer {
	t.Helper()
	req, err := http.NewRequest(method, d.URL+path, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	resp, err := d.Client().Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	d.check(t, req, resp, text)
	return answer{resp.StatusCode, resp.Header, text}
}

func (d *desk) check(t *testing.T, req *http.Request, resp *http.Response, body []byte) {
	t.Helper()
	route, params, err := d.router.FindRoute(req)
	if err != nil {
		return // not in the specification: a page, or a path that is refused
	}
	d.mu.Lock()
	d.seen[route.Operation.OperationID] = true
	d.mu.Unlock()
	err = openapi3filter.ValidateResponse(req.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: req, PathParams: params, Route: route},
		Status:                 resp.StatusCode, Header: resp.Header, Body: io.NopCloser(bytes.NewReader(body)),
		Options: &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true},
	})
	if err != nil {
		t.Errorf("%s %s answers %d outside the specification: %v", req.Method, req.URL.Path, resp.StatusCode, err)
	}
}

// form builds a form with a drawing and fields (name, value, …).
func form(t *testing.T, name string, file []byte, fields ...string) (body []byte, contentType string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	part, err := w.CreateFormFile("drawing", name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Write(file); err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(fields); i += 2 {
		if err := w.WriteField(fields[i], fields[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), w.FormDataContentType()
}

// submit asks for a plan with a form and waits until it is settled.
func (d *desk) submit(t *testing.T, name string, file []byte, fields ...string) api.Plan {
	t.Helper()
	body, kind := form(t, name, file, fields...)
	a := d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=30")
	if a.status != http.StatusOK {
		t.Fatalf("%d %s", a.status, a.body)
	}
	var p api.Plan
	a.json(t, &p)
	return p
}
