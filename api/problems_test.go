package api_test

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"net/url"
	"slices"
	"strings"
	"testing"

	"knifedesk/api"
)

// refusal is a request that is not right, and what it is answered.
type refusal struct {
	name, method, path string
	body               []byte
	headers            []string
	status             int
	code               string
}

// someID is the id of nothing, and some the path of a plan that is not there.
const (
	someID = "0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5"
	some   = "/v1/plans/" + someID
)

func asJSON() []string { return []string{"Content-Type", "application/json"} }

// anOrder is a body that asks for a plan, with more fields.
func anOrder(more string) []byte {
	return []byte(`{"stock_id":"card-220-a4","drawing_id":"` + someID + `"` + more + `}`)
}

func refusedPaths() []refusal {
	return []refusal{
		{"no such path", "GET", "/v2/plans", nil, nil, 404, "no_such_path"},
		{"a slash too many", "GET", some + "/previews/size.svg/", nil, nil, 404, "no_such_path"},
		{"a path upwards", "GET", "/docs/../../etc/passwd", nil, nil, 404, "no_such_path"},
		{"a part of the reference that is not there", "GET", "/docs/nothing", nil, nil, 404, "no_such_path"},
		{"wrong method", "PATCH", "/v1/plans", nil, nil, 405, "method_not_allowed"},
		{"an invented method", "CUT", "/v1/plans", nil, nil, 405, "method_not_allowed"},
		{"wrong method for the page", "DELETE", "/", nil, nil, 405, "method_not_allowed"},
		{"another host", "GET", "/v1/plans", nil, []string{"Host", "a.example"}, 421, "wrong_host"},

		{"not a uuid", "GET", "/v1/plans/seven", nil, nil, 422, "invalid_parameter"},
		{"a uuid in braces", "GET", "/v1/plans/{0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5}", nil, nil, 422, "invalid_parameter"},
		{"a zero byte in the path", "GET", "/v1/plans/%00", nil, nil, 422, "invalid_parameter"},
		{"another picture", "GET", some + "/previews/size.gif", nil, nil, 422, "invalid_parameter"},
		{"load 0", "GET", some + "/previews/layout.svg?load=0", nil, nil, 422, "invalid_parameter"},
		{"a load past all numbers", "GET", some + "/previews/layout.svg?load=99999999999999999999", nil, nil, 422, "invalid_parameter"},
		{"a load twice", "GET", some + "/previews/layout.svg?load=1&load=2", nil, nil, 422, "repeated_parameter"},
		{"bad cursor", "GET", "/v1/plans?cursor=abc", nil, nil, 422, "invalid_cursor"},
		{"limit out of range", "GET", "/v1/plans?limit=1000", nil, nil, 422, "invalid_parameter"},
		{"unknown parameter", "GET", "/v1/plans?state=ready", nil, nil, 422, "unknown_parameter"},
		{"broken query", "GET", "/v1/plans?client_reference=%zz", nil, nil, 400, "malformed_query"},
		{"a zero byte in the query", "GET", "/v1/plans?client_reference=a%00", nil, nil, 422, "invalid_text"},
		{"no UTF-8 in the query", "GET", "/v1/plans?client_reference=%ff", nil, nil, 422, "invalid_text"},
		{"a long Prefer", "GET", some, nil, []string{"Prefer", strings.Repeat("x", 300)}, 422, "invalid_parameter"},
		{"a key in broken text", "POST", "/v1/drawings", []byte(plate), []string{"Idempotency-Key", "\xff"}, 422, "invalid_text"},
	}
}

func refusedOrders() []refusal {
	return []refusal{
		{"not JSON", "POST", "/v1/plans", []byte("{"), asJSON(), 400, "malformed_body"},
		{"a byte order mark", "POST", "/v1/plans", append([]byte("\ufeff"), anOrder("")...), asJSON(), 400, "malformed_body"},
		{"no copies", "POST", "/v1/plans", anOrder(`,"copies":null`), asJSON(), 422, "invalid_body"},
		{"no body", "POST", "/v1/plans", nil, asJSON(), 422, "missing_body"},
		{"two values", "POST", "/v1/plans", append(anOrder(""), " {}"...), asJSON(), 400, "malformed_body"},
		{"a field twice", "POST", "/v1/plans", anOrder(`,"stock_id":"film-removable-610"`), asJSON(), 422, "repeated_field"},
		{"no object", "POST", "/v1/plans", []byte("[]"), asJSON(), 422, "invalid_body"},
		{"null", "POST", "/v1/plans", []byte("null"), asJSON(), 422, "invalid_body"},
		{"deep", "POST", "/v1/plans", anOrder(`,"options":` + strings.Repeat("[", 300000) + strings.Repeat("]", 300000)), asJSON(), 400, "malformed_body"},
		{"long", "POST", "/v1/plans", anOrder(`,"turned":[` + strings.Repeat("1,", 600000) + `1]`), asJSON(), 413, "too_large"},
		{"broken text", "POST", "/v1/plans", anOrder(",\"client_reference\":\"\xff\""), asJSON(), 422, "invalid_text"},
		{"half a character", "POST", "/v1/plans", anOrder(`,"client_reference":"\ud800"`), asJSON(), 422, "invalid_text"},
		{"a zero byte", "POST", "/v1/plans", anOrder(`,"client_reference":"a\u0000"`), asJSON(), 422, "invalid_text"},
		{"missing field", "POST", "/v1/plans", []byte(`{"stock_id":"card-220-a4"}`), asJSON(), 422, "invalid_body"},
		{"unknown field", "POST", "/v1/plans", anOrder(`,"colour":"teal"`), asJSON(), 422, "invalid_body"},
		{"copies in quotes", "POST", "/v1/plans", anOrder(`,"copies":"3"`), asJSON(), 422, "invalid_body"},
		{"copies with a point", "POST", "/v1/plans", anOrder(`,"copies":2.0`), asJSON(), 422, "invalid_body"},
		{"too many copies", "POST", "/v1/plans", anOrder(`,"copies":1e18`), asJSON(), 422, "invalid_body"},
		{"a scale past all sizes", "POST", "/v1/plans", anOrder(`,"size":{"scale":1e300}`), asJSON(), 422, "invalid_body"},
		{"a region turned twice", "POST", "/v1/plans", anOrder(`,"turned":[3,3]`), asJSON(), 422, "invalid_body"},
		{"a mend that is not there", "POST", "/v1/plans", anOrder(`,"options":{"mends_off":["all"]}`), asJSON(), 422, "invalid_body"},
		{"a page of an unknown drawing", "POST", "/v1/plans", anOrder(`,"options":{"page":2}`), asJSON(), 404, "not_found"},
		{"a question without a name", "POST", "/v1/plans", anOrder(`,"answers":{"":{"answer":"a"}}`), asJSON(), 422, "invalid_body"},
		{"a question with a long name", "POST", "/v1/plans", anOrder(`,"answers":{"` + strings.Repeat("q", 201) + `":{"answer":"a"}}`), asJSON(), 422, "invalid_body"},
		{"two sizes", "POST", "/v1/plans", anOrder(`,"size":{"scale":2,"unit":"mm"}`), asJSON(), 422, "invalid_choice"},
		{"unknown drawing", "POST", "/v1/plans", anOrder(""), asJSON(), 404, "not_found"},
		{"no drawing's id", "POST", "/v1/plans", []byte(`{"stock_id":"card-220-a4","drawing_id":"00000000-0000-0000-0000-000000000000"}`), asJSON(), 404, "not_found"},
		{"unknown older plan", "POST", "/v1/plans", anOrder(`,"supersedes":"0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5"`), asJSON(), 404, "not_found"},
	}
}

func refusedBodies() []refusal {
	return []refusal{
		{"wrong content type", "POST", "/v1/plans", []byte("x"), []string{"Content-Type", "text/csv"}, 415, "unsupported_media_type"},
		{"a drawing as JSON", "POST", "/v1/drawings", []byte(plate), asJSON(), 415, "unsupported_media_type"},
		{"a drawing as a picture", "POST", "/v1/drawings", []byte(plate), []string{"Content-Type", "image/png"}, 415, "unsupported_media_type"},
		{"answers as a form", "POST", some + "/answers", []byte("--b--\r\n"), []string{"Content-Type", "multipart/form-data; boundary=b"}, 415, "unsupported_media_type"},
		{"compressed", "POST", "/v1/drawings", []byte(plate), []string{"Content-Encoding", "gzip"}, 415, "unsupported_encoding"},
		{"too large", "POST", "/v1/drawings", make([]byte, 2<<20), nil, 413, "too_large"},
		{"empty file", "POST", "/v1/drawings", nil, nil, 422, "empty_file"},
		{"a zero byte in the name", "POST", "/v1/drawings?name=a%00", []byte(plate), nil, 422, "invalid_text"},
		{"a long name", "POST", "/v1/drawings?name=" + strings.Repeat("a", 300), []byte(plate), nil, 422, "invalid_parameter"},
	}
}

// Every request that is not right is refused with a code, and leaves nothing.
func TestProblems(t *testing.T) {
	d := open(t)
	for _, tt := range slices.Concat(refusedPaths(), refusedOrders(), refusedBodies()) {
		t.Run(tt.name, func(t *testing.T) {
			a := d.call(t, tt.method, tt.path, tt.body, tt.headers...)
			p := d.refuses(t, a, tt.status, tt.code)
			if tt.status == 405 && a.header.Get("Allow") == "" {
				t.Error("it does not say which methods there are")
			}
			if strings.Contains(p.Detail+p.Change, "teal") {
				t.Errorf("a value comes back: %s", a.body)
			}
		})
	}
	d.holds(t, 0)
	if a := d.call(t, "POST", "/v1/plans", append([]byte("\ufeff"), anOrder("")...), asJSON()...); !strings.Contains(string(a.body), "byte order mark") {
		t.Errorf("%s", a.body)
	}
}

// part is one of a form, with the header as it stands there.
type part struct{ header, text string }

func field(name, value string) part { return part{fmt.Sprintf(`form-data; name="%s"`, name), value} }
func file(name, value string) part {
	return part{fmt.Sprintf(`form-data; name="drawing"; filename="%s"`, name), value}
}

func rawForm(t *testing.T, parts ...part) (body []byte, contentType string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, p := range parts {
		out, err := w.CreatePart(textproto.MIMEHeader{"Content-Disposition": {p.header}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := out.Write([]byte(p.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), w.FormDataContentType()
}

func TestProblemsOfForms(t *testing.T) {
	d := open(t)
	drawing, stock := file("a.svg", plate), field("stock", "card-220-a4")
	var answers []part
	for i := range 1200 {
		answers = append(answers, field("answer", fmt.Sprint("q", i, "=a")))
	}
	for _, tt := range []struct {
		name   string
		parts  []part
		status int
		code   string
	}{
		{"no drawing", []part{stock}, 422, "missing_drawing"},
		{"a drawing that is a text", []part{field("drawing", "sign.dxf"), stock}, 422, "missing_drawing"},
		{"two drawings", []part{drawing, file("b.svg", folded), stock}, 422, "repeated_field"},
		{"an empty drawing", []part{file("a.svg", ""), stock}, 422, "empty_file"},
		{"no stock", []part{drawing}, 422, "invalid_choice"},
		{"two stocks", []part{drawing, stock, field("stock", "film-removable-610")}, 422, "repeated_field"},
		{"another file", []part{drawing, stock, {`form-data; name="extra"; filename="b.svg"`, plate}}, 422, "unknown_field"},
		{"unknown field", []part{drawing, stock, field("colour", "teal")}, 422, "unknown_field"},
		{"a part without a name", []part{drawing, stock, {"form-data", "x"}}, 400, "malformed_form"},
		{"a zero byte in the file's name", []part{file("a\x00.svg", plate), stock}, 400, "malformed_form"},
		{"no UTF-8 in the file's name", []part{file("\xff.svg", plate), stock}, 422, "invalid_text"},
		{"a long name", []part{file(strings.Repeat("a", 300), plate), stock}, 422, "invalid_field"},
		{"a zero byte in the reference", []part{drawing, stock, field("client_reference", "a\x00b")}, 422, "invalid_text"},
		{"a long reference", []part{drawing, stock, field("client_reference", strings.Repeat("a", 300))}, 422, "invalid_field"},
		{"a field as long as a file", []part{drawing, stock, field("client_reference", strings.Repeat("a", 100000))}, 422, "invalid_field"},
		{"copies that are no number", []part{drawing, stock, field("copies", "1e3")}, 422, "invalid_field"},
		{"too many copies", []part{drawing, stock, field("copies", "10001")}, 422, "invalid_choice"},
		{"a scale that is no number", []part{drawing, stock, field("scale", "NaN")}, 422, "invalid_field"},
		{"a scale in base 16", []part{drawing, stock, field("scale", "0x1p4")}, 422, "invalid_field"},
		{"a width past all sizes", []part{drawing, stock, field("width_mm", "1e9")}, 422, "invalid_field"},
		{"width and height", []part{drawing, stock, field("width_mm", "10"), field("height_mm", "10")}, 422, "invalid_field"},
		{"unknown unit", []part{drawing, stock, field("unit", "ell")}, 422, "invalid_choice"},
		{"unknown purpose", []part{drawing, stock, field("purpose", "fun")}, 422, "invalid_choice"},
		{"mirror", []part{drawing, stock, field("mirror", "perhaps")}, 422, "invalid_field"},
		{"options that are a list", []part{drawing, stock, field("options", "[]")}, 422, "invalid_field"},
		{"options that are null", []part{drawing, stock, field("options", "null")}, 422, "invalid_field"},
		{"options with more behind", []part{drawing, stock, field("options", "{} {}")}, 400, "malformed_body"},
		{"an option that is not there", []part{drawing, stock, field("options", `{"fast":true}`)}, 422, "invalid_field"},
		{"an option out of range", []part{drawing, stock, field("options", `{"page":-5}`)}, 422, "invalid_field"},
		{"a page of a file without pages", []part{drawing, stock, field("options", `{"page":2}`)}, 422, "invalid_choice"},
		{"a mend that is not there", []part{drawing, stock, field("options", `{"mends_off":["all"]}`)}, 422, "invalid_field"},
		{"an answer without a question", []part{drawing, stock, field("answer", "a4")}, 422, "invalid_field"},
		{"a question twice", []part{drawing, stock, field("answer", "size=a"), field("answer", "size=b")}, 422, "invalid_field"},
		{"very many parts", append([]part{drawing, stock}, answers...), 400, "malformed_form"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			body, kind := rawForm(t, tt.parts...)
			d.refuses(t, d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind), tt.status, tt.code)
		})
	}
	body, kind := rawForm(t, drawing, stock)
	d.refuses(t, d.call(t, http.MethodPost, "/v1/plans", body[:len(body)-20], "Content-Type", kind), 400, "malformed_form")
	d.refuses(t, d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind+"x"), 400, "malformed_form")
	d.refuses(t, d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", "multipart/form-data"), 400, "malformed_form")
	d.holds(t, 0)
}

// What is asked of a plan at the wrong time is refused as well.
func TestProblemsOfAnswers(t *testing.T) {
	d := open(t)
	p := d.submit(t, "folded.svg", []byte(folded), "stock", "film-removable-610")
	path, question := p.Links["answers"], p.Questions[0].ID
	asJSON := []string{"Content-Type", "application/json"}
	give := func(question, reply string) answer {
		return d.call(t, http.MethodPost, path, fmt.Appendf(nil, `{"answers":{%q:{"answer":%q}}}`, question, reply), asJSON...)
	}
	d.refuses(t, give("nothing", "a"), 422, "unknown_question")
	d.refuses(t, give(question, "perhaps"), 422, "unknown_answer")
	d.refuses(t, give(question, ""), 422, "invalid_body")
	d.refuses(t, d.call(t, http.MethodPost, path, fmt.Appendf(nil, `{"answers":{%q:{"answer":"nothing","value_mm":5}}}`, question), asJSON...), 422, "length_not_taken")
	d.refuses(t, d.call(t, http.MethodPost, path, []byte(`{"answers":{}}`), asJSON...), 422, "invalid_body")
	d.refuses(t, d.call(t, http.MethodDelete, path+"/"+url.PathEscape(question), nil), 422, "unknown_question")
	d.refuses(t, d.call(t, http.MethodGet, p.Links["self"]+"/estimate", nil), 409, "not_yet")
	d.refuses(t, d.call(t, http.MethodGet, p.Links["self"]+"/previews/layout.png", nil), 409, "not_yet")
	d.refuses(t, d.call(t, http.MethodGet, p.Links["self"]+"/worksheet.pdf", nil), 409, "not_yet")
	d.call(t, http.MethodDelete, p.Links["self"], nil)
	d.refuses(t, give(question, p.Questions[0].Answers[0].ID), 409, "wrong_status")
	d.refuses(t, d.call(t, http.MethodDelete, path+"/"+url.PathEscape(question), nil), 409, "wrong_status")
	var now api.Plan
	d.call(t, http.MethodGet, p.Links["self"], nil).json(t, &now)
	if now.Status != "cancelled" || len(now.Questions) != 0 {
		t.Errorf("%s with questions %v", now.Status, now.Questions)
	}
}

// A limit that is not there would be left out in silence.
func TestUnknownLimitIsRefused(t *testing.T) {
	d := open(t)
	const path = "/v1/stocks/card-220-a4"
	stock := d.call(t, http.MethodGet, path, nil).body
	wrong := bytes.Replace(stock, []byte(`"limits":{`), []byte(`"limits":{"hand":1,`), 1)
	d.refuses(t, d.call(t, http.MethodPut, path, wrong, asJSON()...), 422, "invalid_body")
	if a := d.call(t, http.MethodPut, path, stock, asJSON()...); a.status != http.StatusOK {
		t.Errorf("as it was: %d %s", a.status, a.body)
	}
}

// A problem names the field as the body has it, so that a program can point to
// it: the form and JSON have names of their own.
func TestProblemNamesTheFieldOfTheBody(t *testing.T) {
	d := open(t)
	drawn := d.drawingID(t)
	for body, want := range map[string]string{
		`"stock_id":"tin"`: "stock_id",
		`"stock_id":"card-220-a4","machine_id":"tin"`:             "machine_id",
		`"stock_id":"card-220-a4","convention_id":"tin"`:          "convention_id",
		`"stock_id":"card-220-a4","price_list_id":"tin"`:          "price_list_id",
		`"stock_id":"card-220-a4","size":{"frame":"tin"}`:         "size.frame",
		`"stock_id":"card-220-a4","size":{"scale":2,"unit":"mm"}`: "size",
		`"stock_id":"card-220-a4","options":{"page":1}`:           "options.page",
	} {
		a := d.call(t, http.MethodPost, "/v1/plans", []byte(`{"drawing_id":"`+drawn+`",`+body+`}`), "Content-Type", "application/json")
		if p := d.refuses(t, a, 422, "invalid_choice"); p.Field != want {
			t.Errorf("%s: field %q, want %q", body, p.Field, want)
		}
	}
	body, kind := rawForm(t, file("a.svg", plate), field("stock", "tin"))
	if p := d.refuses(t, d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind), 422, "invalid_choice"); p.Field != "stock" {
		t.Errorf("field %q of the form", p.Field)
	}
}

// drawingID sends the plate and returns its id.
func (d *desk) drawingID(t *testing.T) string {
	t.Helper()
	var drawn api.Drawing
	d.call(t, http.MethodPost, "/v1/drawings", []byte(plate)).json(t, &drawn)
	return drawn.ID.String()
}
