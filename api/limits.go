package api

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
)

// bodiesAtATime is how many bodies of the greatest size may be in memory at a
// time. What is not sent yet does not count, so a slow sender holds nothing.
const bodiesAtATime = 4

// limitBody makes reading past the limit an *http.MaxBytesError, and turns
// requests away while all bodies in memory together are too large.
func limitBody(limit int64) echo.MiddlewareFunc {
	var held atomic.Int64
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			r := c.Request()
			body := &countedBody{ReadCloser: http.MaxBytesReader(c.Response().Writer, r.Body, limit), held: &held, most: bodiesAtATime * limit, answer: c.Response().Header()}
			defer body.release()
			r.Body = body
			return next(c)
		}
	}
}

// countedBody adds what is read of it to what all bodies hold.
type countedBody struct {
	io.ReadCloser
	held   *atomic.Int64
	mine   int64
	most   int64
	answer http.Header // of the answer to the request
}

// errBody says that a body did not come in as it was announced.
var errBody = errors.New("api: body")

// Read fails where all bodies together would hold too much. The connection then
// ends with the answer: else the server would wait for the last of the body first.
func (b *countedBody) Read(p []byte) (int, error) {
	n, err := b.ReadCloser.Read(p)
	var tooLarge *http.MaxBytesError
	if err != nil && err != io.EOF && !errors.As(err, &tooLarge) {
		err = fmt.Errorf("%w: %w", errBody, err)
	}
	b.mine += int64(n)
	if b.held.Add(int64(n)) > b.most {
		b.answer.Set(echo.HeaderConnection, "close")
		return 0, busy("The service is taking in as many large files as it can hold.")
	}
	return n, err
}

func (b *countedBody) release() { b.held.Add(-b.mine) }

// busy asks the caller to come again.
func busy(detail string) error {
	return &failure{status: http.StatusServiceUnavailable, code: "busy", detail: detail, change: "Send it again in a moment.", retry: 2 * time.Second}
}

// turnWait is how long a request waits for its turn.
const turnWait = 20 * time.Second

// turns bounds how much work that costs processor time is done at once, so that
// light requests are still answered at once.
type turns chan struct{}

func newTurns(n int) turns { return make(turns, n) }

// take waits for a turn and returns how to give it back.
func (t turns) take(ctx context.Context) (func(), error) {
	ctx, cancel := context.WithTimeout(ctx, turnWait)
	defer cancel()
	select {
	case t <- struct{}{}:
		return func() { <-t }, nil
	case <-ctx.Done():
		if errors.Is(ctx.Err(), context.DeadlineExceeded) {
			return nil, busy("Many pictures and files are being made at the moment.")
		}
		return nil, ctx.Err()
	}
}

// inTurn does work that costs processor time. What it makes is to be sent
// afterwards, so that a slow reader holds no turn.
func (t turns) inTurn(ctx context.Context, work func() error) error {
	done, err := t.take(ctx)
	if err != nil {
		return err
	}
	defer done()
	return work()
}
