package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"log/slog"
	"mime"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/gorillamux"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/api"
	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/webhook"
	"knifedesk/jobs/workshop"
)

// desk is a whole service on a database of its own. Every answer it gives is
// held against the specification.
type desk struct {
	*httptest.Server
	store  *db.DB
	queue  *queue.Queue
	spec   *openapi3.T
	router routers.Router

	mu   sync.Mutex
	seen map[string]bool // operations that were called
}

func TestMain(m *testing.M) {
	// Bodies that the response check has no reader for are taken as they are.
	for _, kind := range []string{"image/svg+xml", "image/png", "application/pdf", "text/event-stream", "image/vnd.dxf", "application/vnd.hp-hpgl", "text/html"} {
		openapi3filter.RegisterBodyDecoder(kind, openapi3filter.FileBodyDecoder)
	}
	os.Exit(dbtest.Run(m))
}

// open starts a service in the example workshop.
func open(t testing.TB) *desk { return openWith(t, api.Config{}) }

// openWith starts a service with limits of its own in the example workshop.
func openWith(t testing.TB, cfg api.Config) *desk {
	t.Helper()
	d := openEmpty(t, cfg)
	d.seed(t, workshop.Example())
	return d
}

// seed gives the workshop its first data.
func (d *desk) seed(t testing.TB, data workshop.Data) {
	t.Helper()
	if err := queue.Seed(t.Context(), d.store, data); err != nil {
		t.Fatal(err)
	}
}

// specOnce reads the specification once for all tests, which only look at it.
var specOnce = sync.OnceValues(api.Spec)

// openEmpty starts a service whose workshop nobody has set up. It needs no key.
func openEmpty(t testing.TB, cfg api.Config) *desk {
	t.Helper()
	cfg.Keyless = true
	return start(t, cfg)
}

// start starts a service as it is configured.
func start(t testing.TB, cfg api.Config) *desk {
	t.Helper()
	return startOn(t, cfg, queue.Config{
		Interactive: 2, Batch: 2,
		Webhooks: webhook.Config{Private: true}, Tries: 3, TryAgain: []time.Duration{10 * time.Millisecond},
	})
}

// startOn starts a service on a queue as it is configured.
func startOn(t testing.TB, cfg api.Config, work queue.Config) *desk {
	t.Helper()
	ctx := context.Background()
	store := db.From(dbtest.New(t))
	list := jobs.NewList()
	metrics := prometheus.NewRegistry()
	work.Registry, work.Sharing = metrics, queue.SharingOf(list)
	queue, err := queue.New(store, list.Rows, work)
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
	cfg.Store, cfg.Jobs, cfg.List, cfg.Metrics, cfg.MaxBytes, cfg.Webhooks = store, queue, list, metrics, 1<<20, work.Webhooks
	if cfg.Log == nil {
		cfg.Log = slog.New(slog.DiscardHandler)
	}
	handler, err := api.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	spec, err := specOnce()
	if err != nil {
		t.Fatal(err)
	}
	router, err := gorillamux.NewRouter(spec)
	if err != nil {
		t.Fatal(err)
	}
	d := &desk{Server: httptest.NewServer(handler), store: store, queue: queue, spec: spec, router: router, seen: map[string]bool{}}
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
		if headers[i] == "Host" {
			req.Host = headers[i+1]
		}
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
	operation, err := d.violation(req, resp, body)
	if err != nil {
		t.Errorf("%s %s answers %d outside the specification: %v", req.Method, req.URL.Path, resp.StatusCode, err)
	}
	d.mu.Lock()
	d.seen[operation] = true
	d.mu.Unlock()
}

// violation holds an answer against the specification, and its body against
// its media type. It returns the operation, "" for what is not in the
// specification: the page with its parts, and what is refused.
func (d *desk) violation(req *http.Request, resp *http.Response, body []byte) (string, error) {
	kind, _, _ := mime.ParseMediaType(resp.Header.Get("Content-Type"))
	if err := errors.Join(wellFormed(kind, body), leaks(resp.StatusCode, body)); err != nil {
		return "", err
	}
	if resp.Header.Get("X-Request-Id") == "" {
		return "", errors.New("no request id")
	}
	asked := req.Clone(req.Context())
	if asked.Method == http.MethodHead {
		asked.Method = http.MethodGet
	}
	route, params, err := d.router.FindRoute(asked)
	if err != nil {
		return "", d.beside(resp, kind, body)
	}
	options := &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true}
	if req.Method == http.MethodHead {
		options.ExcludeResponseBody = true
	}
	err = openapi3filter.ValidateResponse(req.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: asked, PathParams: params, Route: route},
		Status:                 resp.StatusCode, Header: resp.Header, Body: io.NopCloser(bytes.NewReader(body)),
		Options: options,
	})
	return route.Operation.OperationID, err
}

// beside judges an answer to what is not in the specification.
func (d *desk) beside(resp *http.Response, kind string, body []byte) error {
	switch {
	case resp.StatusCode < 300:
		return nil // the page, and the parts of the reference
	case kind != "application/problem+json":
		return fmt.Errorf("an error of type %q", kind)
	}
	var problem any
	if err := json.Unmarshal(body, &problem); err != nil {
		return err
	}
	return d.spec.Components.Schemas["Problem"].Value.VisitJSON(problem)
}

// wellFormed says whether a body is what its media type promises.
func wellFormed(kind string, body []byte) error {
	ok := true
	switch kind {
	case "image/png":
		if len(body) > 0 { // none after HEAD
			_, err := png.Decode(bytes.NewReader(body))
			return err
		}
	case "image/svg+xml":
		for dec := xml.NewDecoder(bytes.NewReader(body)); ; {
			if _, err := dec.Token(); err == io.EOF {
				return nil
			} else if err != nil {
				return err
			}
		}
	case "application/pdf":
		ok = len(body) == 0 || bytes.HasPrefix(body, []byte("%PDF-")) && bytes.Contains(body, []byte("%%EOF"))
	case "image/vnd.dxf":
		ok = len(body) == 0 || bytes.HasSuffix(bytes.TrimSpace(body), []byte("EOF"))
	case "text/plain", "text/event-stream", "application/yaml", "text/html":
		ok = utf8.Valid(body)
	}
	if !ok {
		return fmt.Errorf("the body is no %s", kind)
	}
	return nil
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
