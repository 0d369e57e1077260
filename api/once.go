package api

import (
	"bytes"
	"crypto/sha256"
	"io"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
)

// claimStale is after how long a request that was never answered counts as
// dead, so that its key may be used again. It is longer than any request is
// held open.
const claimStale = 2 * time.Minute

// onceHeaders are those of an answer that a repeated request gets again.
var onceHeaders = []string{echo.HeaderContentType, echo.HeaderLocation, "Preference-Applied", "Vary"}

// once answers a POST with an Idempotency-Key a second time as it was answered
// first, without doing its work again.
func (a *API) once(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		key := c.Request().Header.Get("Idempotency-Key")
		if key == "" || c.Request().Method != http.MethodPost {
			return next(c)
		}
		claim, err := claimOf(c, key)
		if err != nil {
			return err
		}
		ctx := c.Request().Context()
		first, err := a.store.ClaimRequest(ctx, claim, claimStale)
		if err != nil {
			return err
		}
		if first != nil {
			return repeat(c, claim, first)
		}
		return a.record(c, claim, next)
	}
}

// claimOf reads the body, so that its sum can be compared, and puts it back.
func claimOf(c echo.Context, key string) (db.Claim, error) {
	r := c.Request()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return db.Claim{}, err
	}
	r.Body = io.NopCloser(bytes.NewReader(body))
	h := sha256.New()
	io.WriteString(h, r.Method+" "+r.URL.RequestURI()+" "+r.Header.Get(echo.HeaderContentType)+"\n")
	h.Write(body)
	return db.Claim{Client: clientOf(c), Key: key, RequestHash: h.Sum(nil)}, nil
}

func repeat(c echo.Context, claim db.Claim, first *db.Answered) error {
	if !bytes.Equal(first.RequestHash, claim.RequestHash) {
		return &failure{
			status: http.StatusUnprocessableEntity, code: "key_reused", field: "Idempotency-Key",
			detail: "This Idempotency-Key was used for another request.", change: "Take a new key for a new request.",
		}
	}
	if first.Status == nil {
		return &failure{
			status: http.StatusConflict, code: "still_working",
			detail: "The first request with this key is not answered yet.", change: "Send it again in a moment.",
		}
	}
	for name, value := range first.Headers {
		c.Response().Header().Set(name, value)
	}
	return c.Blob(*first.Status, first.Headers[echo.HeaderContentType], first.Body)
}

// record runs the request and keeps its answer. A fault on our side is not
// kept, so that the request may be tried again.
func (a *API) record(c echo.Context, claim db.Claim, next echo.HandlerFunc) error {
	tee := &teeWriter{ResponseWriter: c.Response().Writer}
	c.Response().Writer = tee
	err := next(c)
	if err != nil {
		c.Error(err)
	}
	ctx := c.Request().Context()
	status := c.Response().Status
	if status >= 500 {
		return a.store.ReleaseRequest(ctx, claim)
	}
	headers := map[string]string{}
	for _, name := range onceHeaders {
		if v := c.Response().Header().Get(name); v != "" {
			headers[name] = v
		}
	}
	return a.store.AnswerRequest(ctx, claim, status, headers, tee.body.Bytes())
}

// teeWriter keeps a copy of what is sent.
type teeWriter struct {
	http.ResponseWriter
	body bytes.Buffer
}

func (t *teeWriter) Write(b []byte) (int, error) {
	t.body.Write(b)
	return t.ResponseWriter.Write(b)
}

// Unwrap lets http.ResponseController reach the writer beneath.
func (t *teeWriter) Unwrap() http.ResponseWriter { return t.ResponseWriter }
