package api

import (
	"strconv"
	"strings"
	"time"
)

// maxWait bounds how many seconds a request is held open for a plan to settle.
const maxWait = 60

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
