// Package trace carries a caller's place in a distributed trace (W3C Trace Context,
// level 1) from the request that made a plan to the jobs of the queue, the logs and
// the messages that follow from it.
package trace

import (
	"context"
	"regexp"
	"strings"
)

// Parent is a traceparent header as it was sent; empty: there is none.
type Parent string

// form is version 00 of the header; later ones may carry more behind it.
var form = regexp.MustCompile(`^([0-9a-f]{2})-([0-9a-f]{32})-([0-9a-f]{16})-[0-9a-f]{2}(-.*)?$`)

// most bounds what a later version may carry behind the form.
const most = 128

// Read returns none for a header that has to be ignored: version ff, a zero id, or
// another form.
func Read(header string) Parent {
	m := form.FindStringSubmatch(header)
	if m == nil || m[1] == "ff" || m[1] == "00" && m[4] != "" || allZero(m[2]) || allZero(m[3]) || len(header) > most {
		return ""
	}
	return Parent(header)
}

func allZero(hex string) bool { return strings.Trim(hex, "0") == "" }

// Attrs are the trace and the caller's place in it for a line of a log, as
// slog.Logger.With takes them.
func (p Parent) Attrs() []any {
	m := form.FindStringSubmatch(string(p))
	if m == nil {
		return nil
	}
	return []any{"trace_id", m[2], "parent_id", m[3]}
}

type key struct{}

// With returns a context of a request that has a place in a trace.
func With(ctx context.Context, p Parent) context.Context { return context.WithValue(ctx, key{}, p) }

// Of returns the place that the context's request has.
func Of(ctx context.Context) Parent {
	p, _ := ctx.Value(key{}).(Parent)
	return p
}
