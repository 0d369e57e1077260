package drawing

import (
	"strings"
	"unicode/utf8"
)

// Notes collect what a reader has to say about a file, one note a code, in the
// order in which the codes came up. The zero value is empty.
type Notes struct {
	order  []*Note
	byCode map[Code]*Note
}

// Count counts one more case of code.
func (n *Notes) Count(code Code) *Note {
	c := n.byCode[code]
	if c == nil {
		if n.byCode == nil {
			n.byCode = map[Code]*Note{}
		}
		c = &Note{Code: code}
		n.byCode[code] = c
		n.order = append(n.order, c)
	}
	c.Count++
	return c
}

// Add counts one more case of code. The name (an element, a value, a layer)
// is shortened and listed once; the place may be missing.
func (n *Notes) Add(code Code, name string, place *Place) *Note {
	c := n.Count(code)
	if place != nil {
		c.At(*place)
	}
	c.Name(Shorten(name))
	return c
}

// Limit notes that a limit stopped the reading. The first one reached is the
// cause, and the only one told.
func (n *Notes) Limit(name string, allowed int) {
	if n.Of(LimitReached) == nil {
		c := n.Count(LimitReached)
		c.Limit, c.Allowed = name, allowed
	}
}

// Of returns the note of code, nil where there is none.
func (n *Notes) Of(code Code) *Note { return n.byCode[code] }

// All returns all that was noted.
func (n *Notes) All() []Note {
	all := make([]Note, len(n.order))
	for i, c := range n.order {
		all[i] = *c
	}
	return all
}

// Shorten shortens a text from a file for people to read: its words with one
// space between them, up to 60 characters. Only the first 4 kB are looked at, so
// that a text of many MB costs nothing and is not kept.
func Shorten(s string) string {
	const most, lookedAt = 60, 4 << 10
	if len(s) > lookedAt {
		s = strings.ToValidUTF8(s[:lookedAt], "")
	}
	var words []string
	length := -1
	for word := range strings.FieldsSeq(s) {
		words = append(words, word)
		if length += 1 + utf8.RuneCountInString(word); length > most {
			break
		}
	}
	s = strings.Join(words, " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return strings.Clone(s)
}
