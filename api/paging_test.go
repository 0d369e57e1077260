package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
)

// listed is a list of the specification.
type listed struct{ name, path string }

// lists returns what of the specification answers a list, each with the name of it.
// All have the same shape: limit and cursor go in, next_cursor comes out.
func lists(t *testing.T, g guarded) (all []listed) {
	t.Helper()
	for path, item := range g.spec.Paths.Map() {
		op := item.Get
		if op == nil || !strings.HasPrefix(op.OperationID, "list") {
			continue
		}
		answer := op.Responses.Value("200").Value.Content["application/json"].Schema.Value
		if op.Parameters.GetByInAndName("query", "limit") == nil || op.Parameters.GetByInAndName("query", "cursor") == nil || answer.Properties["next_cursor"] == nil {
			t.Errorf("%s has no pages", op.OperationID)
		}
		for name, of := range answer.Properties {
			if of.Value.Type.Is("array") && name != "known" {
				all = append(all, listed{name, path})
			}
		}
	}
	return all
}

// pageOf reads a page of a list and the cursor of the next.
func (g guarded) pageOf(t *testing.T, bearer string, l listed, query string) (items []string, next string) {
	t.Helper()
	a := g.as(t, bearer, "GET", l.path+query, "")
	var body map[string]json.RawMessage
	if a.status != http.StatusOK || json.Unmarshal(a.body, &body) != nil {
		t.Fatalf("%s%s: %d %s", l.path, query, a.status, a.body)
	}
	var raw []json.RawMessage
	if err := json.Unmarshal(body[l.name], &raw); err != nil {
		t.Fatalf("%s: %v", l.path, err)
	}
	for _, r := range raw {
		items = append(items, string(r))
	}
	if body["next_cursor"] != nil {
		if err := json.Unmarshal(body["next_cursor"], &next); err != nil {
			t.Fatal(err)
		}
	}
	return items, next
}

// stockLists fills the lists that are empty in a new workshop.
func (g guarded) stockLists(t *testing.T, staff string) (hook string) {
	t.Helper()
	var made api.NewWebhook
	for range 3 {
		g.as(t, staff, "POST", "/v1/webhooks", `{"url":"http://192.0.2.1/"}`).json(t, &made)
		g.as(t, staff, "POST", "/v1/class-sets", `{"terms":{"stock_ids":["card-220-a4"]}}`).wants(t, "a set", http.StatusCreated, "")
		g.as(t, staff, "POST", "/v1/offcuts", `{"from_stock_id":"card-220-a4","width_mm":100,"length_mm":120}`).wants(t, "an offcut", http.StatusCreated, "")
		g.key(t, "print", "read")
	}
	for range 3 {
		g.planned(t, staff)
	}
	return made.ID.String()
}

// Page by page each list gives what it gives in one, in its order.
func TestEveryListHasPages(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff := g.key(t, "workshop", "manage")
	hook := g.stockLists(t, staff)
	long := 0
	for _, l := range lists(t, g) {
		l.path = strings.NewReplacer("{webhook_id}", hook, "{item_id}", "removable_film-kiss_cut").Replace(l.path)
		about := ""
		if l.name == "trials" {
			about = "&stock_id=film-removable-610&machine_id=wide-610"
		}
		if l.path != "/v1/plans" && l.path != "/v1/class-sets" {
			about += "&limit=1000"
		}
		want, next := g.pageOf(t, staff, l, "?"+about)
		if next != "" {
			t.Errorf("%s goes on behind its end", l.path)
		}
		about = strings.TrimSuffix(about, "&limit=1000")
		var got []string
		for cursor, n := "", 0; n <= len(want); n++ {
			items, next := g.pageOf(t, staff, l, fmt.Sprintf("?limit=2&cursor=%s%s", cursor, about))
			got = append(got, items...)
			if cursor = next; cursor == "" {
				break
			}
		}
		if strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s: %d items page by page, %d at once", l.path, len(got), len(want))
		}
		if len(want) > 2 {
			long++
		}
		g.as(t, staff, "GET", l.path+"?cursor=b3Bz"+about, "").wants(t, l.path, http.StatusUnprocessableEntity, "invalid_cursor")
	}
	if long < 9 {
		t.Errorf("only %d lists have several pages", long)
	}
}

// Where the last item of a page is gone when the next is asked for, none is left out.
func TestPagesGoOnBehindWhatIsGone(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff := g.key(t, "workshop", "manage")
	g.stockLists(t, staff)
	hooks := listed{"webhooks", "/v1/webhooks"}
	all, _ := g.pageOf(t, staff, hooks, "")
	first, next := g.pageOf(t, staff, hooks, "?limit=1")
	var gone api.Webhook
	if err := json.Unmarshal([]byte(first[0]), &gone); err != nil {
		t.Fatal(err)
	}
	g.as(t, staff, "DELETE", "/v1/webhooks/"+gone.ID.String(), "").wants(t, "dropping it", http.StatusNoContent, "")
	if rest, _ := g.pageOf(t, staff, hooks, "?cursor="+next); strings.Join(rest, "\n") != strings.Join(all[1:], "\n") {
		t.Errorf("%d of %d follow", len(rest), len(all)-1)
	}
}
