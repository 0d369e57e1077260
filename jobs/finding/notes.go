package finding

import "strings"

// maxNames bounds the names that one finding lists.
const maxNames = 8

// Notes collect what a reader has to say about a file, one finding a code, in
// the order in which the codes came up. The zero value is empty.
type Notes struct {
	order  []Code
	byCode map[Code]*Note
}

// Note is what was noted of one code.
type Note struct {
	count  int
	places []Place
	names  []string
	// Values fill the placeholders of the hints; {names} and {count} are
	// always there.
	Values map[string]any
	// Weight replaces the severity of the catalogue where it is not empty.
	Weight Severity
}

// Add counts one more case of code. The name (an element, a value, a layer)
// is shortened and listed once; the place may be missing.
func (n *Notes) Add(code Code, name string, place *Place) *Note {
	c := n.byCode[code]
	if c == nil {
		if n.byCode == nil {
			n.byCode = map[Code]*Note{}
		}
		c = &Note{Values: map[string]any{}}
		n.byCode[code] = c
		n.order = append(n.order, code)
	}
	c.count++
	if place != nil && len(c.places) < MaxPlaces {
		c.places = append(c.places, *place)
	}
	c.list(Clip(name))
	return c
}

func (c *Note) list(name string) {
	if name == "" || len(c.names) > maxNames {
		return
	}
	for _, have := range c.names {
		if have == name {
			return
		}
	}
	if len(c.names) == maxNames {
		name = "…"
	}
	c.names = append(c.names, name)
}

// Limit notes that a limit stopped the reading.
func (n *Notes) Limit(name string, allowed int) {
	c := n.Add(LimitReached, "", nil)
	if c.count > 1 {
		c.count = 1
		return // the first limit reached is the cause
	}
	c.Values["limit"], c.Values["allowed"] = name, allowed
}

// Of returns the note of code, nil where there is none.
func (n *Notes) Of(code Code) *Note { return n.byCode[code] }

// Findings returns all that was noted.
func (n *Notes) Findings() []Finding {
	var all []Finding
	for _, code := range n.order {
		c := n.byCode[code]
		if len(c.names) > 0 {
			c.Values["names"] = strings.Join(c.names, ", ")
		}
		f := New(code, c.count, c.Values, c.places...)
		if c.Weight != "" {
			f = f.As(c.Weight)
		}
		all = append(all, f)
	}
	return all
}

// Clip shortens a text from a file for people to read.
func Clip(s string) string {
	const most = 60
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
