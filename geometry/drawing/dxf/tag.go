package dxf

import "strconv"

// tag is one group: a code and its value. Text files and the strings of binary
// ones give raw bytes without the blanks round them, valid until the next
// group; the numbers of binary files come decoded.
type tag struct {
	code  int
	form  form
	raw   []byte
	real  float64
	whole int64
	line  int // of the code in a text file, from 1; 0 in a binary one
}

type form uint8

const (
	textForm form = iota
	realForm
	wholeForm
	chunkForm // bytes of a binary file, never wanted
)

// codeBroken is the code of the tag that stands for a stretch of file which
// made no sense. The next tag after it has code 0.
const codeBroken = -1000

// float returns the value as a number and how it was written.
func (t *tag) float() (float64, numeral) {
	switch t.form {
	case realForm:
		return t.real, judge(t.real)
	case wholeForm:
		return float64(t.whole), plain
	}
	return parseFloat(t.raw)
}

// int returns the value as an integer; reals with nothing behind the point
// count, as some writers put them.
func (t *tag) int() (int, bool) {
	switch t.form {
	case realForm:
		return int(t.real), t.real == float64(int(t.real))
	case wholeForm:
		return int(t.whole), true
	}
	if n, err := strconv.Atoi(string(t.raw)); err == nil {
		return n, true
	}
	v, how := parseFloat(t.raw)
	if how != plain || v != float64(int(v)) {
		return 0, false
	}
	return int(v), true
}

// scanner yields the groups of a file.
type scanner interface {
	// next fills t and reports whether there was another group.
	next(t *tag) bool
	// end says, after next returned false, how the file ended.
	end() ending
	// rest reports whether anything but blanks follows.
	rest() bool
}

// ending is how a file ended.
type ending struct {
	err  error // of the underlying reader
	cut  bool  // in the middle of a group
	long bool  // at a line longer than the limit
}

// isName reports whether raw can be the value of a group 0: letters, digits,
// underscores, at least one letter.
func isName(raw []byte) bool {
	letters := 0
	for _, c := range raw {
		switch {
		case c|0x20 >= 'a' && c|0x20 <= 'z':
			letters++
		case c >= '0' && c <= '9' || c == '_' || c == '-' || c == '.' || c == '*' || c == '$':
		default:
			return false
		}
	}
	return letters > 0
}
