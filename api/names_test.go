package api_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"knifedesk/api"
)

// A form takes every field that the specification gives it, the ids by their names
// in JSON too, and nothing by both.
func TestFormsTakeTheNamesOfJSON(t *testing.T) {
	d := open(t)
	fields := d.spec.Components.Schemas["PlanForm"].Value.Properties
	for name := range d.spec.Components.Schemas["PlanRequest"].Value.Properties {
		if strings.HasSuffix(name, "_id") && name != "drawing_id" && fields[name] == nil {
			t.Errorf("the form has no %s", name)
		}
	}
	for name := range fields {
		if name == "drawing" {
			continue
		}
		body, kind := form(t, "plate.svg", []byte(plate), name, "x")
		if code := d.call(t, "POST", "/v1/plans", body, "Content-Type", kind).code(t); code == "unknown_field" {
			t.Errorf("the form does not take %s", name)
		}
	}
	body, kind := form(t, "plate.svg", []byte(plate), "stock_id", "film-removable-610", "machine_id", "wide-610", "convention_id", "orrin", "price_list_id", "orrin")
	d.call(t, "POST", "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=30").wants(t, "the names of JSON", http.StatusOK, "")
	body, kind = form(t, "plate.svg", []byte(plate), "stock_id", "film-removable-610", "stock", "card-220-a4")
	d.call(t, "POST", "/v1/plans", body, "Content-Type", kind).wants(t, "both names", http.StatusUnprocessableEntity, "repeated_field")
}

// Every call that has a plan worked out waits for it where that is asked for, gives
// it as text too, and says where it is.
func TestEveryCallThatYieldsAPlan(t *testing.T) {
	d := open(t)
	p := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	at := p.Links["self"]
	question := p.Questions[0].ID
	for _, c := range []struct{ method, path, body, says string }{
		{"POST", at + "/answers", `{"answers":{"` + question + `":{"answer":"nothing"}}}`, "status     ready"},
		{"DELETE", at + "/answers/" + strings.ReplaceAll(question, "/", "%2F"), "", "status     asking"},
		{"POST", "/v1/plans", `{"drawing_id":"` + p.DrawingID.String() + `","stock_id":"card-220-a4"}`, "status     ready"},
	} {
		headers := []string{"Prefer", "wait=30", "Accept", "text/plain"}
		if c.body != "" {
			headers = append(headers, "Content-Type", "application/json")
		}
		a := d.call(t, c.method, c.path, []byte(c.body), headers...)
		where := a.header.Get("Location")
		if a.status != http.StatusOK || !strings.Contains(string(a.body), c.says) || !strings.HasPrefix(where, "/v1/plans/") || strings.HasPrefix(c.path, at) && where != at {
			t.Errorf("%s %s: %d at %q: %.200s", c.method, c.path, a.status, where, a.body)
		}
	}
	if a := d.call(t, "DELETE", at, nil, "Accept", "text/plain"); a.status != http.StatusOK || !strings.HasPrefix(string(a.body), "status     ") {
		t.Errorf("cancelling: %d %.200s", a.status, a.body)
	}
	for path, item := range d.spec.Paths.Map() {
		for method, op := range item.Operations() {
			for status, r := range op.Responses.Map() {
				media := r.Value.Content["application/json"]
				if media != nil && media.Schema.Ref == "#/components/schemas/Plan" && r.Value.Content["text/plain"] == nil {
					t.Errorf("%s %s answers %s with a plan, and not as text", method, path, status)
				}
			}
		}
	}
}

// A name is the same in both forms of Unicode: a file from a computer that keeps accents
// apart from the letters is that of the person on the roster, takes the place of what they
// sent before, is found, and is erased.
func TestNamesInEitherForm(t *testing.T) {
	d := guarded{open(t)}
	const one, apart = "\u00e9ve", "e\u0301ve"
	a := d.as(t, "", "POST", "/v1/class-sets", `{"client_reference":"cours d'`+apart+`","terms":{"stock_ids":["film-removable-610"],"frame":"none"},"roster":["`+one+`","`+apart+`","ada"]}`)
	a.wants(t, "a set", http.StatusCreated, "")
	at := a.header.Get("Location")
	for _, name := range []string{apart, one} {
		d.adds(t, "", at, []string{"Prefer", "wait=30"}, name+".svg", plate).wants(t, name, http.StatusOK, "")
	}
	s := d.set(t, "", at)
	if len(s.Members) != 1 || s.Members[0].Reference != one || !slices.Equal(s.Roster.Expected, []string{"ada", one}) || len(s.Roster.NotExpected) > 0 || s.Roster.NothingReceived != 1 {
		t.Errorf("members %+v of %+v", s.Members, s.Roster)
	}
	body, kind := form(t, "sign.svg", []byte(plate), "stock", "film-removable-610", "client_reference", apart)
	d.call(t, "POST", "/v1/plans", body, "Content-Type", kind, "Prefer", "wait=30").wants(t, "a plan", http.StatusOK, "")
	for _, name := range []string{one, apart} {
		var list struct{ Plans []api.PlanHead }
		d.as(t, "", "GET", "/v1/plans?client_reference="+url.QueryEscape(name), "").json(t, &list)
		if len(list.Plans) != 3 {
			t.Errorf("%d plans of %q, want the two of the set and the one beside it", len(list.Plans), name)
		}
	}
	var gone api.Erasure
	d.as(t, "", "DELETE", "/v1/plans?client_reference="+url.QueryEscape(apart), "").json(t, &gone)
	if gone.Plans != 3 {
		t.Errorf("%d plans of 3 were erased", gone.Plans)
	}
}

// Marks that nobody sees, which come along when a name is copied from a page, make no other
// person of anybody: not on the roster, not of a file, and not where one is taken out.
func TestNamesWithMarksThatNobodySees(t *testing.T) {
	d := guarded{open(t)}
	a := d.as(t, "", "POST", "/v1/class-sets", `{"terms":{"stock_ids":["film-removable-610"],"frame":"none"},"roster":["ada\u200b","\u202aben","cy\u00a0lee"]}`)
	a.wants(t, "a set", http.StatusCreated, "")
	at := a.header.Get("Location")
	for _, name := range []string{"ada", "ben\ufeff", "cy lee"} {
		d.adds(t, "", at, []string{"Prefer", "wait=30"}, name+".svg", plate).wants(t, name, http.StatusOK, "")
	}
	s := d.set(t, "", at)
	if len(s.Members) != 3 || !slices.Equal(s.Roster.Expected, []string{"ada", "ben", "cy lee"}) || len(s.Roster.NotExpected) > 0 || s.Roster.NothingReceived != 0 {
		t.Errorf("members %+v of %+v", s.Members, s.Roster)
	}
	d.as(t, "", "DELETE", at+"/members/"+url.PathEscape("a\u00adda"), "").wants(t, "taking one out", http.StatusNoContent, "")
	if s := d.set(t, "", at); len(s.Members) != 2 {
		t.Errorf("%d members are left", len(s.Members))
	}
	d.adds(t, "", at, nil, "\u200b.svg", plate).wants(t, "a name of which nothing is seen", http.StatusUnprocessableEntity, "invalid_field")
}
