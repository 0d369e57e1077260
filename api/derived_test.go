package api

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"knifedesk/jobs/trial"
	"knifedesk/jobs/view"
)

// edit makes of the JSON of a value what is shown of it, where the two differ on
// purpose.
type edit func(t *testing.T, value map[string]any)

// inner takes out members that are for use within, each of which must be there.
// A path goes down by dots; a list stands for all that it has.
func inner(paths ...string) edit {
	return func(t *testing.T, value map[string]any) {
		t.Helper()
		for _, path := range paths {
			at, name := "", path
			if i := strings.LastIndex(path, "."); i >= 0 {
				at, name = path[:i], path[i+1:]
			}
			holders := holding(value, at)
			for _, m := range holders {
				if _, is := m[name]; !is {
					t.Errorf("the value has no %s", path)
				}
				delete(m, name)
			}
			if len(holders) == 0 {
				t.Errorf("the value has no %s", at)
			}
		}
	}
}

// holding returns the objects that a path leads to.
func holding(value any, path string) (all []map[string]any) {
	switch v := value.(type) {
	case []any:
		for _, part := range v {
			all = append(all, holding(part, path)...)
		}
	case map[string]any:
		if path == "" {
			return []map[string]any{v}
		}
		first, rest, _ := strings.Cut(path, ".")
		return holding(v[first], rest)
	}
	return all
}

// renamed gives the objects at a path a member under another name.
func renamed(at, from, to string) edit {
	return func(_ *testing.T, value map[string]any) {
		for _, m := range holding(value, at) {
			m[to] = m[from]
			delete(m, from)
		}
	}
}

// flat shows what a part of an object holds, as if the object itself held it.
func flat(at, name, part string) edit {
	return func(_ *testing.T, value map[string]any) {
		for _, m := range holding(value, at) {
			outer := m[name].(map[string]any)
			maps.Copy(outer, outer[part].(map[string]any))
			delete(outer, part)
		}
	}
}

// worded puts the words for how a setting stands beside it.
func worded(s *trial.Standing) edit {
	return func(_ *testing.T, value map[string]any) {
		value["standing"].(map[string]any)["text"] = view.StandingText(*s)
	}
}

// helped links all findings and questions to the page of their code, as anything
// that shows them must. Nothing else has hints for technicians, or answers.
func helped(value any) {
	switch v := value.(type) {
	case []any:
		for _, part := range v {
			helped(part)
		}
	case map[string]any:
		_, found := v["technician_hint"]
		_, asked := v["answers"]
		if found || asked {
			v["help"] = fmt.Sprint("/help/", v["code"])
		}
		for _, part := range v {
			helped(part)
		}
	}
}

// edited returns the JSON of a value with its edits and with the links to help.
func edited(t *testing.T, v any, edits ...edit) any {
	t.Helper()
	out := generic(t, v)
	for _, change := range edits {
		change(t, out.(map[string]any))
	}
	helped(out)
	return out
}
