package api_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"mime/multipart"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"knifedesk/api"
)

// A drawing whose only lines are a text, of which nothing can be cut.
const onlyText = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><text x="10" y="30">name</text></svg>`

// several builds a form with drawings (name, file, …).
func several(t *testing.T, files ...string) (body []byte, contentType string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		part, err := w.CreateFormFile("drawing", files[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := part.Write([]byte(files[i+1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), w.FormDataContentType()
}

// classSet begins a set and returns where it is.
func (g guarded) classSet(t *testing.T, bearer, rest string) string {
	t.Helper()
	a := g.as(t, bearer, "POST", "/v1/class-sets", `{"client_reference":"course 1","terms":{"stock_ids":["film-removable-610","card-220-a4"],"frame":"none"}`+rest+`}`)
	a.wants(t, "a set", http.StatusCreated, "")
	return a.header.Get("Location")
}

// adds sends drawings to a set (name, file, …).
func (g guarded) adds(t *testing.T, bearer, set string, headers []string, files ...string) answer {
	t.Helper()
	body, kind := several(t, files...)
	return g.call(t, "POST", set+"/members", body, append(headers, "Authorization", bearer, "Content-Type", kind)...)
}

func (a answer) set(t *testing.T) (s api.ClassSet) {
	t.Helper()
	if a.status >= 300 {
		t.Fatalf("%d %s", a.status, a.body)
	}
	a.json(t, &s)
	return s
}

func (g guarded) set(t *testing.T, bearer, at string) api.ClassSet {
	t.Helper()
	return g.as(t, bearer, "GET", at, "").set(t)
}

// A course from the first drawing to the end: who is expected, who has to do what,
// what is sent again, and the end of it.
func TestClassSet(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	at := g.classSet(t, ours, `,"roster":["ada","ben","cy"," dee","=cmd"]`)
	sent := g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "ada.svg", plate, "ben.svg", folded, "cy.svg", onlyText, "eve.svg", plate).set(t)
	states := map[string]api.PlanStatus{}
	for _, m := range sent.Members {
		states[m.Reference] = m.Status
	}
	if fmt.Sprint(states) != "map[ada:ready ben:asking cy:refused eve:ready]" || !sent.Settled || sent.Answer != "1 load, 2 of 6; four named." {
		t.Fatalf("%v %q", states, sent.Answer)
	}
	if r := sent.Roster; r.Ready != 2 || r.Asking != 1 || r.Refused != 1 || r.NothingReceived != 2 || !slices.Equal(r.Missing, []string{"=cmd", "dee"}) || !slices.Equal(r.NotExpected, []string{"eve"}) {
		t.Errorf("%+v", r)
	}
	ben := sent.Members[1]
	if len(ben.Changes) == 0 || ben.Changes[0].QuestionID == "" || ben.Links["answers"] == "" {
		t.Errorf("what ben is asked: %+v", ben)
	}
	text := string(g.as(t, ours, "GET", at, "", "Accept", "text/plain").body)
	for _, want := range []string{"1 load, 2 of 6; four named.\n", "\nrefused    cy: ", "\nasking     ben: ", "\nmissing    =cmd, dee\n", "\nready      ada, eve\n", "eve\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q:\n%s", want, text)
		}
	}
	g.readsTable(t, ours, at)

	// Ben answers the question of the plan, and cy sends another drawing.
	g.as(t, ours, "POST", ben.Links["answers"], `{"answers":{"`+ben.Changes[0].QuestionID+`":{"answer":"nothing"}}}`, "Prefer", "wait=30").wants(t, "ben's answer", http.StatusOK, "")
	again := g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "cy.svg", plate).set(t)
	if again.Roster.Ready != 4 || again.Roster.Refused != 0 || again.Roster.Of != 6 {
		t.Errorf("after mending: %+v", again.Roster)
	}
	var cy api.Plan
	g.as(t, ours, "GET", again.Members[2].Links["plan"], "").json(t, &cy)
	if cy.ClientReference != "cy" || cy.Supersedes == nil || *cy.Supersedes != sent.Members[2].PlanID {
		t.Errorf("cy's plan: %q supersedes %v", cy.ClientReference, cy.Supersedes)
	}
	read := g.as(t, ours, "GET", at, "")
	g.as(t, ours, "GET", at, "", "If-None-Match", read.header.Get("ETag")).wants(t, "unchanged", http.StatusNotModified, "")
	g.as(t, ours, "DELETE", at+"/members/eve", "").wants(t, "eve goes", http.StatusNoContent, "")
	g.as(t, ours, "DELETE", at+"/members/eve", "").wants(t, "eve has gone", http.StatusNotFound, "not_found")

	g.as(t, ours, "GET", at, "", "Prefer", "wait=30").wants(t, "the loads without eve", http.StatusOK, "")
	closed := g.as(t, ours, "PATCH", at, `{"closed":true,"roster":["ada","ben","cy"]}`).set(t)
	if closed.State != "closed" || closed.ClosedAt == nil || closed.Roster.Of != 3 || closed.Answer != "1 load, all 3." {
		t.Errorf("closed: %q %+v", closed.Answer, closed.Roster)
	}
	g.adds(t, ours, at, nil, "ada.svg", plate).wants(t, "too late", http.StatusConflict, "class_set_closed")
	g.as(t, ours, "DELETE", at+"/members/ada", "").wants(t, "too late to go", http.StatusConflict, "class_set_closed")
	g.as(t, ours, "PATCH", at, `{"closed":false,"deadline":"2020-01-01T00:00:00Z"}`).wants(t, "a deadline that has passed", http.StatusOK, "")
	g.adds(t, ours, at, nil, "ada.svg", plate).wants(t, "past the deadline", http.StatusConflict, "class_set_closed")
	g.as(t, ours, "DELETE", at, "").wants(t, "the end", http.StatusNoContent, "")
	g.as(t, ours, "GET", at, "").wants(t, "what was the set", http.StatusNotFound, "not_found")
	if n := g.plans(t); n != 1 { // eve's, who was taken out
		t.Errorf("%d plans are left", n)
	}
}

// readsTable reads the table of the members as a spreadsheet would.
func (g guarded) readsTable(t *testing.T, bearer, at string) {
	t.Helper()
	a := g.as(t, bearer, "GET", at+"/members.csv", "")
	rows, err := csv.NewReader(bytes.NewReader(a.body)).ReadAll()
	if err != nil || !strings.HasPrefix(a.header.Get("Content-Type"), "text/csv") {
		t.Fatal(err, a.header)
	}
	state := map[string]string{}
	for _, row := range rows[1:] {
		state[row[0]] = row[1]
	}
	if fmt.Sprint(state) != "map['=cmd:missing ada:ready ben:asking cy:refused dee:missing eve:ready]" {
		t.Errorf("%v", state)
	}
}

// Others see nothing of a set and can use no drawing of its owner; who manages sees
// all, and reading needs the scope for it.
func TestClassSetsBelongToTheirOwner(t *testing.T) {
	g, ours, others := openIdle(t, api.Config{})
	reads, staff := g.key(t, "print", "read"), g.staff(t)
	at := g.classSet(t, ours, "")
	mine := strings.TrimPrefix(g.sent(t, ours), "/v1/drawings/")
	theirs := strings.TrimPrefix(g.sent(t, others), "/v1/drawings/")
	member := func(drawing string) string {
		return `{"members":[{"reference":"ada","drawing_id":"` + drawing + `"},{"reference":"ben","drawing_id":"` + mine + `","copies":2,"stock_id":"card-220-a4"}]}`
	}
	for what, call := range map[string][3]string{
		"reading": {"GET", at}, "the table": {"GET", at + "/members.csv"}, "closing": {"PATCH", at, `{"closed":true}`},
		"adding": {"POST", at + "/members", member(theirs)}, "taking out": {"DELETE", at + "/members/ada"}, "erasing": {"DELETE", at},
	} {
		g.as(t, others, call[0], call[1], call[2]).wants(t, what+" of another", http.StatusNotFound, "not_found")
	}
	g.as(t, ours, "POST", at+"/members", member(theirs)).wants(t, "another's drawing", http.StatusNotFound, "not_found")
	if n := g.plans(t); n != 0 {
		t.Errorf("%d plans of members that were not taken", n)
	}
	g.as(t, reads, "POST", at+"/members", member(mine)).wants(t, "adding with read", http.StatusForbidden, "scope_missing")
	g.as(t, staff, "POST", at+"/members", member(mine)).wants(t, "adding for another", http.StatusOK, "")
	if s := g.set(t, reads, at); len(s.Members) != 2 || s.Owner != "print" || s.Members[1].Copies != 2 || s.Members[1].StockID != "card-220-a4" || s.Members[0].DrawingID.String() != mine {
		t.Errorf("%+v", s.Members)
	}
	g.as(t, ours, "POST", at+"/members", strings.Replace(member(mine), "card-220-a4", "card-160-a3", 1)).wants(t, "a stock the set has not", http.StatusUnprocessableEntity, "invalid_choice")

	second := g.classSet(t, ours, "")
	var page struct {
		ClassSets  []api.ClassSetHead `json:"class_sets"`
		NextCursor string             `json:"next_cursor"`
	}
	g.as(t, ours, "GET", "/v1/class-sets?limit=1", "").json(t, &page)
	if len(page.ClassSets) != 1 || !strings.HasSuffix(second, page.ClassSets[0].ID.String()) || page.NextCursor == "" {
		t.Errorf("first page: %+v", page)
	}
	next := page.NextCursor
	page.NextCursor = ""
	g.as(t, staff, "GET", "/v1/class-sets?owner=print&limit=1&cursor="+next, "").json(t, &page)
	if len(page.ClassSets) != 1 || page.ClassSets[0].Members != 2 || page.ClassSets[0].Settled || page.NextCursor != "" {
		t.Errorf("second page: %+v", page)
	}
	g.as(t, others, "GET", "/v1/class-sets?owner=print", "").json(t, &page)
	if len(page.ClassSets) != 0 {
		t.Errorf("another's list: %+v", page)
	}
}

// Members that come at the same moment are all in; one of them for each reference.
// What is replaced while it is worked out is cancelled.
func TestMembersAtOnce(t *testing.T) {
	g, ours, _ := openIdle(t, api.Config{})
	at := g.classSet(t, ours, "")
	together(8, func(i int) {
		g.adds(t, ours, at, nil, fmt.Sprintf("tag-%d.svg", i%4), plate).wants(t, "one of eight", http.StatusOK, "")
	})
	s := g.set(t, ours, at)
	if len(s.Members) != 4 || s.Roster.Moving != 4 || s.Settled {
		t.Errorf("%d members, %+v", len(s.Members), s.Roster)
	}
	var all, cancelled int
	if err := g.store.Pool.QueryRow(t.Context(), `select count(*), count(*) filter (where status = 'cancelled' and supersedes is null) from plans`).Scan(&all, &cancelled); err != nil {
		t.Fatal(err)
	}
	if all != 8 || cancelled != 4 {
		t.Errorf("%d plans, %d superseded and cancelled", all, cancelled)
	}
}

// Closing and adding at once: what was answered with 200 is in, and nothing else.
func TestClosingAgainstAdding(t *testing.T) {
	g, ours, _ := openIdle(t, api.Config{})
	at := g.classSet(t, ours, "")
	answers := make([]answer, 7)
	together(len(answers), func(i int) {
		if i == 3 {
			answers[i] = g.as(t, ours, "PATCH", at, `{"closed":true}`)
			return
		}
		answers[i] = g.adds(t, ours, at, nil, fmt.Sprintf("tag-%d.svg", i), plate)
	})
	taken := 0
	for i, a := range answers {
		switch {
		case i == 3:
			a.wants(t, "closing", http.StatusOK, "")
		case a.status == http.StatusOK:
			taken++
		default:
			a.wants(t, "adding", http.StatusConflict, "class_set_closed")
		}
	}
	if s := g.set(t, ours, at); len(s.Members) != taken || g.plans(t) != taken || s.State != "closed" {
		t.Errorf("%d members and %d plans, where %d were taken", len(s.Members), g.plans(t), taken)
	}
}

// Two hundred drawings come in one form, which counts as many plans and makes them
// once however often it is sent; one more is too many.
func TestTwoHundredMembersInOneForm(t *testing.T) {
	g, ours, _ := openIdle(t, api.Config{Queued: api.Bound{Client: 250, All: 300}})
	at := g.classSet(t, ours, "")
	var files []string
	for i := range 200 {
		files = append(files, fmt.Sprintf("tag %03d.svg", i), plate)
	}
	key := []string{"Idempotency-Key", "thirty"}
	began := time.Now()
	first := g.adds(t, ours, at, key, files...)
	t.Logf("200 members were taken in %v", time.Since(began).Round(time.Millisecond))
	if s := first.set(t); len(s.Members) != 200 || s.Members[7].Reference != "tag 007" {
		t.Fatalf("%d members", len(s.Members))
	}
	if again := g.adds(t, ours, at, key, files...); !bytes.Equal(again.body, first.body) || g.plans(t) != 200 {
		t.Errorf("sent again: %d, and %d plans", again.status, g.plans(t))
	}
	g.adds(t, ours, at, nil, "one more.svg", plate).wants(t, "one more", http.StatusUnprocessableEntity, "class_set_full")
	g.adds(t, ours, at, nil, append(files, "one more.svg", plate)...).wants(t, "201 in a form", http.StatusUnprocessableEntity, "too_many_drawings")
	g.adds(t, ours, g.classSet(t, ours, ""), nil, files...).wants(t, "200 more plans", http.StatusTooManyRequests, "too_many_plans")
	g.adds(t, ours, at, nil, "a.svg", plate, "a.svg", folded).wants(t, "a name twice", http.StatusUnprocessableEntity, "repeated_reference")
	if n := g.plans(t); n != 200 {
		t.Errorf("%d plans in the end", n)
	}
}

func classEndpoints(t *testing.T, d *desk) {
	g := guarded{d}
	at := g.classSet(t, "", "")
	g.adds(t, "", at, nil, "ada.svg", plate).wants(t, "a member", http.StatusOK, "")
	for _, path := range []string{"/v1/class-sets", at, at + "/members.csv"} {
		g.as(t, "", "GET", path, "").wants(t, path, http.StatusOK, "")
	}
	g.as(t, "", "GET", at, "", "Prefer", "wait=30").wants(t, "the end of it", http.StatusOK, "")
	g.as(t, "", "GET", at+"/loads/1/passes.txt", "").wants(t, "a load", http.StatusOK, "")
	g.as(t, "", "PUT", at+"/loads/1", `{"state":"issued"}`).wants(t, "handing it out", http.StatusOK, "")
	g.as(t, "", "GET", at+"/board", "").wants(t, "the board", http.StatusOK, "")
	g.as(t, "", "POST", at+"/links", `{}`).wants(t, "a link to it", http.StatusOK, "")
	g.as(t, "", "PUT", at+"/loads/1", `{"state":"done"}`).wants(t, "that it is done", http.StatusOK, "")
	g.as(t, "", "DELETE", at+"/members/ada", "").wants(t, "taking a member out", http.StatusNoContent, "")
	g.as(t, "", "PATCH", at, `{"closed":true}`).wants(t, "closing", http.StatusOK, "")
	g.as(t, "", "DELETE", at, "").wants(t, "erasing", http.StatusNoContent, "")
}
