package budget

import "io"

// Reader returns a reader of r that takes steps as it is read, so that what is
// made of the bytes can be stopped inside libraries that know no budget.
func Reader(b *Budget, r io.Reader) io.Reader { return &reader{b, r} }

type reader struct {
	b   *Budget
	src io.Reader
}

const (
	perStep = 64       // bytes: to unpack them takes a fraction of a microsecond
	atOnce  = 32 << 10 // bytes: no more are read between two looks at the context
)

func (r *reader) Read(p []byte) (int, error) {
	n, err := r.src.Read(p[:min(len(p), atOnce)])
	r.b.Spend(1 + n/perStep)
	return n, err
}
