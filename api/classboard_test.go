package api_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"knifedesk/api"
)

// standings are how far members are, by their codes.
func standings(b api.ClassBoard) string {
	var all []string
	for _, m := range b.Members {
		all = append(all, m.Code+" "+string(m.Standing))
	}
	return strings.Join(all, ", ")
}

// The board says by codes how far everybody is, and no name. A link to it opens it without
// a key, and nothing else. A load is handed out, cut and done in this order.
func TestClassBoard(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.staff(t)
	at := g.classSet(t, ours, `,"roster":["anna","bela","cyra","dora"]`)
	s := g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "anna.svg", plate, "bela.svg", folded, "cyra.svg", onlyText).set(t)
	look := func() (b api.ClassBoard) {
		t.Helper()
		a := g.as(t, ours, "GET", s.Links["board"], "")
		a.json(t, &b)
		for _, name := range []string{"anna", "bela", "cyra", "dora", "course 1"} {
			if strings.Contains(string(a.body), name) {
				t.Errorf("the board names %s: %s", name, a.body)
			}
		}
		return b
	}
	if b := look(); standings(b) != "01 waits, 02 asks, 03 to_mend" || b.NothingReceived != 1 || b.Of != 4 || len(b.Loads) != 1 || b.Loads[0].Standing != "waits" || fmt.Sprint(b.Loads[0].Codes) != "[01]" {
		t.Errorf("%+v", b)
	}
	load := at + "/loads/1"
	g.as(t, staff, "PUT", load, `{"state":"cut"}`).wants(t, "cut before it was handed out", http.StatusConflict, "not_issued")
	for _, step := range []struct{ state, stands string }{{"issued", "at_cutter"}, {"cut", "at_bench"}, {"cut", "at_bench"}, {"done", "made"}} {
		l := g.as(t, staff, "PUT", load, `{"state":"`+step.state+`"}`).set(t).Loads[0]
		if string(l.State) != step.state || (l.CutAt != nil) != (step.state != "issued") {
			t.Errorf("after %s: %+v", step.state, l)
		}
		if b := look(); !strings.HasPrefix(standings(b), "01 "+step.stands+",") {
			t.Errorf("after %s: %s", step.state, standings(b))
		}
	}
	var shared api.SharedLinks
	g.as(t, ours, "POST", at+"/links", `{"expires_in_min":5}`).json(t, &shared)
	g.call(t, "GET", shared.Links["board"], nil).wants(t, "the board by its link", http.StatusOK, "")
	_, signed, _ := strings.Cut(shared.Links["board"], "?")
	g.call(t, "GET", at+"?"+signed, nil).wants(t, "the set by the link", http.StatusForbidden, "link_broken")
	g.as(t, g.key(t, "paint", "read"), "POST", at+"/links", `{}`).wants(t, "another's link", http.StatusNotFound, "not_found")
	if want := "/page/board.html#" + shared.Links["board"]; shared.Links["board_page"] != want {
		t.Errorf("%v", shared.Links)
	}
}

// The page shows the board in large type on one screen, and what changes by itself.
func TestPageOfTheBoard(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.staff(t)
	at := g.classSet(t, ours, `,"roster":["ada","ben","cy"]`)
	files := []string{"ada.svg", plate, "ben.svg", folded}
	for n := range 28 {
		files = append(files, fmt.Sprintf("tag-%d.svg", n), plate)
	}
	s := g.adds(t, ours, at, []string{"Prefer", "wait=30"}, files...).set(t)
	var shared api.SharedLinks
	g.as(t, ours, "POST", at+"/links", `{}`).json(t, &shared)
	b := window(t, 1280, 720)
	b.do("open the board", chromedp.Navigate(g.URL+shared.Links["board_page"]), chromedp.WaitReady("section.waits dd"))
	if got, _, _ := strings.Cut(s.Answer, ";"); b.text("#answer") != got+"." {
		t.Errorf("the answer %q, want %q", b.text("#answer"), got)
	}
	if high := value[float64](b, `parseFloat(getComputedStyle(document.querySelector('dd')).fontSize)`); high < 48 {
		t.Errorf("codes are %g px high", high)
	}
	if !value[bool](b, `document.documentElement.scrollHeight <= innerHeight`) {
		t.Error("the board does not fit the screen")
	}
	b.keep("board")
	b.accessible("the board")
	g.as(t, staff, "PUT", at+"/loads/1", `{"state":"issued"}`).wants(t, "handing out", http.StatusOK, "")
	began := time.Now()
	b.do("wait for the change", chromedp.WaitReady("section.at_cutter dd"))
	t.Logf("shown %v after the change", time.Since(began).Round(100*time.Millisecond))
	b.media("prefers-color-scheme", "dark")
	b.keep("board-dark")
	b.accessible("the board in the dark")
	b.quiet()
}
