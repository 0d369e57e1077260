package pdf

import (
	"bytes"
	"strconv"
)

// unescapeName puts the characters of a name in place that are written by their
// numbers (7.3.5).
func (l *lexer) unescapeName(w []byte) string {
	if bytes.IndexByte(w, '#') < 0 {
		return string(w)
	}
	var out []byte
	for i := 0; i < len(w); i++ {
		l.tick()
		if w[i] == '#' && i+2 < len(w) {
			if v, err := strconv.ParseUint(string(w[i+1:i+3]), 16, 8); err == nil {
				out = append(out, byte(v))
				i += 2
				continue
			}
		}
		out = append(out, w[i])
	}
	return string(out)
}

// literal reads a string in brackets (7.3.4.2).
func (l *lexer) literal() string {
	var out []byte
	depth := 0
	for ; l.pos < len(l.data); l.pos++ {
		l.tick()
		c := l.data[l.pos]
		switch {
		case c == '(':
			if depth++; depth == 1 {
				continue
			}
		case c == ')':
			if depth--; depth == 0 {
				l.pos++
				return string(out)
			}
		case c == '\\':
			out = l.escape(out)
			continue
		}
		out = append(out, c)
	}
	return string(out)
}

// escape reads what follows a backslash, leaving the position on its last byte.
func (l *lexer) escape(out []byte) []byte {
	l.pos++
	if l.pos == len(l.data) {
		return out
	}
	c := l.data[l.pos]
	if i := bytes.IndexByte([]byte("nrtbf"), c); i >= 0 {
		return append(out, "\n\r\t\b\f"[i])
	}
	switch {
	case c >= '0' && c <= '7':
		v := 0
		for n := 0; n < 3 && l.pos < len(l.data) && l.data[l.pos] >= '0' && l.data[l.pos] <= '7'; n++ {
			v = v*8 + int(l.data[l.pos]-'0')
			l.pos++
		}
		l.pos--
		return append(out, byte(v))
	case c == '\r':
		if l.pos+1 < len(l.data) && l.data[l.pos+1] == '\n' {
			l.pos++
		}
		return out
	case c == '\n':
		return out
	}
	return append(out, c)
}

// hex reads a string of hexadecimal digits (7.3.4.3) from the bracket before it
// on.
func (l *lexer) hex() (out []byte) {
	var high byte
	half := false
	for l.pos++; l.pos < len(l.data); l.pos++ {
		l.tick()
		c := l.data[l.pos]
		if c == '>' {
			l.pos++
			break
		}
		v, err := strconv.ParseUint(string(c), 16, 8)
		if err != nil {
			continue
		}
		if half {
			out = append(out, high<<4|byte(v))
		}
		high, half = byte(v), !half
	}
	if half {
		out = append(out, high<<4)
	}
	return out
}
