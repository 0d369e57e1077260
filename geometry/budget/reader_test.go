package budget_test

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"knifedesk/geometry/budget"
)

// endless is a source of zeroes.
type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

func TestReaderStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	err := budget.Run(ctx, func(b *budget.Budget) {
		src := budget.Reader(b, endless{})
		if _, err := io.CopyN(io.Discard, src, 1<<20); err != nil {
			t.Error(err)
		}
		cancel()
		_, _ = io.Copy(io.Discard, src)
		t.Error("an endless source came to an end")
	})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestReaderReadsAll(t *testing.T) {
	text := strings.Repeat("0123456789", 10_000)
	got, err := io.ReadAll(budget.Reader(nil, strings.NewReader(text)))
	if err != nil || string(got) != text {
		t.Errorf("%d bytes of %d, %v", len(got), len(text), err)
	}
}
