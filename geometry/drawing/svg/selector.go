package svg

import (
	"strings"

	"knifedesk/geometry/budget"

	"github.com/tdewolff/parse/v2/css"
)

// selector is a complex selector: compounds joined by combinators, read from
// right to left when it is matched (Selectors 4, section 3).
type selector struct {
	parts []compound
	joins []byte // joins[i] stands between parts[i] and parts[i+1]: ' ', '>', '+' or '~'
	// weight is the specificity: ids, then classes, attributes and
	// pseudo-classes, then types, 10 bits for each.
	weight int
}

// compound is a set of conditions on one element.
type compound struct {
	tag     string // empty for any
	id      string
	classes []string
	tests   []test
}

// test is one condition that is neither type, id nor class.
type test struct {
	name  string // attribute, or the pseudo-class with its colon
	op    byte   // 0: there; '=', '~', '|', '^', '$' or '*' as in the operator
	value string
	fold  bool // letter case does not matter
}

// maxSelectors bounds the selectors of one rule.
const maxSelectors = 4096

// parseSelectors reads a list of selectors. Those with a part that is not
// known are left out and ok is false.
func parseSelectors(tokens []css.Token) (all []selector, ok bool) {
	ok = true
	for len(tokens) > 0 {
		end := 0
		for depth := 0; end < len(tokens); end++ {
			switch tokens[end].TokenType {
			case css.FunctionToken, css.LeftParenthesisToken, css.LeftBracketToken:
				depth++
			case css.RightParenthesisToken, css.RightBracketToken:
				depth--
			}
			if tokens[end].TokenType == css.CommaToken && depth == 0 {
				break
			}
		}
		if len(all) == maxSelectors {
			return all, false
		}
		if s, good := parseSelector(tokens[:end]); good {
			all = append(all, s)
		} else {
			ok = false
		}
		tokens = tokens[min(end+1, len(tokens)):]
	}
	return all, ok
}

func parseSelector(tokens []css.Token) (selector, bool) {
	var s selector
	for len(tokens) > 0 && tokens[0].TokenType == css.WhitespaceToken {
		tokens = tokens[1:]
	}
	for {
		part, rest, ok := s.compound(tokens)
		if !ok {
			return s, false
		}
		s.parts = append(s.parts, part)
		join := byte(0)
		for len(rest) > 0 && (rest[0].TokenType == css.WhitespaceToken || isJoin(rest[0])) {
			if join == 0 || join == ' ' {
				join = rest[0].Data[0]
			}
			if join != '>' && join != '+' && join != '~' {
				join = ' '
			}
			rest = rest[1:]
		}
		if len(rest) == 0 {
			return s, join == 0 || join == ' '
		}
		if join == 0 {
			return s, false
		}
		s.joins = append(s.joins, join)
		tokens = rest
	}
}

func isJoin(t css.Token) bool {
	return t.TokenType == css.DelimToken && strings.IndexByte(">+~", t.Data[0]) >= 0
}

const (
	weightID    = 1 << 20
	weightClass = 1 << 10
	weightType  = 1
)

// compound reads one compound selector and adds its weight to s.
func (s *selector) compound(tokens []css.Token) (compound, []css.Token, bool) {
	var c compound
	taken := 0
	for len(tokens) > 0 {
		t := tokens[0]
		n := 1
		switch {
		case t.TokenType == css.IdentToken && taken == 0:
			c.tag = string(t.Data)
			s.weight += weightType
		case t.TokenType == css.DelimToken && t.Data[0] == '*' && taken == 0:
		case t.TokenType == css.HashToken:
			c.id = string(t.Data[1:])
			s.weight += weightID
		case t.TokenType == css.DelimToken && t.Data[0] == '.' && len(tokens) > 1 && tokens[1].TokenType == css.IdentToken:
			c.classes = append(c.classes, string(tokens[1].Data))
			s.weight += weightClass
			n = 2
		case t.TokenType == css.LeftBracketToken:
			var ok bool
			if n, ok = c.attribute(tokens); !ok {
				return c, nil, false
			}
			s.weight += weightClass
		case t.TokenType == css.ColonToken && len(tokens) > 1 && pseudo(strings.ToLower(string(tokens[1].Data))):
			c.tests = append(c.tests, test{name: ":" + strings.ToLower(string(tokens[1].Data))})
			s.weight += weightClass
			n = 2
		default:
			return c, tokens, taken > 0 && (t.TokenType == css.WhitespaceToken || isJoin(t))
		}
		taken++
		tokens = tokens[n:]
	}
	return c, nil, taken > 0
}

// pseudo reports whether a pseudo-class is one that depends on the document alone.
func pseudo(name string) bool {
	return name == "root" || name == "first-child" || name == "last-child" || name == "only-child"
}

// attribute reads [name], [name=value] and the like; n counts the tokens.
func (c *compound) attribute(tokens []css.Token) (n int, ok bool) {
	var words []css.Token
	for n = 1; n < len(tokens) && tokens[n].TokenType != css.RightBracketToken; n++ {
		if tokens[n].TokenType != css.WhitespaceToken {
			words = append(words, tokens[n])
		}
	}
	if n == len(tokens) || len(words) == 0 || words[0].TokenType != css.IdentToken {
		return 0, false
	}
	t := test{name: string(words[0].Data)}
	switch {
	case len(words) == 1:
	case len(words) == 3 || len(words) == 4 && strings.EqualFold(string(words[3].Data), "i"):
		t.op = words[1].Data[0]
		t.value = unquote(string(words[2].Data))
		t.fold = len(words) == 4
	default:
		return 0, false
	}
	c.tests = append(c.tests, t)
	return n + 1, true
}

func unquote(s string) string {
	if len(s) >= 2 && (s[0] == '"' || s[0] == '\'') && s[len(s)-1] == s[0] {
		return s[1 : len(s)-1]
	}
	return s
}

// matches reports whether e is selected by s. It stops with false when the
// budget is used up.
func (s *selector) matches(e *element, b *budget.Budget) bool {
	return s.matchesFrom(len(s.parts)-1, e, b)
}

func (s *selector) matchesFrom(i int, e *element, b *budget.Budget) bool {
	if !b.Spend(1+e.size/64) || !s.parts[i].matches(e) {
		return false
	}
	if i == 0 {
		return true
	}
	switch s.joins[i-1] {
	case '>':
		return e.parent != nil && s.matchesFrom(i-1, e.parent, b)
	case '+':
		return e.parent != nil && e.index > 0 && s.matchesFrom(i-1, e.parent.children[e.index-1], b)
	case '~':
		for j := e.index - 1; e.parent != nil && j >= 0; j-- {
			if s.matchesFrom(i-1, e.parent.children[j], b) {
				return true
			}
		}
		return false
	}
	for up := e.parent; up != nil; up = up.parent {
		if s.matchesFrom(i-1, up, b) {
			return true
		}
	}
	return false
}

func (c *compound) matches(e *element) bool {
	if c.tag != "" && c.tag != e.name {
		return false
	}
	if id, ok := e.attr("id"); c.id != "" && (!ok || id != c.id) {
		return false
	}
	for _, want := range c.classes {
		if class, _ := e.attr("class"); !hasWord(class, want) {
			return false
		}
	}
	for _, t := range c.tests {
		if !t.matches(e) {
			return false
		}
	}
	return true
}

// hasWord reports whether word is one of the words of list.
func hasWord(list, word string) bool {
	for w := range strings.FieldsSeq(list) {
		if w == word {
			return true
		}
	}
	return false
}

func (t *test) matches(e *element) bool {
	switch t.name {
	case ":root":
		return e.parent == nil
	case ":first-child":
		return e.parent != nil && e.index == 0
	case ":last-child":
		return e.parent != nil && e.index == len(e.parent.children)-1
	case ":only-child":
		return e.parent != nil && len(e.parent.children) == 1
	}
	have, ok := e.attr(t.name)
	return ok && t.holds(have)
}

// holds reports whether an attribute passes t by its value.
func (t *test) holds(have string) bool {
	want := t.value
	if t.fold {
		have, want = strings.ToLower(have), strings.ToLower(want)
	}
	switch t.op {
	case 0:
		return true
	case '=':
		return have == want
	case '~':
		return want != "" && hasWord(have, want)
	case '|':
		return have == want || strings.HasPrefix(have, want+"-")
	case '^':
		return want != "" && strings.HasPrefix(have, want)
	case '$':
		return want != "" && strings.HasSuffix(have, want)
	case '*':
		return want != "" && strings.Contains(have, want)
	}
	return false
}
