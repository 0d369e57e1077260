package api_test

import (
	"net/http"
	"strings"
	"testing"

	"knifedesk/api"
)

// titles are the names of the drawings, or the bookings of the acceptances, of a list.
func (g guarded) titles(t *testing.T, bearer, path string) string {
	t.Helper()
	var page struct {
		Drawings    []api.DrawingHead
		Acceptances []api.AcceptanceHead
	}
	a := g.as(t, bearer, "GET", path, "")
	a.json(t, &page)
	if a.status != http.StatusOK {
		t.Fatalf("%s: %d %s", path, a.status, a.body)
	}
	var names []string
	for _, d := range page.Drawings {
		names = append(names, d.Owner+" "+d.Name)
	}
	for _, x := range page.Acceptances {
		names = append(names, x.Owner+" "+x.BookingReference+" "+string(x.State))
	}
	return strings.Join(names, ", ")
}

// A client sees its own drawings and acceptances, who manages those of all, and each
// filter leaves out what it should.
func TestListsOfDrawingsAndAcceptances(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff, print, wood := g.key(t, "workshop", "manage"), g.key(t, "print", "submit", "read"), g.key(t, "wood", "submit", "read")
	accepted := func(bearer, name, reference, booking string) api.Plan {
		body, kind := form(t, name, []byte(plate), "stock", "film-removable-610", "client_reference", reference)
		var p api.Plan
		g.call(t, "POST", "/v1/plans", body, "Authorization", bearer, "Content-Type", kind, "Prefer", "wait=30").json(t, &p)
		g.as(t, bearer, "POST", p.Links["self"]+"/acceptance", `{"booking_reference":"`+booking+`"}`).wants(t, "accepting "+name, http.StatusCreated, "")
		return p
	}
	accepted(print, "a.svg", "bay 4", "b-1")
	freed := accepted(print, "b.svg", "bay 5", "b-2")
	accepted(wood, "c.svg", "bay 4", "b-3")
	g.as(t, print, "DELETE", freed.Links["self"]+"/acceptance", "").wants(t, "giving back", http.StatusNoContent, "")
	g.call(t, "POST", "/v1/drawings?name=d.svg", []byte(plate), "Authorization", print, "Content-Type", "image/svg+xml").wants(t, "a drawing", http.StatusCreated, "")
	for _, c := range []struct{ bearer, path, want string }{
		{print, "/v1/drawings", "print d.svg, print b.svg, print a.svg"},
		{staff, "/v1/drawings?limit=3", "print d.svg, wood c.svg, print b.svg"},
		{staff, "/v1/drawings?owner=wood", "wood c.svg"},
		{wood, "/v1/drawings?owner=print", ""},
		{print, "/v1/drawings?state=unplanned", "print d.svg"},
		{print, "/v1/drawings?state=planned", "print b.svg, print a.svg"},
		{staff, "/v1/drawings?client_reference=bay+4", "wood c.svg, print a.svg"},
		{print, "/v1/acceptances", "print b-2 freed, print b-1 held"},
		{staff, "/v1/acceptances", "wood b-3 held, print b-2 freed, print b-1 held"},
		{staff, "/v1/acceptances?owner=print&state=held", "print b-1 held"},
		{wood, "/v1/acceptances?owner=print", ""},
		{print, "/v1/acceptances?client_reference=bay+5", "print b-2 freed"},
		{wood, "/v1/acceptances?client_reference=bay+5", ""},
		{staff, "/v1/acceptances?booking_reference=b-3", "wood b-3 held"},
	} {
		if got := g.titles(t, c.bearer, c.path); got != c.want {
			t.Errorf("%s: %q, want %q", c.path, got, c.want)
		}
	}
	g.as(t, print, "GET", "/v1/drawings?state=lost", "").wants(t, "a state that there is not", http.StatusUnprocessableEntity, "invalid_parameter")
}
