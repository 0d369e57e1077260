package svg

import (
	"bytes"
	"encoding/xml"
	"maps"
	"regexp"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

var (
	entityDecl = regexp.MustCompile(`<!ENTITY\s+(%\s+)?([\pL_:][\pL\pN_:.-]*)\s+(?:(SYSTEM|PUBLIC)\b[^>]*|"([^"]*)"|'([^']*)')\s*>`)
	entityRef  = regexp.MustCompile(`&[^;&\s]+;`)
)

// entities are the general entities that a document type declares inside the
// file. Those that stand outside it are never loaded.
type entities struct {
	b        *budget.Budget
	raw      map[string]string
	expanded map[string]string
	open     map[string]bool // being expanded, to find circles
	left     int             // bytes
	limit    int
}

// perMatch is how many steps it takes to find something by its pattern.
const perMatch = 8

// declare reads a document type declaration and returns the entities the
// decoder may use. The text all references in the document stand for may not
// be longer than limit, so that a short file cannot unfold into a long one.
func declare(b *budget.Budget, doctype, document []byte, limit int, notes *drawing.Notes) (map[string]string, error) {
	e := entities{b: b, raw: map[string]string{}, expanded: map[string]string{}, open: map[string]bool{}, left: limit, limit: limit}
	for m := entityDecl.FindSubmatchIndex(doctype); m != nil; m = entityDecl.FindSubmatchIndex(doctype) {
		b.Spend(perMatch)
		part := func(i int) []byte { return doctype[max(m[2*i], 0):max(m[2*i+1], 0)] }
		name := string(part(2))
		switch {
		case len(part(1)) > 0: // parameter entities only matter inside the declaration
		case len(part(3)) > 0:
			notes.Add(drawing.ExternalReference, "entity "+name, nil)
			e.raw[name] = ""
		default:
			if _, twice := e.raw[name]; !twice { // the first declaration binds
				e.raw[name] = string(part(4)) + string(part(5))
			}
		}
		doctype = doctype[m[1]:]
	}
	if err := e.measure(document, notes); err != nil {
		return nil, err
	}
	all := maps.Clone(xml.HTMLEntity)
	maps.Copy(all, e.expanded)
	return all, nil
}

// measure expands every entity that the document refers to and charges
// each reference.
func (e *entities) measure(document []byte, notes *drawing.Notes) error {
	for at := entityRef.FindIndex(document); at != nil; at = entityRef.FindIndex(document) {
		e.b.Spend(perMatch)
		name := string(document[at[0]+1 : at[1]-1])
		document = document[at[1]:]
		if _, ours := e.raw[name]; !ours {
			continue
		}
		text, err := e.expand(name)
		if err != nil {
			return err
		}
		if strings.Contains(text, "<") {
			notes.Add(drawing.EntityMarkup, name, nil)
		}
		if e.left -= len(text); e.left < 0 {
			return &limitError{limitEntityText, e.limit}
		}
	}
	return nil
}

func (e *entities) expand(name string) (string, error) {
	if text, done := e.expanded[name]; done {
		return text, nil
	}
	if e.open[name] {
		return "", &limitError{limitEntityText, e.limit} // a circle has no end
	}
	e.open[name] = true
	defer delete(e.open, name)
	var b bytes.Buffer
	rest := e.raw[name]
	for {
		at := entityRef.FindStringIndex(rest)
		if at == nil {
			break
		}
		e.b.Spend(perMatch)
		b.WriteString(rest[:at[0]])
		part, err := e.reference(rest[at[0]:at[1]])
		if err != nil {
			return "", err
		}
		b.WriteString(part)
		if b.Len() > e.limit {
			return "", &limitError{limitEntityText, e.limit}
		}
		rest = rest[at[1]:]
	}
	b.WriteString(rest)
	if e.left -= b.Len(); e.left < 0 {
		return "", &limitError{limitEntityText, e.limit}
	}
	e.expanded[name] = b.String()
	return b.String(), nil
}

// reference resolves one reference inside an entity's text.
func (e *entities) reference(ref string) (string, error) {
	name := ref[1 : len(ref)-1]
	if _, ours := e.raw[name]; ours {
		return e.expand(name)
	}
	var text struct {
		S string `xml:",chardata"`
	}
	if xml.Unmarshal([]byte("<x>"+ref+"</x>"), &text) != nil {
		return "", nil // undefined: nothing can stand for it
	}
	return text.S, nil
}
