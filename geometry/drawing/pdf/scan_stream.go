package pdf

import (
	"bytes"
	"iter"

	"knifedesk/geometry/budget"
)

// occurrences yields where a word stands in data.
func occurrences(b *budget.Budget, data []byte, word string) iter.Seq[int] {
	return func(yield func(int) bool) {
		for pos := 0; ; {
			at := bytes.Index(data[pos:], []byte(word))
			if at < 0 {
				return
			}
			b.Spend(1 + at/perStep)
			if !yield(pos + at) {
				return
			}
			pos += at + len(word)
		}
	}
}

// streamData finds where the data of a stream lies, from behind its keyword on
// (7.3.8). A length that does not lead to the end is wrong: then the data runs
// to the keyword that ends it.
func (s *scan) streamData(o *found) {
	o.stream = true
	if bytes.HasPrefix(s.data[s.pos:], []byte("\r\n")) {
		s.pos += 2
	} else if s.pos < len(s.data) && (s.data[s.pos] == '\n' || s.data[s.pos] == '\r') {
		s.pos++
	}
	from := s.pos
	if n := s.integer(o.dict, "Length"); n >= 0 && n <= len(s.data)-from {
		if end, closed := s.streamEnds(from + n); end > 0 {
			o.data, o.sound, s.pos = span{from, from + n}, closed, end
			return
		}
	}
	o.wrongLength = true
	to, end := s.streamEnd(from)
	o.data, s.pos = span{from, s.withoutEOL(from, to)}, end
}

// streamEnds returns where a stream ends whose data ends at i, 0 where it does
// not; closed says that the object that holds it ends there too.
func (s *scan) streamEnds(i int) (end int, closed bool) {
	l := lexer{b: s.b, data: s.data[:min(len(s.data), i+64)], pos: i}
	l.skipSpace()
	if !bytes.HasPrefix(l.data[l.pos:], []byte("endstream")) {
		return 0, false
	}
	l.pos += len("endstream")
	end = l.pos
	l.skipSpace()
	if bytes.HasPrefix(l.data[l.pos:], []byte("endobj")) {
		return l.pos + len("endobj"), true
	}
	return end, false
}

// streamEnd looks for the end of a stream whose length is wrong: where its data
// ends and where its object does. Data may hold the word endstream by chance, so
// one that endobj follows is taken before others.
func (s *scan) streamEnd(from int) (to, end int) {
	const tries = 16
	first, n := -1, 0
	if !s.noEnd {
		for at := range occurrences(s.b, s.data[from:], "endstream") {
			if end, closed := s.streamEnds(from + at); closed {
				return from + at, end
			}
			if first < 0 {
				first = from + at
			}
			if n++; n == tries {
				break
			}
		}
	}
	if first >= 0 {
		return first, first + len("endstream")
	}
	s.noEnd = true
	if at := bytes.Index(s.data[from:], []byte("endobj")); at >= 0 {
		return from + at, from + at + len("endobj")
	}
	s.cut = true
	return len(s.data), len(s.data)
}

// withoutEOL leaves out the line end before the keyword endstream.
func (s *scan) withoutEOL(from, to int) int {
	if to > from && s.data[to-1] == '\n' {
		to--
	}
	if to > from && s.data[to-1] == '\r' {
		to--
	}
	return to
}
