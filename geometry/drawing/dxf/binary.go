package dxf

import (
	"bufio"
	"encoding/binary"
	"errors"
	"io"
	"math"
)

// binaryScanner yields the groups of a binary file. Codes have one byte up to
// release 12 (255 announces a two-byte code) and two bytes after it.
type binaryScanner struct {
	src   *bufio.Reader
	wide  bool
	max   int
	text  []byte
	ended ending
}

// newBinaryScanner takes a reader at the start of the file. The file begins
// with group 0, so the second byte of the first code tells the width.
func newBinaryScanner(src *bufio.Reader, maxString int) *binaryScanner {
	s := &binaryScanner{src: src, max: maxString}
	head, _ := src.Peek(binaryHead + 2)
	s.wide = len(head) == binaryHead+2 && head[binaryHead+1] == 0
	if _, err := src.Discard(binaryHead); err != nil {
		s.fail(err)
	}
	return s
}

func (s *binaryScanner) end() ending { return s.ended }

func (s *binaryScanner) rest() bool {
	_, err := s.src.Peek(1)
	return err == nil
}

func (s *binaryScanner) fail(err error) bool {
	if !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		s.ended.err = err
	}
	return false
}

func (s *binaryScanner) next(t *tag) bool {
	for {
		code, err := s.code()
		if err != nil {
			s.ended.cut = errors.Is(err, io.ErrUnexpectedEOF)
			return s.fail(err)
		}
		t.code, t.line, t.raw = code, 0, nil
		if err := s.value(t); err != nil {
			s.ended.cut = true
			return s.fail(err)
		}
		if code != 999 {
			return true
		}
	}
}

func (s *binaryScanner) code() (int, error) {
	if s.wide {
		var b [2]byte
		_, err := io.ReadFull(s.src, b[:])
		return int(int16(binary.LittleEndian.Uint16(b[:]))), err
	}
	c, err := s.src.ReadByte()
	if err != nil || c != 255 {
		return int(c), err
	}
	var b [2]byte
	_, err = io.ReadFull(s.src, b[:])
	return int(int16(binary.LittleEndian.Uint16(b[:]))), err
}

func (s *binaryScanner) value(t *tag) error {
	form, size := layout(t.code)
	switch form {
	case textForm:
		return s.string(t)
	case chunkForm:
		n, err := s.src.ReadByte()
		if err == nil {
			_, err = s.src.Discard(int(n))
		}
		t.form, t.raw = textForm, nil
		return err
	}
	var b [8]byte
	if _, err := io.ReadFull(s.src, b[:size]); err != nil {
		return err
	}
	bits := binary.LittleEndian.Uint64(b[:])
	t.form = form
	switch {
	case form == realForm:
		t.real = math.Float64frombits(bits)
	case size == 1:
		t.whole = int64(b[0])
	case size == 2:
		t.whole = int64(int16(bits))
	case size == 4:
		t.whole = int64(int32(bits))
	default:
		t.whole = int64(bits)
	}
	return nil
}

// layout returns how the value of a code is stored, and in how many bytes
// where that does not depend on the value ("Group code value types").
func layout(code int) (form, int) {
	if isReal(code) {
		return realForm, 8
	}
	if size := wholeSize(code); size > 0 {
		return wholeForm, size
	}
	if code >= 310 && code <= 319 || code == 1004 {
		return chunkForm, 0
	}
	return textForm, 0
}

// isReal reports whether the value of a code has a fraction.
func isReal(code int) bool {
	return code >= 10 && code <= 59 || code >= 110 && code <= 149 || code >= 210 && code <= 239 ||
		code >= 460 && code <= 469 || code >= 1010 && code <= 1059
}

// wholeSize returns the bytes of a code with whole numbers, 0 of any other.
func wholeSize(code int) int {
	switch {
	case code >= 60 && code <= 79, code >= 170 && code <= 179, code >= 270 && code <= 289,
		code >= 370 && code <= 389, code >= 400 && code <= 409, code >= 1060 && code <= 1070:
		return 2
	case code >= 90 && code <= 99, code >= 420 && code <= 429, code >= 440 && code <= 459, code == 1071:
		return 4
	case code >= 160 && code <= 169:
		return 8
	case code >= 290 && code <= 299:
		return 1
	}
	return 0
}

func (s *binaryScanner) string(t *tag) error {
	s.text = s.text[:0]
	for {
		part, err := s.src.ReadSlice(0)
		s.text = append(s.text, part...)
		if err == nil {
			break
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return err
		}
		if len(s.text) > s.max {
			s.ended.long = true
			return io.ErrUnexpectedEOF
		}
	}
	t.form, t.raw = textForm, trim(s.text[:len(s.text)-1])
	return nil
}
