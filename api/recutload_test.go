package api_test

import (
	"fmt"
	"net/http"
	"testing"

	"knifedesk/api"
)

// What was spoiled of a member is named by its number on the load that it was cut on, once
// that was handed out; a number of another member, or of what falls out, is refused.
func TestPieceIsCutAgainByItsNumberOnTheLoad(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.staff(t)
	at := g.classSet(t, ours, "")
	const kit = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1">
		<path d="M5 5H55V45H5Z"/><path d="M65 10H95V40H65Z"/><circle cx="80" cy="25" r="5"/></g></svg>`
	var s api.ClassSet
	for _, name := range []string{"ada", "ben"} {
		body, kind := form(t, name+".svg", []byte(kit), "stock", "card-220-a4", "copies", "2")
		s = g.call(t, "POST", at+"/members", body, "Authorization", ours, "Content-Type", kind, "Prefer", "wait=50").set(t)
	}
	if !s.Settled || len(s.Loads) != 1 {
		t.Fatalf("%q %d loads", s.Answer, len(s.Loads))
	}
	recut := func(name, pieces string) answer {
		return g.as(t, staff, "POST", memberNamed(t, s, name).Links["plan"]+"/recut", `{`+pieces+`,"reason":"torn"}`, "Prefer", "wait=30")
	}
	recut("ada", `"regions":[{"load":1,"region":1}]`).wants(t, "before it was handed out", http.StatusConflict, "not_issued")
	g.as(t, staff, "PUT", at+"/loads/1", `{"state":"issued"}`).set(t)
	recut("ada", `"regions":[{"load":2,"region":1}]`).wants(t, "no such load", http.StatusUnprocessableEntity, "unknown_piece")
	recut("ada", `"regions":[{"load":1,"region":1}],"pieces":[{"copy":1}]`).wants(t, "named twice", http.StatusUnprocessableEntity, "invalid_field")

	// Of twelve regions, four of them openings, each has four that stay, and each piece twice.
	of := map[string]map[int]int{"ada": {}, "ben": {}}
	all := map[string]string{}
	for region := 1; region <= 12; region++ {
		for name, pieces := range of {
			one := fmt.Sprintf(`{"load":1,"region":%d}`, region)
			a := recut(name, `"regions":[`+one+`]`)
			if a.status != http.StatusOK {
				a.wants(t, fmt.Sprintf("region %d of %s", region, name), http.StatusUnprocessableEntity, "unknown_piece")
				continue
			}
			var p api.Plan
			a.json(t, &p)
			if len(p.Again) != 1 || p.Again[0].Copies != 1 || p.Weeding.Kept != 1 {
				t.Fatalf("region %d of %s: %+v %+v", region, name, p.Again, p.Weeding)
			}
			pieces[p.Again[0].Piece]++
			if all[name] != "" {
				one = "," + one
			}
			all[name] += one
		}
	}
	for name, pieces := range of {
		if len(pieces) != 2 {
			t.Fatalf("%s: %v", name, pieces)
		}
		for piece, n := range pieces {
			if n != 2 {
				t.Errorf("%s: piece %d lies %d times", name, piece, n)
			}
		}
		var p api.Plan
		a := recut(name, `"regions":[`+all[name]+`]`)
		a.wants(t, "all of "+name, http.StatusOK, "")
		a.json(t, &p)
		if len(p.Again) != 2 || p.Again[0].Copies != 2 || p.Again[1].Copies != 2 {
			t.Errorf("all of %s: %+v", name, p.Again)
		}
	}
	var alone api.Plan
	d := g.key(t, "print", "submit", "read")
	body, kind := form(t, "cy.svg", []byte(kit), "stock", "card-220-a4")
	g.call(t, "POST", "/v1/plans", body, "Authorization", d, "Content-Type", kind, "Prefer", "wait=30").json(t, &alone)
	g.as(t, staff, "POST", alone.Links["self"]+"/recut", `{"regions":[{"load":1,"region":1}],"reason":"torn"}`).
		wants(t, "a plan of no class", http.StatusUnprocessableEntity, "unknown_piece")
}
