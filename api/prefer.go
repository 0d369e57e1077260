package api

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
)

// maxWait bounds how many seconds a request is held open for a plan to settle.
const maxWait = 60

// heldOpen takes a seat for a request that its Prefer header has held open until
// the plan settles, before the request does anything: one that is refused has done
// nothing. What it returns beside the time is called once, at the end.
func (p plans) heldOpen(c echo.Context, prefer string) (wait time.Duration, leave func(), err error) {
	if wait = preferWait(prefer); wait == 0 {
		return 0, func() {}, nil
	}
	leave, err = p.waiting.take(ownerOf(c))
	return wait, leave, err
}

// preferenceApplied says that a request waited (RFC 7240, 3).
func preferenceApplied(wait time.Duration) string { return fmt.Sprintf("wait=%d", int(wait.Seconds())) }

// preferWait reads wait=N from a Prefer header (RFC 7240), 0 where it is
// missing or not a number.
func preferWait(header string) time.Duration {
	for _, part := range strings.FieldsFunc(header, func(r rune) bool { return r == ',' || r == ';' }) {
		name, value, ok := strings.Cut(strings.TrimSpace(part), "=")
		if !ok || !strings.EqualFold(strings.TrimSpace(name), "wait") {
			continue
		}
		n, err := strconv.Atoi(strings.Trim(strings.TrimSpace(value), `"`))
		if err == nil && n > 0 {
			return time.Duration(min(n, maxWait)) * time.Second
		}
	}
	return 0
}
