package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// filled puts something that looks right into the parameters of a path.
var filled = strings.NewReplacer("{report}", "stores.csv", "{picture}", "preview.svg", "{file}", "load-1.dxf", "{item_id}", "a", "{question_id}", "a",
	"{drawing_id}", someID, "{plan_id}", someID, "{posting_id}", someID, "{key_id}", someID, "{webhook_id}", someID, "{delivery_id}", someID,
	"{class_set_id}", someID, "{reference}", "a", "{load}", "1", "{replay}", "load-1.json", "{trial_id}", someID, "{stock_id}", "a", "{machine_id}", "a")

// Every example of the specification is one: what may be sent is taken as far as
// what it names is there, and what may come fits its schema.
func TestExamplesHold(t *testing.T) {
	d := open(t)
	sent, held := 0, 0
	for path, item := range d.spec.Paths.Map() {
		for method, op := range item.Operations() {
			for status, response := range op.Responses.Map() {
				for _, media := range response.Value.Content {
					if media.Example == nil {
						continue
					}
					held++
					if err := media.Schema.Value.VisitJSON(media.Example); err != nil {
						t.Errorf("%s answers %s: %v", op.OperationID, status, err)
					}
				}
			}
			if op.RequestBody == nil {
				continue
			}
			media := op.RequestBody.Value.Content["application/json"]
			if media == nil {
				continue
			}
			if media.Example == nil {
				t.Errorf("%s: nothing shows what to send", op.OperationID)
				continue
			}
			text, err := json.Marshal(media.Example)
			if err != nil {
				t.Fatal(err)
			}
			sent++
			a := d.call(t, method, filled.Replace(path), text, "Content-Type", "application/json")
			var p struct{ Code string }
			if a.status >= http.StatusBadRequest {
				a.json(t, &p)
			}
			if a.status >= 300 && !slices.Contains([]string{"not_found", "id_differs", "unknown_item"}, p.Code) {
				t.Errorf("%s: %d %s", op.OperationID, a.status, a.body)
			}
		}
	}
	if sent < 15 || held < 5 {
		t.Errorf("%d were sent and %d held", sent, held)
	}
}

// Whatever is taken has bounds, so that no number, text or list is endless.
func TestWhatIsTakenIsBounded(t *testing.T) {
	spec, err := specOnce()
	if err != nil {
		t.Fatal(err)
	}
	b := bounds{t: t, seen: map[string]bool{}}
	for path, item := range spec.Paths.Map() {
		for method, op := range item.Operations() {
			for _, p := range slices.Concat(item.Parameters, op.Parameters) {
				b.hold(method+" "+path+" "+p.Value.Name, p.Value.Schema)
			}
			if op.RequestBody != nil {
				if media := op.RequestBody.Value.Content["application/json"]; media != nil {
					b.hold(op.OperationID, media.Schema)
				}
			}
		}
	}
}

type bounds struct {
	t    *testing.T
	seen map[string]bool // schemas by their names
}

func (b bounds) hold(at string, ref *openapi3.SchemaRef) {
	if ref.Ref != "" {
		if b.seen[ref.Ref] {
			return
		}
		b.seen[ref.Ref] = true
		at = strings.TrimPrefix(ref.Ref, "#/components/schemas/")
	}
	s := ref.Value
	if s.ReadOnly {
		return
	}
	for _, part := range s.AllOf {
		b.hold(at, part)
	}
	switch {
	case len(s.Enum) > 0 || s.Type == nil || s.Type.Includes("boolean"):
	case s.Type.Includes("number") || s.Type.Includes("integer"):
		if s.Max == nil && s.ExclusiveMax.Value == nil && s.ExclusiveMax.Bool == nil {
			b.t.Errorf("%s: a number without an end", at)
		}
	case s.Type.Includes("string"):
		if s.MaxLength == nil && s.Pattern == "" && s.Format == "" {
			b.t.Errorf("%s: a text without an end", at)
		}
	case s.Type.Includes("array"):
		if s.MaxItems == nil && !s.UniqueItems {
			b.t.Errorf("%s: a list without an end", at)
		}
		b.hold(at+"[]", s.Items)
	case s.AdditionalProperties.Schema != nil && s.MaxProps == nil:
		b.t.Errorf("%s: names without an end", at)
	}
	for name, property := range s.Properties {
		b.hold(fmt.Sprintf("%s.%s", at, name), property)
	}
	if s.AdditionalProperties.Schema != nil {
		b.hold(at+"{}", s.AdditionalProperties.Schema)
	}
}
