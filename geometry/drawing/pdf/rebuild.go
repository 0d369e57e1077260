package pdf

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"maps"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// entry is a row of a cross-reference stream (7.5.8.3): an object in the file
// by offset and generation, or in an object stream by its number and place.
type entry struct {
	kind byte
	a, b int
}

// The kinds of entry.
const (
	inFile   = 1
	inStream = 2
)

// rebuilt is a file with a new table of its objects behind the old one.
type rebuilt struct {
	*scan
	data     []byte
	table    map[int]entry
	at       int // where the new table stands
	streams  int // object streams
	unpacked int // bytes that they unpack to
	locked   bool
}

// rebuild appends to a file a table made from its objects, the last of each
// number, and whole copies of those that are broken: with the length that their
// stream has, and the keyword that ends them. Nothing else is moved.
func (s *scan) rebuild(limits Limits) (*rebuilt, error) {
	r := &rebuilt{scan: s, data: s.data, table: map[int]entry{}}
	r.data = append(r.data, '\n')
	_, r.locked = s.trailerValue("Encrypt")
	for i := range s.objects {
		s.b.Step()
		o := &s.objects[i]
		switch string(s.first(o.dict, "Type").text) {
		case "XRef":
			continue
		case "ObjStm":
			r.streams++
			if !r.locked && o.stream && !r.listStream(o, limits) {
				s.large = true
				continue
			}
		}
		r.table[o.number] = entry{inFile, o.from, o.generation}
	}
	if r.unpacked > limits.Decoded {
		return nil, &limitError{limitDecoded, limits.Decoded}
	}
	if s.values > maxAllValues {
		return nil, &limitError{limitAll, maxAllValues}
	}
	if len(r.table) > limits.Objects {
		return nil, &limitError{limitObjects, limits.Objects}
	}
	for i := range s.objects {
		s.b.Step()
		if o := &s.objects[i]; !o.sound && r.table[o.number] == (entry{inFile, o.from, o.generation}) {
			r.copyObject(o)
		}
	}
	root := s.root()
	if len(r.table) == 0 || root == nil {
		return nil, &ParseError{Err: fmt.Errorf("%w: no catalogue", ErrBroken)}
	}
	r.writeTable(root, limits.Objects-2)
	return r, nil
}

// copyObject appends a broken object as it ought to be.
func (r *rebuilt) copyObject(o *found) {
	r.table[o.number] = entry{inFile, len(r.data), o.generation}
	r.data = fmt.Appendf(r.data, "%d %d obj\n", o.number, o.generation)
	if !o.stream {
		r.data = append(r.data, r.scan.data[o.body.from:o.body.to]...)
		r.data = append(r.data, "\nendobj\n"...)
		return
	}
	length, has := o.dict["Length"]
	body := r.scan.data[o.body.from:o.body.to]
	if !has {
		at := bytes.Index(body, []byte("<<")) + len("<<") // a stream follows a dictionary
		length = span{o.body.from + at, o.body.from + at}
		r.data = append(append(r.data, body[:at]...), "/Length"...)
	} else {
		r.data = append(r.data, r.scan.data[o.body.from:length.from]...)
	}
	r.data = fmt.Appendf(r.data, " %d ", o.data.to-o.data.from)
	r.data = append(r.data, r.scan.data[length.to:o.body.to]...)
	r.data = append(r.data, "stream\n"...)
	r.data = append(r.data, r.scan.data[o.data.from:o.data.to]...)
	r.data = append(r.data, "\nendstream\nendobj\n"...)
}

// listStream enters the objects of an object stream (7.5.7). They stand in the
// order of their offsets; one that does not is left out, so that no part of the
// stream counts twice. It reports whether the library can read the stream: one
// with too many values cannot be stopped, and is left out whole.
func (r *rebuilt) listStream(o *found, limits Limits) bool {
	n, first := r.integer(o.dict, "N"), r.integer(o.dict, "First")
	if n < 0 || first < 0 {
		return true
	}
	data := r.head(o, max(0, limits.Decoded+1-r.unpacked))
	r.unpacked += len(data)
	values := 0
	for l := (lexer{b: r.b, data: data[min(first, len(data)):]}); l.next().kind != endOfContent && values <= maxValues; {
		values++
	}
	r.values += values
	if values > maxValues {
		return false
	}
	l := lexer{b: r.b, data: data[:min(first, len(data))]}
	last := -1
	for i := range n {
		number, offset := l.next(), l.next()
		if number.kind != aNumber || offset.kind != aNumber {
			break
		}
		if at := int(offset.number); at > last {
			r.table[int(number.number)] = entry{inStream, o.number, i}
			last = at
		}
	}
	return true
}

// head returns the first bytes of an object stream, unpacked.
func (r *rebuilt) head(o *found, n int) []byte {
	raw := r.scan.data[o.data.from:o.data.to]
	if _, packed := o.dict["Filter"]; !packed {
		return raw[:min(n, len(raw))]
	}
	z, err := zlib.NewReader(bytes.NewReader(raw))
	if err != nil {
		return nil
	}
	head, _ := io.ReadAll(io.LimitReader(budget.Reader(r.b, z), int64(n))) // what comes before a fault counts
	return head
}

// trailerValue returns a value of the trailer (7.5.5): the last that is there,
// in the trailers or in the dictionaries of cross-reference streams.
func (s *scan) trailerValue(key string) ([]byte, bool) {
	var last span
	for i := range s.objects {
		if o := &s.objects[i]; s.first(o.dict, "Type").text == "XRef" {
			last = max2(last, o.dict[key])
		}
	}
	for _, t := range s.trailers {
		last = max2(last, t[key])
	}
	return s.data[last.from:last.to], last.to > 0
}

func max2(a, b span) span {
	if b.to > a.to {
		return b
	}
	return a
}

// root returns the reference to the catalogue: by a trailer, or else the last
// object that says it is one.
func (s *scan) root() []byte {
	if v, ok := s.trailerValue("Root"); ok {
		return v
	}
	for _, o := range slices.Backward(s.objects) {
		if s.first(o.dict, "Type").text == "Catalog" {
			return fmt.Appendf(nil, " %d %d R", o.number, o.generation)
		}
	}
	return nil
}

// writeTable appends a cross-reference stream (7.5.8) and what leads to it.
// Numbers beyond the highest allowed are left out, as if they were not there.
func (r *rebuilt) writeTable(root []byte, highest int) {
	numbers := slices.Sorted(maps.Keys(r.table))
	end, _ := slices.BinarySearch(numbers, highest+1)
	numbers = numbers[:end]
	r.at = len(r.data)
	own := 1
	if n := len(numbers); n > 0 {
		own += numbers[n-1]
	}
	r.data = fmt.Appendf(r.data, "%d 0 obj\n<</Type/XRef/W[1 8 4]/Size %d/Length %d/Root%s", own, own+1, 13*len(numbers), root)
	for _, key := range []string{"Encrypt", "ID"} {
		if v, ok := r.trailerValue(key); ok {
			r.data = append(append(append(r.data, '/'), key...), v...)
		}
	}
	r.data = append(r.data, "/Index["...)
	for i := 0; i < len(numbers); {
		n := 1
		for i+n < len(numbers) && numbers[i+n] == numbers[i]+n {
			n++
		}
		r.data = fmt.Appendf(r.data, "%d %d ", numbers[i], n)
		i += n
	}
	r.data = append(r.data, "]>>\nstream\n"...)
	for _, n := range numbers {
		e := r.table[n]
		r.data = append(r.data, e.kind)
		r.data = bigEndian(bigEndian(r.data, e.a, 8), e.b, 4)
	}
	r.data = fmt.Appendf(r.data, "\nendstream\nendobj\nstartxref\n%d\n%%%%EOF\n", r.at)
}

// bigEndian appends a whole number in n bytes, the highest first.
func bigEndian(data []byte, v, n int) []byte {
	for n--; n >= 0; n-- {
		data = append(data, byte(v>>(8*n)))
	}
	return data
}

// say notes what was put right, and where the file is not whole.
func (s *scan) say(notes *drawing.Notes) {
	if s.large {
		notes.Limit(limitValues, maxValues)
	}
	for i := range s.objects {
		if s.objects[i].wrongLength {
			notes.Add(drawing.StreamMended, fmt.Sprintf("object %d", s.objects[i].number), nil)
		}
	}
	end := 0
	if n := len(s.objects); n > 0 {
		end = s.objects[n-1].to
	}
	if s.cut || !bytes.Contains(s.data[end:], []byte("startxref")) && !bytes.Contains(s.data[end:], []byte("trailer")) {
		notes.Add(drawing.Truncated, "", nil)
	}
}
