package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"knifedesk/api"
	"knifedesk/jobs/queue"
)

// classNews are the events of sets that a receiver was told, in the order of their making.
func (r *receiver) classNews(t *testing.T, g guarded) (news []api.WebhookMessage) {
	t.Helper()
	_, bodies := r.told()
	for _, body := range bodies {
		var message any
		if err := json.Unmarshal(body, &message); err != nil {
			t.Fatal(err)
		}
		if err := g.spec.Components.Schemas["WebhookMessage"].Value.VisitJSON(message); err != nil {
			t.Errorf("%v: %s", err, body)
		}
		var m api.WebhookMessage
		if err := json.Unmarshal(body, &m); err != nil {
			t.Fatal(err)
		}
		news = append(news, m)
	}
	slices.SortStableFunc(news, func(a, b api.WebhookMessage) int { return a.Timestamp.Compare(b.Timestamp) })
	return news
}

// A receiver is told of a set once when its loads are laid or laid anew, when all who are
// expected have sent something, and when it takes no more; of nothing twice.
func TestEventsOfAClassSet(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.key(t, "workshop", "manage")
	to := newReceiver(t, 204)
	g.hook(t, staff, `{"url":"`+to.URL+`","owner":"print","events":["class_set.laid","class_set.complete","class_set.closed"]}`)
	wants := func(what string, want ...string) {
		t.Helper()
		var got []string
		for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			got = got[:0]
			for _, m := range to.classNews(t, g) {
				got = append(got, fmt.Sprintf("%s %d/%d", strings.TrimPrefix(string(m.Type), "class_set."), m.Data.Ready, m.Data.Of))
			}
			if len(got) >= len(want) {
				break
			}
		}
		if !slices.Equal(got, want) {
			t.Fatalf("%s: told %q, want %q", what, got, want)
		}
	}
	at := g.classSet(t, ours, `,"roster":["ada","ben"]`)
	g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "ada.svg", plate).wants(t, "ada", http.StatusOK, "")
	told := []string{"laid 1/2"}
	wants("the first is ready", told...)
	g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "ben.svg", onlyText).wants(t, "ben", http.StatusOK, "")
	told = append(told, "complete 1/2")
	wants("all have sent something", told...)
	g.adds(t, ours, at, []string{"Prefer", "wait=30"}, "ben.svg", marked).wants(t, "ben again", http.StatusOK, "")
	told = append(told, "laid 2/2")
	wants("laid anew", told...)
	g.as(t, ours, "PATCH", at, `{"closed":true}`).wants(t, "closing", http.StatusOK, "")
	g.as(t, ours, "PATCH", at, `{"closed":true}`).wants(t, "closing again", http.StatusOK, "")
	told = append(told, "closed 2/2")
	wants("closed", told...)
	g.as(t, ours, "PATCH", at, `{"closed":false,"deadline":"`+time.Now().Add(time.Second).UTC().Format(time.RFC3339Nano)+`"}`).wants(t, "open again", http.StatusOK, "")
	told = append(told, "closed 2/2")
	wants("its deadline has passed", told...)
}

// What the specification lists is what the service tells.
func TestEventsAreThoseOfTheSpecification(t *testing.T) {
	g, _, _ := openIdle(t, api.Config{})
	var listed []string
	for _, one := range g.spec.Components.Schemas["WebhookEvent"].Value.Enum {
		listed = append(listed, one.(string))
	}
	if !slices.Equal(listed, queue.Events()) {
		t.Errorf("%v and %v", listed, queue.Events())
	}
}

// Members that come in any order over HTTP, one after the other, all at once or in one
// request, get the same codes, loads and files.
func TestMembersInAnyOrder(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	drawn := map[string]string{"ada": plate, "ben": marked, "cy": strings.Replace(plate, "80", "70", 1)}
	arrive := map[string]func(at string){
		"one after the other": func(at string) {
			for _, who := range []string{"cy", "ada", "ben"} {
				g.adds(t, ours, at, []string{"Prefer", "wait=30"}, who+".svg", drawn[who]).wants(t, who, http.StatusOK, "")
			}
		},
		"all at once": func(at string) {
			var all sync.WaitGroup
			for who, one := range drawn {
				all.Go(func() { g.adds(t, ours, at, nil, who+".svg", one) })
			}
			all.Wait()
		},
		"in one request": func(at string) {
			g.adds(t, ours, at, nil, "ben.svg", drawn["ben"], "cy.svg", drawn["cy"], "ada.svg", drawn["ada"]).wants(t, "all", http.StatusOK, "")
		},
	}
	var first []byte
	for how, come := range arrive {
		at := g.classSet(t, ours, "")
		come(at)
		s := g.as(t, ours, "GET", at, "", "Prefer", "wait=50").set(t)
		if !s.Settled || s.Roster.Ready != 3 || len(s.Loads) != 1 || memberNamed(t, s, "ada").Code != "01" || memberNamed(t, s, "cy").Code != "03" {
			t.Fatalf("%s: %q %+v", how, s.Answer, s.Loads)
		}
		var files []byte
		for _, name := range []string{"cut.svg", "layout.svg"} {
			files = append(files, g.as(t, ours, "GET", at+"/loads/1/"+name, "").body...)
		}
		if first == nil {
			first = files
		}
		if !bytes.Equal(files, first) || len(files) == 0 {
			t.Errorf("%s: the files of the load are others", how)
		}
	}
}
