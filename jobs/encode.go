package jobs

import (
	"bytes"
	"context"
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	jsonv1 "github.com/go-json-experiment/json/v1"
)

// Results can be large, so that they are written and read in pieces, with a look
// at the context at each: encoding/json does either in one go.

// encodeJSON returns v as encoding/json would write it, but for HTML, which is
// not escaped.
func encodeJSON(ctx context.Context, v any) ([]byte, error) {
	var out bytes.Buffer
	err := json.MarshalWrite(&stopWriter{ctx, &out}, v, jsonv1.DefaultOptionsV1(), jsontext.EscapeForHTML(false), jsontext.EscapeForJS(false))
	if err != nil {
		return nil, cause(ctx, err)
	}
	return out.Bytes(), nil
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

type stopWriter struct {
	ctx context.Context
	to  io.Writer
}

func (w *stopWriter) Write(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.to.Write(p)
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
