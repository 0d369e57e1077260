package pdf

import (
	"bytes"
	"strconv"

	"knifedesk/geometry/budget"
)

// kind says what a token of a content stream is (7.2 and 7.8.2).
type kind uint8

const (
	endOfContent kind = iota
	aNumber
	aName
	aString
	anOperator
	aMark // [ ] << or >>
)

// token is one token. The text of strings is unescaped, that of names too.
type token struct {
	kind   kind
	number float64
	text   string
}

// lexer splits a content stream into tokens. What makes no sense is passed
// over: a content stream has no syntax errors, only operators that are ignored.
type lexer struct {
	b    *budget.Budget
	data []byte
	pos  int
}

const (
	spaces     = "\x00\t\n\f\r "
	delimiters = "()<>[]{}/%"
)

func isSpace(c byte) bool     { return bytes.IndexByte([]byte(spaces), c) >= 0 }
func isDelimiter(c byte) bool { return bytes.IndexByte([]byte(delimiters), c) >= 0 }
func isRegular(c byte) bool   { return !isSpace(c) && !isDelimiter(c) }

// tick takes a step now and then on the way through long tokens.
func (l *lexer) tick() {
	if l.pos%perStep == 0 {
		l.b.Step()
	}
}

func (l *lexer) next() token {
	l.b.Step()
	l.skipSpace()
	if l.pos >= len(l.data) {
		return token{}
	}
	c := l.data[l.pos]
	switch c {
	case '/':
		l.pos++
		return token{kind: aName, text: unescapeName(l.word())}
	case '(':
		return token{kind: aString, text: l.literal()}
	case '<', '>':
		if l.pos+1 < len(l.data) && l.data[l.pos+1] == c {
			l.pos += 2
			return token{kind: aMark, text: string([]byte{c, c})}
		}
		if c == '<' {
			return token{kind: aString, text: l.hex()}
		}
		l.pos++
		return l.afterStray()
	case '[', ']':
		l.pos++
		return token{kind: aMark, text: string(c)}
	case ')', '{', '}':
		l.pos++
		return l.afterStray()
	}
	return classifyWord(l.word())
}

// afterStray goes on after a stray delimiter.
func (l *lexer) afterStray() token {
	for l.pos < len(l.data) && (l.data[l.pos] == ')' || l.data[l.pos] == '}' || l.data[l.pos] == '{' || isSpace(l.data[l.pos])) {
		l.pos++
	}
	if l.pos < len(l.data) && l.data[l.pos] == '>' && (l.pos+1 == len(l.data) || l.data[l.pos+1] != '>') {
		l.pos++
		return token{kind: aMark, text: ">"}
	}
	return l.next()
}

func classifyWord(w []byte) token {
	if c := w[0]; c >= '0' && c <= '9' || c == '+' || c == '-' || c == '.' {
		if v, ok := parseNumber(w); ok {
			return token{kind: aNumber, number: v}
		}
	}
	return token{kind: anOperator, text: string(w)}
}

// parseNumber reads a number; a doubled sign and digits after a second point,
// which old programs wrote, are tolerated as other readers do.
func parseNumber(w []byte) (float64, bool) {
	for len(w) > 1 && w[0] == '-' && w[1] == '-' {
		w = w[1:]
	}
	if bytes.ContainsAny(w, "eEnNiIxXpP_") { // forms of strconv that PDF does not have
		return 0, false
	}
	v, err := strconv.ParseFloat(string(w), 64)
	return v, err == nil
}

func (l *lexer) skipSpace() {
	for l.pos < len(l.data) {
		l.tick()
		switch c := l.data[l.pos]; {
		case isSpace(c):
			l.pos++
		case c == '%':
			for l.pos < len(l.data) && l.data[l.pos] != '\n' && l.data[l.pos] != '\r' {
				l.tick()
				l.pos++
			}
		default:
			return
		}
	}
}

// word reads the regular characters from here on.
func (l *lexer) word() []byte {
	start := l.pos
	for l.pos < len(l.data) && isRegular(l.data[l.pos]) {
		l.tick()
		l.pos++
	}
	return l.data[start:l.pos]
}

func unescapeName(w []byte) string {
	if bytes.IndexByte(w, '#') < 0 {
		return string(w)
	}
	var out []byte
	for i := 0; i < len(w); i++ {
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

// hex reads a string of hexadecimal digits (7.3.4.3).
func (l *lexer) hex() string {
	var out []byte
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
	return string(out)
}

// skipImage passes over the data of an inline image (8.9.7) and its EI. length
// is the number of its bytes, or -1 where a filter hides it.
func (l *lexer) skipImage(length int) {
	l.pos = min(l.pos+1, len(l.data)) // one space after ID
	if length > 0 {
		l.pos = min(l.pos+length, len(l.data))
	}
	for i := l.pos; ; i++ {
		l.b.Step()
		at := bytes.Index(l.data[i:], []byte("EI"))
		if at < 0 {
			l.pos = len(l.data)
			return
		}
		i += at
		if (i == l.pos || isSpace(l.data[i-1])) && l.looksLikeContent(i+2) {
			l.pos = i + 2
			return
		}
	}
}

// looksLikeContent reports whether content and not image data goes on at i.
func (l *lexer) looksLikeContent(i int) bool {
	if i == len(l.data) {
		return true
	}
	if !isSpace(l.data[i]) {
		return false
	}
	const enough = 12
	for _, c := range l.data[i:min(i+enough, len(l.data))] {
		if !isSpace(c) && (c < ' ' || c > '~') {
			return false
		}
	}
	return true
}

// perStep is how many bytes that are looked at make a step.
const perStep = 64
