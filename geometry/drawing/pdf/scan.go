package pdf

import (
	"bytes"

	"knifedesk/geometry/budget"
)

// span is a part of a file, by offsets.
type span struct{ from, to int }

// found is an indirect object as it stands in a file (7.3.10).
type found struct {
	number, generation int
	span               // from its number to the end of its last keyword
	body               span
	dict               map[string]span // values of the keys of its dictionary that matter here
	data               span            // of a stream
	stream             bool
	wrongLength        bool // the length does not lead to the end of the stream
	sound              bool // ended by its keywords, where it says
	values             int  // tokens outside its stream
}

// scan goes through a file from the front and lists its objects, whatever its
// tables say: tables are wrong more often than objects, and nobody sees it.
type scan struct {
	lexer
	objects  []found
	trailers []map[string]span
	lengths  map[int]int // whole numbers that are objects, once one is asked for
	open     int         // objects that run to the end of the file
	noEnd    bool        // no stream ends after here
	cut      bool        // the file ends within an object
	large    bool        // an object was left out for the number of its values
	values   int         // of all objects
}

// maxValues bounds the tokens of an object outside its stream: the structure
// library reads it as one piece, which cannot be stopped.
const maxValues = 500_000

// maxAllValues bounds the tokens of all objects, packed ones included: each takes
// some 80 bytes in the structure library.
const maxAllValues = 2_000_000

// maxOpen bounds the objects that are followed to the end of the file in vain.
const maxOpen = 8

func scanFile(b *budget.Budget, data []byte) *scan {
	s := &scan{lexer: lexer{b: b, data: data}}
	for s.open < maxOpen {
		at := bytes.Index(s.data[s.pos:], []byte("obj"))
		if at < 0 {
			s.trailer(s.data[s.pos:])
			break
		}
		b.Spend(1 + at/perStep)
		at += s.pos
		o, ok := s.heading(at)
		if !ok {
			s.trailer(s.data[s.pos : at+len("obj")])
			s.pos = max(s.pos, at+len("obj"))
			continue
		}
		s.trailer(s.data[s.pos:max(s.pos, o.from)])
		s.pos = at + len("obj")
		s.object(&o)
		s.values += o.values
		if o.values > maxValues {
			s.large = true
			continue
		}
		s.objects = append(s.objects, o)
	}
	return s
}

// heading reads backwards from the keyword obj what object begins with it.
func (s *scan) heading(at int) (found, bool) {
	generation, i := s.digitsBefore(at)
	number, from := s.digitsBefore(i)
	if i == at || from == i {
		return found{}, false
	}
	return found{number: number, generation: generation, span: span{from: from}}, true
}

// digitsBefore reads the whole number that ends before at, white space apart.
// It returns at where there is none.
func (s *scan) digitsBefore(at int) (value, from int) {
	const spaces, digits = 32, 10
	end := at
	for end > 0 && at-end < spaces && isSpace(s.data[end-1]) {
		end--
	}
	from = end
	for from > 0 && end-from < digits && isDigit(s.data[from-1]) {
		from--
	}
	if end == at || from == end {
		return 0, at
	}
	for _, c := range s.data[from:end] {
		value = value*10 + int(c-'0')
	}
	return value, from
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// trailer reads the dictionaries after the keyword trailer in what lies between
// two objects (7.5.5).
func (s *scan) trailer(between []byte) {
	base := s.pos
	for {
		at := bytes.Index(between[s.pos-base:], []byte("trailer"))
		if at < 0 {
			s.pos = base
			return
		}
		o := found{}
		part := scan{lexer: lexer{b: s.b, data: s.data[:base+len(between)], pos: s.pos + at + len("trailer")}}
		part.walk(&o)
		s.pos = part.pos
		if o.values <= maxValues {
			s.trailers = append(s.trailers, o.dict)
		}
	}
}

// object reads an object from behind its heading.
func (s *scan) object(o *found) {
	o.body.from = s.pos
	switch end := s.walk(o); end {
	case "endobj":
		o.sound = true
	case "stream":
		s.streamData(o)
	case "":
		s.open++
		s.cut = true
		if at := bytes.Index(s.data[o.body.from:], []byte("endobj")); at >= 0 { // a bracket that never ends
			s.pos, s.cut = o.body.from+at, false
			o.body.to = s.pos
		}
	}
	o.to = s.pos
}
