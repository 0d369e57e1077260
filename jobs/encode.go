package jobs

import (
	"bytes"
	"context"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	jsonv1 "github.com/go-json-experiment/json/v1"
)

// Results can be large, so that they are written and read in pieces, with a look
// at the context at each: encoding/json does either in one go.

// encodeJSON returns v as encoding/json would write it, but for HTML, which is
// not escaped.
func encodeJSON(ctx context.Context, v any) ([]byte, error) {
	out := stopWriter{ctx: ctx}
	err := json.MarshalWrite(&out, v, jsonv1.DefaultOptionsV1(), jsontext.EscapeForHTML(false), jsontext.EscapeForJS(false))
	if err != nil {
		return nil, cause(ctx, err)
	}
	return out.whole(), nil
}

// decodeJSON reads into v what encodeJSON wrote.
func decodeJSON(ctx context.Context, text []byte, v any) error {
	return cause(ctx, json.UnmarshalRead(&stopReader{ctx, bytes.NewReader(text)}, v, jsonv1.DefaultOptionsV1()))
}

// cause prefers the reason why ctx ended to what came of it.
func cause(ctx context.Context, err error) error {
	if err != nil && ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return err
}

// stopWriter keeps what is written in parts, which are joined once: one buffer that grows
// takes three times the room of a large result.
type stopWriter struct {
	ctx   context.Context
	parts [][]byte
	size  int
}

// largestPart bounds the room of a part beyond what is written at once, in bytes.
const largestPart = 1 << 20

func (w *stopWriter) Write(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n := len(p)
	if last := len(w.parts) - 1; last >= 0 {
		part := w.parts[last]
		fits := min(n, cap(part)-len(part))
		w.parts[last], p = append(part, p[:fits]...), p[fits:]
	}
	if len(p) > 0 {
		room := max(len(p), min(w.size, largestPart))
		w.parts = append(w.parts, append(make([]byte, 0, room), p...))
	}
	w.size += n
	return n, nil
}

// whole returns all that was written.
func (w *stopWriter) whole() []byte {
	if len(w.parts) == 1 {
		return w.parts[0]
	}
	return bytes.Join(w.parts, nil)
}

type stopReader struct {
	ctx  context.Context
	from *bytes.Reader
}

// piece bounds what is read between two looks at the context, in bytes.
const piece = 1 << 16

func (r *stopReader) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.from.Read(p[:min(len(p), piece)])
}
