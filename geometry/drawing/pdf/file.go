package pdf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// file gives access to the objects of a PDF file. References are followed,
// streams unpacked within the limits, and whatever is not of the kind asked
// for counts as missing, as ISO 32000 has readers do.
type file struct {
	steps   *budget.Budget
	doc     *model.Context
	limits  Limits
	left    int            // bytes that streams may still unpack to
	decoded map[int][]byte // streams by object number, once unpacked
}

// openFile reads the structure of a file and opens it where its user password
// is empty. Its objects are looked for from the front, since its own table of
// them may be wrong; filters that nobody knows are left out once, as the page
// may not need them. ctx is that of b.
func openFile(ctx context.Context, b *budget.Budget, data []byte, limits Limits, notes *drawing.Notes) (*file, error) {
	s := scanFile(b, data[max(bytes.Index(data, []byte("%PDF-")), 0):])
	r, err := s.rebuild(limits)
	if err != nil {
		return nil, err
	}
	if r.locked && r.streams > 0 { // what its object streams hold can only be listed once they are open
		r.at, r.data = -1, s.data
	}
	f, err := tryFile(ctx, r, r.data, limits)
	if err != nil && !errors.Is(err, ErrEncrypted) && ctx.Err() == nil {
		if g, again := tryFile(ctx, r, withoutStrangeFilters(b, r.data), limits); again == nil {
			f, err = g, nil
		}
	}
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	if err != nil {
		return nil, err
	}
	s.say(notes)
	f.steps = b
	return f, nil
}

func tryFile(ctx context.Context, r *rebuilt, data []byte, limits Limits) (f *file, err error) {
	defer rescue(&err)
	conf := &model.Configuration{
		Reader15:       true,
		ValidationMode: model.ValidationRelaxed,
		Limits: model.ResourceLimits{
			MaxStreamBytes:       int64(limits.Bytes),
			MaxDecodeBytes:       int64(max(limits.Decoded/max(r.streams, 1), 1<<16)), // all object streams are kept unpacked
			MaxImagePixels:       1,
			MaxImageBytes:        1,
			MaxObjectCount:       limits.Objects,
			MaxObjectStreamCount: limits.Objects,
			MaxObjectStreamFirst: int64(limits.Decoded),
			MaxXRefEntries:       limits.Objects,
			MaxRecursionDepth:    limits.Depth,
		},
	}
	doc, err := pdfcpu.ReadWithContext(ctx, &watched{Reader: bytes.NewReader(data), ctx: ctx, table: int64(r.at)}, conf)
	if err != nil {
		return nil, &ParseError{Err: classify(err)}
	}
	return &file{doc: doc, limits: limits, left: limits.Decoded, decoded: map[int][]byte{}}, nil
}

// watched is a rebuilt file as the structure library reads it. It cannot be read
// any more once ctx has ended, since the library does not look at its context
// everywhere; nor from the front once the table has been read, where the library
// would make a table of its own by another reading of the lines.
type watched struct {
	*bytes.Reader
	ctx   context.Context
	table int64 // where the table stands
	past  bool  // it has been read
}

func (w *watched) Read(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.Reader.Read(p)
}

func (w *watched) Seek(offset int64, whence int) (int64, error) {
	if w.past && offset == 0 && whence == io.SeekStart {
		return 0, ErrBroken
	}
	w.past = w.past || offset == w.table && whence == io.SeekStart
	return w.Reader.Seek(offset, whence)
}

// classify tells a locked file from a broken one.
func classify(err error) error {
	text := err.Error()
	switch {
	case errors.Is(err, pdfcpu.ErrWrongPassword), strings.Contains(text, "password"):
		return fmt.Errorf("%w: %w", ErrEncrypted, err)
	case strings.Contains(text, "encrypt"), strings.Contains(text, "unsupported"):
		return fmt.Errorf("%w: %w", ErrUnsupported, err)
	}
	return fmt.Errorf("%w: %w", ErrBroken, err)
}

// rescue turns a panic of the structure library, which some broken files
// cause, into an error.
func rescue(err *error) {
	if p := recover(); p != nil {
		*err = &ParseError{Err: fmt.Errorf("%w: %v", ErrBroken, p)}
	}
}

// get follows references until there is a plain object; nil for none.
func (f *file) get(o types.Object) (found types.Object) {
	defer func() {
		if recover() != nil { // as in rescue
			found = nil
		}
	}()
	found, err := f.doc.Dereference(o)
	if err != nil {
		return nil
	}
	return found
}

// dict returns o as a dictionary, that of a stream included; nil for anything
// else.
func (f *file) dict(o types.Object) types.Dict {
	switch d := f.get(o).(type) {
	case types.Dict:
		return d
	case types.StreamDict:
		return d.Dict
	}
	return nil
}

func (f *file) array(o types.Object) types.Array {
	a, _ := f.get(o).(types.Array)
	return a
}

func (f *file) name(o types.Object) string {
	n, _ := f.get(o).(types.Name)
	return string(n)
}

func (f *file) number(o types.Object) (float64, bool) {
	switch v := f.get(o).(type) {
	case types.Integer:
		return float64(v), true
	case types.Float: // the structure library takes nan and inf for numbers
		return float64(v), math.Abs(float64(v)) <= math.MaxFloat64
	}
	return 0, false
}

// numbers returns an array of numbers; what is none counts as 0.
func (f *file) numbers(o types.Object) []float64 {
	a := f.array(o)
	v := make([]float64, len(a))
	for i := range a {
		f.steps.Step()
		v[i], _ = f.number(a[i])
	}
	return v
}

// text returns a text string (7.9.2.2).
func (f *file) text(o types.Object) string {
	s, err := model.Text(f.get(o))
	if err != nil {
		return ""
	}
	return s
}

// id returns the object number of a reference, 0 for a direct object.
func id(o types.Object) int {
	if ref, ok := o.(types.IndirectRef); ok {
		return int(ref.ObjectNumber)
	}
	return 0
}
