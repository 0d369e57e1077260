package svg

import (
	"bytes"
	"io"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"

	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"
)

// rule is one selector with the declarations of its block.
type rule struct {
	selector
	order  int // place in the file
	normal []declaration
	urgent []declaration // those marked !important
}

// sheet holds the rules of all style elements, by the rightmost compound of
// their selector, so that an element is compared with few of them.
type sheet struct {
	byID, byClass, byTag map[string][]*rule
	rest                 []*rule
	count                int
	properties           map[string]property // by name
	steps                *budget.Budget      // comparisons with selectors, values set by rules
	notes                *drawing.Notes
}

func newSheet(b *budget.Budget, elements []*element, steps int, notes *drawing.Notes) *sheet {
	s := &sheet{byID: map[string][]*rule{}, byClass: map[string][]*rule{}, byTag: map[string][]*rule{}, properties: propertyNames(), steps: b.Allow(steps), notes: notes}
	for _, e := range elements {
		if kind := strings.ToLower(e.get("type")); kind != "" && kind != "text/css" {
			continue
		}
		if onScreen(e.get("media")) {
			s.read(b, e.text)
		}
	}
	return s
}

// onScreen reports whether a media query list holds for a plain screen. A
// query with conditions does not: nothing here has a width or a preference.
func onScreen(list string) bool {
	if strings.TrimSpace(list) == "" {
		return true
	}
	for query := range strings.SplitSeq(strings.ToLower(list), ",") {
		switch strings.Join(strings.Fields(query), " ") {
		case "all", "screen", "only screen", "only all", "not print":
			return true
		}
	}
	return false
}

// read adds the rules of one style sheet.
func (s *sheet) read(b *budget.Budget, text string) {
	p := css.NewParser(parse.NewInputString(s.stoppable(b, text)), false)
	var selectors []selector
	var normal, urgent []declaration
	skipping := 0 // depth inside blocks that do not apply
	for {
		b.Step()
		grammar, _, data := p.Next()
		switch grammar {
		case css.ErrorGrammar:
			if !p.HasParseError() || p.Err() == io.EOF {
				return
			}
		case css.AtRuleGrammar:
			if bytes.EqualFold(data, []byte("@import")) {
				s.notes.Add(drawing.ExternalReference, "style sheet", nil).Weight = drawing.Warns
			}
		case css.BeginAtRuleGrammar:
			if skipping > 0 || !s.applies(string(data), joined(p.Values())) {
				skipping++
			}
		case css.EndAtRuleGrammar:
			skipping = max(0, skipping-1)
		case css.BeginRulesetGrammar:
			values := p.Values()
			b.Spend(1 + len(values))
			var ok bool
			if selectors, ok = parseSelectors(values); !ok {
				s.notes.Add(drawing.StyleRuleIgnored, joined(values), nil)
			}
			normal, urgent = nil, nil
		case css.DeclarationGrammar:
			normal, urgent = s.addDeclaration(normal, urgent, data, p.Values())
		case css.EndRulesetGrammar:
			if skipping == 0 {
				s.add(selectors, normal, urgent)
			}
			selectors = nil
		}
	}
}

// maxTokens bounds the tokens of a selector list or of a declaration: the parser
// reads each as one piece, which cannot be stopped.
const maxTokens = 100_000

// stoppable returns a style sheet up to the first piece that is too long, and
// notes where there is one.
func (s *sheet) stoppable(b *budget.Budget, text string) string {
	if len(text) <= maxTokens {
		return text
	}
	l := css.NewLexer(parse.NewInputString(text))
	from, at, n := 0, 0, 0
	for {
		b.Step()
		kind, data := l.Next()
		at += len(data)
		n++
		switch kind {
		case css.ErrorToken:
			return text
		case css.LeftBraceToken, css.RightBraceToken, css.SemicolonToken:
			from, n = at, 0
		}
		if n > maxTokens {
			s.notes.Add(drawing.StyleRuleIgnored, text[from:], nil)
			return text[:from]
		}
	}
}

// applies reports whether the rules inside an at-rule hold. Where that cannot be
// told they are left out, and it is noted.
func (s *sheet) applies(rule, condition string) bool {
	rule = strings.ToLower(rule)
	condition = strings.ToLower(strings.TrimSpace(condition))
	switch rule {
	case "@media":
		if onScreen(condition) {
			return true
		}
		if condition == "print" || condition == "speech" || condition == "not screen" {
			return false
		}
	case "@supports": // of one property that is read here
		name, _, one := strings.Cut(strings.TrimSuffix(strings.TrimPrefix(condition, "("), ")"), ":")
		if _, known := s.properties[strings.TrimSpace(name)]; one && known && !strings.ContainsAny(name, "() ") && !strings.Contains(condition, ") ") {
			return true
		}
	case "@font-face", "@page", "@keyframes", "@-webkit-keyframes", "@counter-style", "@property":
		return false // nothing that bears on a cut, or motion
	}
	s.notes.Add(drawing.StyleRuleIgnored, strings.TrimSpace(rule+" "+condition), nil)
	return false
}

func joined(tokens []css.Token) string {
	var b strings.Builder
	for _, t := range tokens {
		b.Write(t.Data)
	}
	return b.String()
}

func (s *sheet) add(selectors []selector, normal, urgent []declaration) {
	if len(normal)+len(urgent) == 0 {
		return
	}
	for _, sel := range selectors {
		s.count++
		r := &rule{selector: sel, order: s.count, normal: normal, urgent: urgent}
		last := &sel.parts[len(sel.parts)-1]
		switch {
		case last.id != "":
			s.byID[last.id] = append(s.byID[last.id], r)
		case len(last.classes) > 0:
			s.byClass[last.classes[0]] = append(s.byClass[last.classes[0]], r)
		case last.tag != "":
			s.byTag[last.tag] = append(s.byTag[last.tag], r)
		default:
			s.rest = append(s.rest, r)
		}
	}
}

// matching returns the rules that select e, in no order.
func (s *sheet) matching(e *element) []*rule {
	if s.count == 0 {
		return nil
	}
	var found []*rule
	try := func(rules []*rule) {
		for _, r := range rules {
			if s.steps.Over() {
				return
			}
			if r.matches(e, s.steps) {
				found = append(found, r)
			}
		}
	}
	try(s.rest)
	try(s.byTag[e.name])
	if id, ok := e.attr("id"); ok {
		try(s.byID[id])
	}
	if class, ok := e.attr("class"); ok && len(s.byClass) > 0 {
		seen := map[string]bool{}
		for w := range strings.FieldsSeq(class) {
			if !seen[w] && s.steps.Spend(1) {
				seen[w] = true
				try(s.byClass[w])
			}
		}
	}
	return found
}
