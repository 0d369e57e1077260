package api

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"log/slog"
	"mime"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

const (
	// claimStale is after how long a request that neither was answered nor made
	// anything counts as dead, so that its key may be used again.
	claimStale = 30 * time.Second
	// claimWait is how long a repeated request waits for the answer of the first.
	claimWait = 5 * time.Second
	// claimKeep is how long an answer may take to be kept once the request ended.
	claimKeep = 10 * time.Second
)

// claimed is the name under which the context of a request holds its claim.
const claimed = "claim"

// keptHeaders are those of an answer that a repeated request gets again.
func keptHeaders() []string {
	return []string{echo.HeaderContentType, echo.HeaderLocation, "Preference-Applied", "Vary"}
}

// replays answers repeated requests.
type replays struct {
	store     *db.DB
	log       *slog.Logger
	sendAgain func(c echo.Context, location string) error
}

func newReplays(h handlers) replays {
	return replays{store: h.plans.store, log: h.plans.log, sendAgain: h.sendAgain}
}

// once answers a POST with an Idempotency-Key a second time as it was answered
// first, without doing its work again. What a request makes is noted in the
// transaction that makes it: after a crash, or where the client hung up, the
// same request finds it. The answer is kept before it is sent, so that of two
// at the same time both get the same.
func (r replays) once(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		key := c.Request().Header.Get("Idempotency-Key")
		if key == "" || c.Request().Method != http.MethodPost || answersSecret(c) {
			return next(c)
		}
		if err := checkText("Idempotency-Key", key); err != nil {
			return err
		}
		claim, err := claimOf(c, key)
		if err != nil {
			return err
		}
		first, err := r.claim(c.Request().Context(), claim)
		switch {
		case err != nil:
			return err
		case first == nil:
			c.Set(claimed, claim)
			return r.record(c, claim, next)
		case !bytes.Equal(first.RequestHash, claim.RequestHash):
			return &failure{
				status: http.StatusUnprocessableEntity, code: "key_reused", field: "Idempotency-Key",
				detail: "This Idempotency-Key was used for another request.", change: "Take a new key for a new request.",
			}
		case first.Status != nil:
			return repeat(c, first)
		}
		return r.record(c, claim, func(c echo.Context) error { return r.sendAgain(c, first.Headers[echo.HeaderLocation]) })
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
	return db.Claim{Client: claimantOf(c), Key: key, RequestHash: sumOf(r, body)}, nil
}

// sumOf returns a sum of a request. The boundary of a form does not count: a
// client picks a new one each time that it sends the same form.
func sumOf(r *http.Request, body []byte) []byte {
	kind, params, _ := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	h := sha256.New()
	io.WriteString(h, r.Method+" "+r.URL.RequestURI()+" "+kind+"\n")
	boundary := []byte(params["boundary"])
	for len(boundary) > 0 {
		before, after, found := bytes.Cut(body, boundary)
		if !found {
			break
		}
		h.Write(before)
		h.Write([]byte{0})
		body = after
	}
	h.Write(body)
	return h.Sum(nil)
}

// claim takes the key, or waits until the first request with it has made or
// answered something.
func (r replays) claim(ctx context.Context, claim db.Claim) (*db.Answered, error) {
	ctx, cancel := context.WithTimeout(ctx, claimWait)
	defer cancel()
	for pause := 20 * time.Millisecond; ; pause = min(2*pause, 500*time.Millisecond) {
		first, err := r.store.ClaimRequest(ctx, claim, claimStale)
		if err != nil && ctx.Err() == nil {
			return nil, err
		}
		if err == nil && (first == nil || first.Status != nil || first.Headers != nil || !bytes.Equal(first.RequestHash, claim.RequestHash)) {
			return first, nil
		}
		select {
		case <-ctx.Done():
			return nil, &failure{
				status: http.StatusConflict, code: "still_working", retry: claimWait,
				detail: "The first request with this key is not answered yet.", change: "Send it again in a moment.",
			}
		case <-time.After(pause):
		}
	}
}

// noteMade notes the location of what the transaction makes with the request's
// key, where it has one.
func noteMade(c echo.Context, tx db.Tx, location string) error {
	claim, ok := c.Get(claimed).(db.Claim)
	if !ok {
		return nil
	}
	err := tx.NoteRequest(c.Request().Context(), claim, map[string]string{echo.HeaderLocation: location})
	if errors.Is(err, db.ErrNotFound) { // it was taken for dead, and another request has the key now
		return &failure{
			status: http.StatusConflict, code: "still_working", retry: claimWait,
			detail: "Another request with this key is being answered.", change: "Send it again in a moment.",
		}
	}
	return err
}

// sendAgain answers like the request that made what is at the location.
func (h handlers) sendAgain(c echo.Context, location string) error {
	kind := plansPath
	if strings.HasPrefix(location, classPath) {
		return h.classAgain(c, location)
	}
	for _, other := range []string{drawingsPath, ledgerPath, trialsPath} {
		if strings.HasPrefix(location, other) {
			kind = other
		}
	}
	name, accepted := strings.CutSuffix(location, acceptancePart)
	name, told := strings.CutSuffix(name, measuredPart)
	id, err := uuid.Parse(strings.TrimPrefix(name, kind))
	switch {
	case err != nil:
		return err
	case accepted:
		return h.storeroom.acceptedAgain(c, id, location)
	case told:
		return h.storeroom.measuredAgain(c, id, location)
	case kind == drawingsPath:
		return h.drawings.sendNew(c, id)
	case kind == ledgerPath:
		return h.storeroom.sendPosted(c, id)
	case kind == trialsPath:
		return h.bench.sendReported(c, id)
	}
	c.Response().Header().Set(echo.HeaderLocation, location)
	wait, leave, err := h.plans.heldOpen(c, c.Request().Header.Get("Prefer"))
	if err != nil {
		return err
	}
	defer leave()
	return h.plans.settle(c, id, plan.Queued, wait)
}

func repeat(c echo.Context, first *db.Answered) error {
	for name, value := range first.Headers {
		c.Response().Header().Set(name, value)
	}
	return c.Blob(*first.Status, first.Headers[echo.HeaderContentType], first.Body)
}

// record runs the request, keeps its answer and sends it. A fault on our side
// is not kept, so that the request may be tried again.
func (r replays) record(c echo.Context, claim db.Claim, next echo.HandlerFunc) error {
	out := c.Response().Writer
	held := hold(c, out.Header(), next)
	ctx, cancel := context.WithTimeout(context.WithoutCancel(c.Request().Context()), claimKeep)
	defer cancel()
	if err := r.keep(ctx, c, claim, held); err != nil {
		r.log.ErrorContext(ctx, "answer not kept", "error", err)
	}
	out.WriteHeader(held.status)
	_, err := out.Write(held.body.Bytes())
	return err
}

// hold runs the request and returns its answer instead of sending it.
func hold(c echo.Context, header http.Header, next echo.HandlerFunc) *heldAnswer {
	held := &heldAnswer{header: header}
	defer func(out http.ResponseWriter) { c.Response().Writer = out }(c.Response().Writer) // also where it panics
	c.Response().Writer = held
	if err := next(c); err != nil {
		c.Error(err)
	}
	return held
}

// keep stores the answer, unless the same request may be answered otherwise soon. Where another request with the key was quicker its
// answer takes the place of the held one.
func (r replays) keep(ctx context.Context, c echo.Context, claim db.Claim, held *heldAnswer) error {
	gone := c.Request().Context().Err() != nil // so the answer tells of that, and not of the request
	passing := held.status >= 500 || held.status == http.StatusConflict || held.status == http.StatusTooManyRequests
	if passing || gone && held.status >= 400 {
		return r.store.ReleaseRequest(ctx, claim)
	}
	headers := map[string]string{}
	for _, name := range keptHeaders() {
		if v := held.header.Get(name); v != "" {
			headers[name] = v
		}
	}
	err := r.store.AnswerRequest(ctx, claim, held.status, headers, held.body.Bytes())
	if !errors.Is(err, db.ErrNotFound) {
		return err
	}
	first, err := r.store.ClaimRequest(ctx, claim, claimStale)
	if err != nil || first == nil || first.Status == nil {
		return err
	}
	held.status = *first.Status
	held.body = *bytes.NewBuffer(first.Body)
	for name, value := range first.Headers {
		held.header.Set(name, value)
	}
	return nil
}

// heldAnswer holds an answer back until it is kept.
type heldAnswer struct {
	header http.Header
	status int
	body   bytes.Buffer
}

// Header returns the header of the answer.
func (h *heldAnswer) Header() http.Header { return h.header }

// WriteHeader notes the status.
func (h *heldAnswer) WriteHeader(status int) { h.status = status }

// Write adds to the body.
func (h *heldAnswer) Write(b []byte) (int, error) { return h.body.Write(b) }
