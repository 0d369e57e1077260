package dxf

import (
	"bytes"
	"errors"
	"io"
)

// textScanner yields the groups of a text file: a line with the code, a line
// with the value. Lines end in LF, CRLF or CR.
type textScanner struct {
	src   io.Reader
	buf   []byte // buf[last] is a line end that stops every loop
	pos   int
	last  int // end of what was read
	max   int // longest line taken
	line  int // lines taken so far
	eof   bool
	zero  bool // a code 0 was taken already, its value comes next
	ended ending
}

const (
	textBuffer = 256 << 10
	textWindow = 4 << 10 // refill below this, so that ordinary groups never straddle
)

func newTextScanner(src io.Reader, maxLine int) *textScanner {
	s := &textScanner{src: src, buf: make([]byte, textBuffer+1), max: maxLine}
	s.fill()
	if bytes.HasPrefix(s.buf[:s.last], []byte("\xef\xbb\xbf")) {
		s.pos = 3
	}
	return s
}

func (s *textScanner) end() ending { return s.ended }

// fill moves the unread bytes to the front and reads more behind them, into a
// bigger buffer where one line fills this one.
func (s *textScanner) fill() {
	n := copy(s.buf, s.buf[s.pos:s.last])
	s.pos, s.last = 0, n
	if n > textBuffer/2 && n > len(s.buf)/2 {
		s.buf = append(s.buf, make([]byte, len(s.buf))...)
	}
	for s.last < len(s.buf)-1 && !s.eof {
		n, err := s.src.Read(s.buf[s.last : len(s.buf)-1])
		s.last += n
		if err != nil {
			s.eof = true
			if !errors.Is(err, io.EOF) {
				s.ended.err = err
			}
		}
	}
	s.buf[s.last] = '\n'
}

func (s *textScanner) next(t *tag) bool {
	for {
		if s.last-s.pos < textWindow && !s.eof {
			s.fill()
		}
		code, ok := 0, true
		t.line = s.line + 1
		if s.zero {
			s.zero = false
			t.line = s.line
		} else if code, ok = s.code(); !ok {
			return s.resync(t)
		}
		if s.pos >= s.last {
			s.ended.cut = true
			return false
		}
		value, ok := s.value()
		if closing(code, value) {
			s.ended.cut = false
		}
		if !ok || s.ended.cut {
			return false
		}
		if code == 0 && !isName(value) {
			return s.resync(t)
		}
		if code != 999 { // a comment
			t.code, t.form, t.raw = code, textForm, value
			return true
		}
	}
}

// closing reports whether a last line without a line end is whole all the
// same. Any other may have lost letters or digits.
func closing(code int, value []byte) bool {
	return code == 0 && (string(value) == "EOF" || string(value) == "ENDSEC")
}

// code takes a line that holds nothing but an integer.
func (s *textScanner) code() (int, bool) {
	b, i := s.buf, s.pos
	for b[i] == ' ' || b[i] == '\t' {
		i++
	}
	negative := b[i] == '-'
	if negative {
		i++
	}
	n, start := 0, i
	for b[i]-'0' <= 9 && i-start < 6 {
		n = n*10 + int(b[i]-'0')
		i++
	}
	digits := i - start
	for b[i] == ' ' || b[i] == '\t' {
		i++
	}
	if digits == 0 || b[i] != '\n' && b[i] != '\r' {
		return 0, false
	}
	if negative {
		n = -n
	}
	s.pass(i)
	return n, true
}

// pass moves on behind the line end at i.
func (s *textScanner) pass(i int) {
	if s.buf[i] == '\r' {
		i++
	}
	if i < s.last && s.buf[i] == '\n' {
		i++
	}
	s.pos = min(i, s.last)
	s.line++
}

// value takes a line and returns it without the blanks round it.
func (s *textScanner) value() ([]byte, bool) {
	b, i := s.buf, s.pos
	for b[i] != '\n' && b[i] != '\r' {
		i++
	}
	for i+1 >= s.last && !s.eof { // the line end, or its LF, is not here yet
		if s.last-s.pos > s.max {
			s.ended.long = true
			return nil, false
		}
		i -= s.pos
		s.fill()
		b, i = s.buf, i+s.pos
		for b[i] != '\n' && b[i] != '\r' {
			i++
		}
	}
	if i >= s.last {
		s.ended.cut = true
	}
	value := b[s.pos:i]
	s.pass(i)
	return trim(value), true
}

func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\t') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] == ' ' || b[len(b)-1] == '\t') {
		b = b[:len(b)-1]
	}
	return b
}

// resync skips to the next line 0 that is followed by a name, because after a
// line out of step no value can be trusted. It yields the broken tag, or
// nothing where only blank lines are left.
func (s *textScanner) resync(t *tag) bool {
	blank := true
	for s.pos < s.last {
		if s.last-s.pos < textWindow && !s.eof {
			s.fill()
		}
		line, ok := s.value()
		if !ok {
			return false
		}
		blank = blank && len(line) == 0
		if string(line) == "0" && isName(s.peek()) {
			s.zero = true
			break
		}
	}
	t.code, t.form, t.raw = codeBroken, textForm, nil
	return !blank
}

// peek returns the next line without taking it, as far as it is in the buffer.
func (s *textScanner) peek() []byte {
	i := s.pos
	for i < s.last && s.buf[i] != '\n' && s.buf[i] != '\r' {
		i++
	}
	return trim(s.buf[s.pos:i])
}

func (s *textScanner) rest() bool {
	for {
		if len(bytes.Trim(s.buf[s.pos:s.last], " \t\r\n\x1a\x00")) > 0 {
			return true
		}
		s.pos = s.last
		if s.eof {
			return false
		}
		s.fill()
	}
}
