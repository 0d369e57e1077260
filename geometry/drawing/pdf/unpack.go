package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/ascii85"
	"errors"
	"fmt"
	"io"

	"knifedesk/geometry/budget"

	"github.com/pdfcpu/pdfcpu/pkg/filter"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// errNoStream says that an object is no stream.
var errNoStream = errors.New("not a stream")

// stream returns a stream's dictionary and its unpacked bytes: all of them, or
// with an error those before the fault.
func (f *file) stream(o types.Object) (types.Dict, []byte, error) {
	sd, is := f.get(o).(types.StreamDict)
	if !is {
		return nil, nil, errNoStream
	}
	if known, seen := f.decoded[id(o)]; seen && id(o) != 0 {
		return sd.Dict, known, nil
	}
	data, err := f.unpack(&sd)
	f.left -= len(data)
	if err == nil {
		f.decoded[id(o)] = data
	}
	return sd.Dict, data, err
}

// unpack undoes the filters of a stream, one after the other (7.4). A fault in
// any but the last leaves nothing.
func (f *file) unpack(sd *types.StreamDict) (data []byte, err error) {
	data = sd.Raw
	for _, by := range sd.FilterPipeline {
		if err != nil {
			return nil, err
		}
		if data, err = f.unfilter(by, data); len(data) > f.left {
			break
		}
	}
	if len(data) > f.left {
		return nil, &limitError{limitDecoded, f.limits.Decoded}
	}
	return data, err
}

// unfilter undoes one filter. What it gives is not much longer than the bytes
// that are left.
func (f *file) unfilter(by types.PDFFilter, data []byte) ([]byte, error) {
	switch by.Name {
	case filter.Flate:
		if by.DecodeParms == nil {
			return f.inflate(data)
		}
		return f.library(by, data)
	case filter.LZW:
		return f.library(by, data)
	case filter.RunLength:
		return f.runLengths(data)
	case filter.ASCIIHex:
		l := lexer{b: f.steps, data: data, pos: -1}
		return l.hex(), nil
	case filter.ASCII85:
		return f.base85(data)
	}
	return nil, fmt.Errorf("%w: filter %s", ErrUnsupported, by.Name)
}

// inflate undoes the usual filter. Of damaged data it returns what comes before
// the fault, which the library would not tell from a whole one. A wrong checksum
// at the end of whole data is no fault: many programs write one.
func (f *file) inflate(data []byte) ([]byte, error) {
	z, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	data, err = f.readAll(z)
	if errors.Is(err, zlib.ErrChecksum) {
		err = nil
	}
	return data, err
}

// readAll reads up to one byte more than is left.
func (f *file) readAll(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(budget.Reader(f.steps, r), int64(f.left)+1))
}

// errNoEnd says that packed data ends without its mark.
var errNoEnd = errors.New("the packed data has no end")

// base85 undoes ASCII85Decode (7.4.3).
func (f *file) base85(data []byte) ([]byte, error) {
	end := bytes.IndexByte(data, '~')
	if end < 0 {
		end = len(data)
	}
	out, err := f.readAll(ascii85.NewDecoder(bytes.NewReader(data[:end])))
	if err == nil && end == len(data) {
		err = errNoEnd
	}
	return out, err
}

// runLengths undoes RunLengthDecode (7.4.5): after a length below 128 come as
// many bytes and one more, after a higher one a byte that stands 257 less the
// length times.
func (f *file) runLengths(data []byte) (out []byte, err error) {
	const end = 128
	for len(data) > 1 && data[0] != end && len(out) <= f.left {
		f.steps.Step()
		n := int(data[0])
		if n > end {
			out = append(out, bytes.Repeat(data[1:2], 257-n)...)
			data = data[2:]
			continue
		}
		if n += 2; n > len(data) {
			return append(out, data[1:]...), errNoEnd
		}
		out = append(out, data[1:n]...)
		data = data[n:]
	}
	return out, nil
}

// library undoes a filter that has parameters, by the structure library. Its
// panics, those of a stop among them, become an error: the next look at the
// context ends the reading all the same.
func (f *file) library(by types.PDFFilter, data []byte) (out []byte, err error) {
	defer rescue(&err)
	values := map[string]int{}
	for key, v := range by.DecodeParms {
		switch v := v.(type) {
		case types.Integer:
			values[key] = int(v)
		case types.Boolean:
			if v {
				values[key] = 1
			}
		}
	}
	undo, err := filter.NewFilter(by.Name, values, int64(f.left))
	if err != nil {
		return nil, err
	}
	r, err := undo.Decode(&morsels{f.steps, data})
	if errors.Is(err, filter.ErrDecodeLimitExceeded) {
		return nil, &limitError{limitDecoded, f.limits.Decoded}
	}
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}

// morsels reads data in pieces so small that what they unpack to takes no time,
// and looks at the context before each.
type morsels struct {
	b    *budget.Budget
	data []byte
}

func (m *morsels) Read(p []byte) (int, error) {
	const morsel, steps = 256, 1 << 12 // bytes; a byte unpacks to a thousand at most
	m.b.Spend(steps)
	if len(m.data) == 0 {
		return 0, io.EOF
	}
	n := copy(p[:min(len(p), morsel)], m.data)
	m.data = m.data[n:]
	return n, nil
}
