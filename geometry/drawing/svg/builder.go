package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// builder makes a document out of XML tokens.
type builder struct {
	b      *budget.Budget
	text   []byte
	dec    *xml.Decoder
	limits Limits
	notes  *drawing.Notes
	doc    *document
	open   *element
	depth  int
	count  int
	attrs  int
	styles strings.Builder
}

func newBuilder(b *budget.Budget, text []byte, limits Limits, notes *drawing.Notes) *builder {
	t := &builder{
		b: b, text: text, limits: limits, notes: notes,
		dec: xml.NewDecoder(budget.Reader(b, bytes.NewReader(text))),
		doc: &document{byID: map[string]*element{}, kinds: map[string]int{}},
	}
	t.dec.Entity = xml.HTMLEntity
	t.dec.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil } // it is UTF-8 by now
	return t
}

// readTree reads XML text into a tree. Elements of other namespaces are left
// out, all but the labels they put on SVG elements.
func readTree(steps *budget.Budget, text []byte, limits Limits, notes *drawing.Notes) (*document, error) {
	if crowded(steps, text) {
		return nil, &limitError{limitTag, maxQuotes / 2}
	}
	b := newBuilder(steps, text, limits, notes)
	for {
		tok, err := b.dec.Token()
		if err == io.EOF {
			break
		}
		if err == nil {
			err = b.token(tok)
		}
		var over *limitError
		if errors.As(err, &over) {
			if over.name == limitEntityText || b.doc.root == nil { // nothing after it can be trusted
				return nil, err
			}
			notes.Limit(over.name, over.allowed)
			break
		}
		if err != nil {
			return nil, b.fail(err)
		}
	}
	if b.doc.root == nil {
		return nil, &ParseError{Line: 1, Err: ErrNotSVG}
	}
	return b.doc, nil
}

// maxQuotes bounds the quotation marks in one tag, so that its attributes do
// not fill the memory before they can be counted.
const maxQuotes = 8192

// perStep is how many bytes that are only looked at make a step.
const perStep = 256

// crowded reports whether some tag holds more quotation marks than that.
func crowded(b *budget.Budget, text []byte) bool {
	quotes := 0
	for i, c := range text {
		if i%perStep == 0 {
			b.Step()
		}
		switch c {
		case '<':
			quotes = 0
		case '"', '\'':
			if quotes++; quotes > maxQuotes {
				return true
			}
		}
	}
	return false
}

func (b *builder) fail(err error) error {
	line, col := b.dec.InputPos()
	var syntax *xml.SyntaxError
	var parse *ParseError
	switch {
	case errors.As(err, &parse):
		return parse
	case errors.As(err, &syntax):
		return &ParseError{Line: syntax.Line, Err: errors.New(syntax.Msg)}
	}
	return &ParseError{Line: line, Column: col, Err: err}
}

func (b *builder) token(tok xml.Token) error {
	switch t := tok.(type) {
	case xml.Directive:
		return b.doctype(t)
	case xml.ProcInst:
		if t.Target == "xml-stylesheet" {
			b.notes.Add(drawing.ExternalReference, "style sheet", nil).Weight = drawing.Warns
		}
	case xml.StartElement:
		return b.start(t)
	case xml.EndElement:
		b.end()
	case xml.CharData:
		if b.open != nil && b.open.name == "style" {
			b.styles.Write(t)
		}
		if b.open != nil && len(bytes.TrimSpace(t)) > 0 {
			b.open.words = true
		}
	}
	return nil
}

func (b *builder) doctype(d xml.Directive) error {
	if !bytes.HasPrefix(d, []byte("DOCTYPE")) || !bytes.Contains(d, []byte("<!ENTITY")) {
		return nil
	}
	known, err := declare(b.b, d, b.text[b.dec.InputOffset():], b.limits.EntityText, b.notes)
	b.dec.Entity = known
	return err
}

func (b *builder) start(t xml.StartElement) error {
	if t.Name.Space != svgSpace && t.Name.Space != "" {
		if b.doc.root == nil {
			return &ParseError{Line: 1, Err: ErrNotSVG}
		}
		b.doc.kinds["foreign"]++
		return b.dec.Skip()
	}
	if b.doc.root == nil && t.Name.Local != "svg" {
		return ErrNotSVG
	}
	if b.count++; b.count > b.limits.Elements {
		return &limitError{limitElements, b.limits.Elements}
	}
	if b.depth++; b.depth > b.limits.Depth {
		return &limitError{limitDepth, b.limits.Depth}
	}
	if b.attrs += len(t.Attr); b.attrs > b.limits.Attributes {
		return &limitError{limitAttributes, b.limits.Attributes}
	}
	line, _ := b.dec.InputPos()
	e := &element{name: t.Name.Local, parent: b.open, line: line, attrs: attributes(t.Attr)}
	for _, a := range e.attrs {
		e.size += len(a.name) + len(a.value)
	}
	b.hang(e)
	b.open = e
	return nil
}

// hang puts e into the tree and the indexes.
func (b *builder) hang(e *element) {
	if b.open == nil {
		b.doc.root = e
	} else {
		e.index = len(b.open.children)
		b.open.children = append(b.open.children, e)
	}
	if id, ok := e.attr("id"); ok {
		if _, twice := b.doc.byID[id]; !twice {
			b.doc.byID[id] = e
		}
	}
	if e.name == "style" {
		b.doc.sheets = append(b.doc.sheets, e)
	}
	if kind := e.name; known(kind) {
		b.doc.kinds[kind]++
	} else {
		b.doc.kinds["unknown"]++
	}
}

func (b *builder) end() {
	if b.open == nil {
		return
	}
	if b.open.name == "style" {
		b.open.text = b.styles.String()
		b.styles.Reset()
	}
	b.open = b.open.parent
	b.depth--
}

// attributes keeps those without a namespace, references, and the labels and
// locks that drawing programs put on groups in namespaces of their own.
func attributes(all []xml.Attr) []attribute {
	kept := make([]attribute, 0, len(all))
	for _, a := range all {
		switch {
		case a.Name.Space == "xmlns" || a.Name.Local == "xmlns":
		case a.Name.Space == "":
			kept = append(kept, attribute{a.Name.Local, a.Value})
		case a.Name.Local == "href":
			kept = append(kept, attribute{"xlink:href", a.Value})
		case a.Name.Local == "label" || a.Name.Local == "insensitive":
			kept = append(kept, attribute{a.Name.Local, a.Value})
		}
	}
	return kept
}
