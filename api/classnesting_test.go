package api_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"knifedesk/api"
)

// nestedClass begins a set on film whose loads are laid in such a way, and sends so many
// copies of a chevron for each of three.
func (g guarded) nestedClass(t *testing.T, bearer, nesting, copies string, headers ...string) (at string, s api.ClassSet) {
	t.Helper()
	a := g.as(t, bearer, "POST", "/v1/class-sets", `{"terms":{"stock_ids":["film-removable-610"],"frame":"none","nesting":"`+nesting+`"}}`)
	a.wants(t, "a set", http.StatusCreated, "")
	at = a.header.Get("Location")
	for i, name := range []string{"ada", "ben", "cy"} {
		body, kind := form(t, name+".svg", []byte(strings.Replace(chevrons, "M10 70", "M1"+string(rune('0'+i))+" 70", 1)), "copies", copies)
		a := g.call(t, "POST", at+"/members", body, append(headers, "Authorization", bearer, "Content-Type", kind)...)
		s = a.set(t)
	}
	return at, s
}

// A class whose loads are nested takes less film than one in rows, is told how much less,
// and its members' own plans lie in rows.
func TestAClassIsNestedWhereThatIsAsked(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	roll := map[string]float64{}
	for _, nesting := range []string{"rows", "quick"} {
		at, s := g.nestedClass(t, ours, nesting, "2", "Prefer", "wait=60")
		if !s.Settled || len(s.Stocks) != 1 || s.Share != 0 || string(s.Terms.Nesting) != nesting {
			t.Fatalf("%s: %q, %+v", nesting, s.Answer, s.Stocks)
		}
		roll[nesting] = s.Stocks[0].RollMM
		text := string(g.as(t, ours, "GET", at, "", "Accept", "text/plain").body)
		told := s.Stocks[0].Nested
		switch {
		case nesting == "rows" && (len(told) > 0 || strings.Contains(text, "nesting")):
			t.Errorf("told of rows: %+v\n%s", told, text)
		case nesting == "quick" && (len(told) != 1 || !told[0].Better || told[0].SavedMM < 100 || !strings.Contains(text, told[0].Means)):
			t.Errorf("told %+v\n%s", told, text)
		}
		var p api.Plan
		g.as(t, ours, "GET", s.Members[0].Links["plan"], "").json(t, &p)
		if p.Layout == nil || p.Layout.Nested != nil {
			t.Errorf("%s: a member's own plan is nested: %+v", nesting, p.Layout)
		}
	}
	if roll["quick"] > roll["rows"]-100 {
		t.Errorf("%g mm nested, %g in rows", roll["quick"], roll["rows"])
	}
	g.as(t, ours, "POST", "/v1/class-sets", `{"terms":{"stock_ids":["film-removable-610"],"nesting":"closely"}}`).wants(t, "no such way", http.StatusUnprocessableEntity, "invalid_body")
}

// While the loads of a class are nested for long, the set, its answer and its board say
// how far that has come; a change of the set that asks for other loads ends it.
func TestAClassTellsHowFarItsNestingIs(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	at, _ := g.nestedClass(t, ours, "normal", "8")
	said := regexp.MustCompile(`are being laid \(\d+ % done\)\.$`)
	var first, last api.ClassSet
	for end := time.Now().Add(2 * time.Minute); time.Now().Before(end) && last.Share <= first.Share; time.Sleep(100 * time.Millisecond) {
		s := g.as(t, ours, "GET", at, "").set(t)
		if s.Settled || s.Share < 0 || s.Share >= 1 {
			t.Fatalf("%q, %g", s.Answer, s.Share)
		}
		if s.Share > 0 && !said.MatchString(s.Answer) {
			t.Errorf("%g, and said %q", s.Share, s.Answer)
		}
		if first.Share == 0 {
			first = s
		}
		last = s
	}
	if first.Share == 0 || last.Share <= first.Share {
		t.Fatalf("told %g, then %g", first.Share, last.Share)
	}
	var board api.ClassBoard
	g.as(t, ours, "GET", at+"/board", "").json(t, &board)
	if !said.MatchString(board.Answer) {
		t.Errorf("the board says %q", board.Answer)
	}
	g.as(t, ours, "DELETE", at, "").wants(t, "nobody wants it any more", http.StatusNoContent, "")
}
