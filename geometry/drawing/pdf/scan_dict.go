package pdf

import "strconv"

// kept reports whether the value of a key is needed to find objects.
func kept(key string) bool {
	switch key {
	case "Type", "Length", "Filter", "DecodeParms", "N", "First", "Root", "Encrypt", "ID":
		return true
	}
	return false
}

// walk passes over the value of an object up to the keyword that follows it,
// which it returns; "" at the end of the file. It leaves the position behind the
// keyword where that belongs to the object, and before it where not.
func (s *scan) walk(o *found) (end string) {
	d := dictWalk{object: o}
	before := [2]int{s.pos, s.pos} // where the two last tokens began
	for {
		s.skipSpace()
		at := s.pos
		t := s.next()
		o.values++
		switch {
		case t.kind == endOfContent:
			o.body.to = at
			return ""
		case t.kind != anOperator:
			d.token(t, at, s.pos)
		case t.text == "endobj" || t.text == "stream" && d.depth == 0:
			o.body.to = at
			return t.text
		case t.text == "obj":
			s.pos, o.body.to = before[0], before[0]
			return t.text
		case t.text == "xref" || t.text == "trailer" || t.text == "startxref" || t.text == "endstream":
			s.pos, o.body.to = at, at
			return t.text
		default:
			d.token(t, at, s.pos)
		}
		before = [2]int{before[1], at}
	}
}

// dictWalk notes where the values of the outermost dictionary stand.
type dictWalk struct {
	object *found
	depth  int
	key    string
	from   int // of the value of key
	parts  int // tokens in it
}

func (d *dictWalk) token(t token, at, end int) {
	switch {
	case t.kind == aMark && (t.text == "<<" || t.text == "["):
		d.depth++
		if d.depth == 1 {
			return
		}
	case t.kind == aMark:
		if d.depth--; d.depth <= 0 {
			d.close(at)
			d.depth = 0
			return
		}
	case t.kind == aName && d.depth == 1 && (d.key == "" || d.parts > 0):
		d.close(at)
		d.key, d.from, d.parts = t.text, end, 0
		return
	}
	d.parts++
}

// close ends the value of the current key.
func (d *dictWalk) close(at int) {
	if d.parts > 0 && kept(d.key) {
		if d.object.dict == nil {
			d.object.dict = map[string]span{}
		}
		d.object.dict[d.key] = span{d.from, at}
	}
	d.key, d.parts = "", 0
}

// raw returns the text of a value, nil for none.
func (s *scan) raw(d map[string]span, key string) []byte {
	v := d[key]
	return s.data[v.from:v.to]
}

// first returns the first token of a value.
func (s *scan) first(d map[string]span, key string) token {
	l := lexer{b: s.b, data: s.raw(d, key)}
	return l.next()
}

// integer returns a value that is a whole number, or a reference to one; -1 for
// anything else.
func (s *scan) integer(d map[string]span, key string) int {
	l := lexer{b: s.b, data: s.raw(d, key)}
	t := l.next()
	if t.kind != aNumber || t.number != float64(int(t.number)) {
		return -1
	}
	if l.next().kind != aNumber || l.next().text != "R" {
		return int(t.number)
	}
	if n, ok := s.wholeNumbers()[int(t.number)]; ok {
		return n
	}
	return -1
}

// wholeNumbers gathers the objects that are whole numbers: a stream may state
// its length by one that stands behind it.
func (s *scan) wholeNumbers() map[int]int {
	if s.lengths != nil {
		return s.lengths
	}
	s.lengths = map[int]int{}
	for at := range occurrences(s.b, s.data, "obj") {
		o, ok := s.heading(at)
		if !ok {
			continue
		}
		l := lexer{b: s.b, data: s.data[:min(len(s.data), at+64)], pos: at + len("obj")}
		l.skipSpace()
		if n, err := strconv.Atoi(string(l.word())); err == nil {
			s.lengths[o.number] = n
		}
	}
	return s.lengths
}
