package api

import (
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"
)

// signedParam is the parameter of a link that is signed.
const signedParam = "signed"

// rules are what the operations of the specification need, by method and route.
type rules map[string]needs

// needs are the ways to be let in, of which one is enough.
type needs []need

// need is one way: a means, and of a key the scopes.
type need struct {
	by     means
	scopes []string
}

// takeRules takes out of the specification who may do what. It is taken out so
// that the check of requests does not look for keys itself.
func takeRules(spec *openapi3.T) rules {
	all := rules{}
	route := strings.NewReplacer("{", ":", "}", "")
	for path, item := range spec.Paths.Map() {
		for method, op := range item.Operations() {
			asked := spec.Security
			if op.Security != nil {
				asked = *op.Security
			}
			all[method+" "+route.Replace(path)] = needsOf(asked)
			op.Security = nil
		}
	}
	spec.Security = nil
	return all
}

func needsOf(asked openapi3.SecurityRequirements) (n needs) {
	for _, one := range asked {
		for name, scopes := range one {
			n = append(n, need{means(name), scopes})
		}
	}
	return n
}

// of returns what a request needs; false where anybody may send it.
func (r rules) of(c echo.Context) (needs, bool) {
	n := r[c.Request().Method+" "+c.Path()]
	return n, len(n) > 0
}

// takesLink says whether a signed link is one of the ways.
func (n needs) takesLink() bool {
	return slices.ContainsFunc(n, func(one need) bool { return one.by == byLink })
}

func (n needs) metBy(who caller) bool {
	for _, one := range n {
		keyed := one.by == byKey && (who.means == byKey || who.means == local)
		if keyed && !slices.ContainsFunc(one.scopes, func(s string) bool { return !who.scopes.Allow(s) }) {
			return true
		}
		if one.by != byKey && one.by == who.means {
			return true
		}
	}
	return false
}

// refusal says what a caller lacks that may not do something.
func (n needs) refusal(who caller) error {
	switch who.means {
	case nobody:
		return errKeyMissing
	case byKey:
		var scopes []string
		for _, one := range n {
			if one.by == byKey {
				scopes = append(scopes, one.scopes...)
			}
		}
		return forbidden("scope_missing", "The key does not have the scope that this needs.", "Use a key with the scope "+strings.Join(scopes, " or ")+".")
	case byLink:
		return errBrokenLink
	}
	return forbidden("not_with_token", "A token of a form is good for one drawing and its plans.", "Ask the workshop for what else you need.")
}
