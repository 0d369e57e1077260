package dxf_test

import (
	"bytes"
	"context"
	"io"
	"maps"
	"testing"

	"knifedesk/geometry/drawing/dxf"
	"knifedesk/geometry/geometrytest/stop"
)

// TestStop cancels the reading of each bomb and of large drawings in the
// middle.
func TestStop(t *testing.T) {
	files := map[string]func() io.Reader{}
	for name, text := range bombs() {
		files[name] = func() io.Reader { return bytes.NewReader([]byte(text)) }
	}
	var drawing bytes.Buffer
	generate(&drawing, 20_000)
	files["generated"] = func() io.Reader { return bytes.NewReader(drawing.Bytes()) }
	maps.Copy(files, streams(50_000))
	for name, open := range files {
		t.Run(name, func(t *testing.T) {
			stop.Check(t, func(ctx context.Context) error {
				_, err := dxf.Read(ctx, open(), dxf.Options{})
				return err
			})
		})
	}
}
