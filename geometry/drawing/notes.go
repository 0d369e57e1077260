package drawing

import (
	"strings"
	"unicode/utf8"
)

// Notes collect what a reader has to say about a file, one note a code, or a
// code and layer where the layer may decide what it weighs, in the order in which
// they came up. The zero value is empty.
type Notes struct {
	order []*Note
	by    map[subject]*Note
}

// subject is what a note is about.
type subject struct {
	code  Code
	layer string
}

// Count counts one more case of code.
func (n *Notes) Count(code Code) *Note { return n.CountOn(code, "") }

// CountOn counts one more case of code on a layer.
func (n *Notes) CountOn(code Code, layer string) *Note {
	about := subject{code, layer}
	c := n.by[about]
	if c == nil {
		if n.by == nil {
			n.by = map[subject]*Note{}
		}
		c = &Note{Code: code, Layer: layer}
		n.by[about] = c
		n.order = append(n.order, c)
	}
	c.Count++
	return c
}

// Add counts one more case of code. The name (an element, a value, a layer)
// is shortened and listed once; the place may be missing.
func (n *Notes) Add(code Code, name string, place *Place) *Note {
	c := n.Count(code)
	c.add(name, place)
	return c
}

// AddOn is Add for a case on a layer.
func (n *Notes) AddOn(code Code, layer, name string, place *Place) {
	n.CountOn(code, layer).add(name, place)
}

func (n *Note) add(name string, place *Place) {
	if place != nil {
		n.At(*place)
	}
	n.Name(Shorten(name))
}

// Limit notes that a limit stopped the reading. The first one reached is the
// cause, and the only one told.
func (n *Notes) Limit(name string, allowed int) {
	if n.Of(LimitReached) == nil {
		c := n.Count(LimitReached)
		c.Limit, c.Allowed = name, allowed
	}
}

// Of returns the note of code that is on no layer, nil where there is none.
func (n *Notes) Of(code Code) *Note { return n.by[subject{code: code}] }

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
