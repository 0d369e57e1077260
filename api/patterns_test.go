package api_test

import (
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"knifedesk/api"
)

// Whoever writes a text that is not taken is told one that is. Source: the patterns of
// the specification, which take a word of the advice.
func TestAdviceIsTaken(t *testing.T) {
	d := open(t)
	spec, err := api.Spec()
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for path, item := range spec.Paths.Map() {
		op := item.Get
		if op == nil {
			continue
		}
		parameters := slices.Concat(item.Parameters, op.Parameters)
		for _, p := range parameters {
			if p.Value.In != openapi3.ParameterInPath || p.Value.Schema.Value.Pattern == "" {
				continue
			}
			asked++
			url := path
			for _, other := range parameters {
				text := right(other.Value.Schema.Value)
				if other == p {
					text = "~wrong~"
				}
				url = strings.Replace(url, "{"+other.Value.Name+"}", text, 1)
			}
			advised(t, d.refuses(t, d.call(t, http.MethodGet, url, nil), 422, "invalid_parameter"), url, p.Value.Schema.Value.Pattern)
		}
	}
	if asked < 20 {
		t.Errorf("only %d parameters have a pattern", asked)
	}
	components := spec.Components.Schemas
	for _, c := range []struct{ name, method, path, body, pattern string }{
		{"a colour", "POST", "/v1/plans", `{"stock_id":"card-220-a4","drawing_id":"0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5","films":[{"stock_id":"card-220-a4","colour":"teal"}]}`, components["Colour"].Value.Pattern},
		{"a day", "POST", "/v1/settings/card-220/trials", `{"passed":[1],"too_light":[],"too_deep":[],"tested_by":"staff","day":"30 September"}`, "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
	} {
		a := d.call(t, c.method, c.path, []byte(c.body), asJSON()...)
		advised(t, d.refuses(t, a, 422, "invalid_body"), c.name, c.pattern)
	}
}

// right is a text that a parameter takes.
func right(s *openapi3.Schema) string {
	taken := regexp.MustCompile(s.Pattern)
	for _, text := range []string{"0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5", "load-1.json", "load-1.dxf", "card-220-a4.svg", "sheet.pdf", "cut.svg", "card", "1"} {
		if s.Pattern != "" && taken.MatchString(text) {
			return text
		}
	}
	if len(s.Enum) > 0 {
		return s.Enum[0].(string)
	}
	return "1"
}

// advised holds that a word of what a problem says to change is taken, and that nothing
// it names as a file is not.
func advised(t *testing.T, p api.Problem, where, pattern string) {
	t.Helper()
	taken := regexp.MustCompile(pattern)
	if taken.MatchString("any words") {
		return
	}
	found := false
	for _, word := range strings.Fields(p.Change) {
		word = strings.Trim(word, `.,;"`)
		found = found || taken.MatchString(word) && regexp.MustCompile(`[0-9.#-]`).MatchString(word)
		if file := regexp.MustCompile(`^[a-z0-9-]+\.(svg|dxf|plt|pdf|json|txt)$`); file.MatchString(word) && !taken.MatchString(word) {
			t.Errorf("%s: %q names %s, which is not taken by %s", where, p.Change, word, pattern)
		}
	}
	if !found {
		t.Errorf("%s: %q shows nothing that %s takes", where, p.Change, pattern)
	}
}
