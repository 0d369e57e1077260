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
	seen int // bytes that were looked at since the last step
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
	if l.seen++; l.seen == perStep {
		l.seen = 0
		l.b.Step()
	}
}

func (l *lexer) next() token {
	l.b.Step()
	l.skipSpace()
	after := false
	for l.stray(after) {
		after = true
		l.skipSpace()
	}
	if l.pos >= len(l.data) {
		return token{}
	}
	c := l.data[l.pos]
	switch c {
	case '/':
		l.pos++
		return token{kind: aName, text: l.unescapeName(l.word())}
	case '(':
		return token{kind: aString, text: l.literal()}
	case '<', '>':
		if l.pos+1 < len(l.data) && l.data[l.pos+1] == c {
			l.pos += 2
			return token{kind: aMark, text: string([]byte{c, c})}
		}
		if c == '<' {
			return token{kind: aString, text: string(l.hex())}
		}
		l.pos++
		return token{kind: aMark, text: ">"}
	case '[', ']':
		l.pos++
		return token{kind: aMark, text: string(c)}
	}
	return classifyWord(l.word())
}

// stray passes over a delimiter that closes nothing. A single > after another
// is left: the two are meant for one mark.
func (l *lexer) stray(after bool) bool {
	if l.pos == len(l.data) {
		return false
	}
	switch c := l.data[l.pos]; {
	case c == '>' && !after && (l.pos+1 == len(l.data) || l.data[l.pos+1] != '>'):
	case c == ')' || c == '}' || c == '{':
	default:
		return false
	}
	l.pos++
	return true
}

// Lengths of words, in bytes: numbers and operators are far shorter, and what
// is longer would only cost time.
const (
	longestNumber   = 1 << 10
	longestOperator = 1 << 8
)

func classifyWord(w []byte) token {
	if c := w[0]; len(w) <= longestNumber && (c >= '0' && c <= '9' || c == '+' || c == '-' || c == '.') {
		if v, ok := parseNumber(w); ok {
			return token{kind: aNumber, number: v}
		}
	}
	return token{kind: anOperator, text: string(w[:min(len(w), longestOperator)])}
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
