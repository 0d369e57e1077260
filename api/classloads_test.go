package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"knifedesk/api"
)

// memberNamed names one member of a set.
func memberNamed(t *testing.T, s api.ClassSet, reference string) api.ClassMember {
	t.Helper()
	at := slices.IndexFunc(s.Members, func(m api.ClassMember) bool { return m.Reference == reference })
	if at < 0 {
		t.Fatalf("%s is not in the set", reference)
	}
	return s.Members[at]
}

// sums holds that costs and copies add up: of members to loads, of loads to the whole.
func sums(t *testing.T, s api.ClassSet, copies int) {
	t.Helper()
	var loads, members int64
	laid := 0
	for _, l := range s.Loads {
		loads += l.CostMinor
		var on int64
		for _, p := range l.Members {
			on += p.CostMinor
			laid += p.Copies
		}
		if on != l.CostMinor {
			t.Errorf("load %d costs %d, its members %d", l.Number, l.CostMinor, on)
		}
	}
	for _, m := range s.Members {
		members += m.CostMinor
	}
	if loads != s.TotalMinor || members != s.TotalMinor || s.TotalMinor == 0 || laid != copies {
		t.Errorf("total %d, loads %d, members %d; %d copies laid, want %d", s.TotalMinor, loads, members, laid, copies)
	}
}

// Who comes once a load is handed out gets the next code, whatever place the name has in the
// alphabet. The others' loads are laid anew with it, once, and the set comes to rest.
func TestALateMemberComesFirstInTheAlphabet(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.staff(t)
	at := g.as(t, ours, "POST", "/v1/class-sets", `{"client_reference":"course 1","terms":{"stock_ids":["card-220-a4"],"frame":"none"}}`).set(t).Links["self"]
	send := func(reference string) api.ClassSet {
		t.Helper()
		body, kind := form(t, reference+".svg", []byte(plate), "copies", "8")
		return g.call(t, "POST", at+"/members", body, "Authorization", ours, "Content-Type", kind, "Prefer", "wait=20").set(t)
	}
	send("ben")
	if s := send("cy"); !s.Settled || len(s.Loads) < 2 {
		t.Fatalf("%q, %d loads", s.Answer, len(s.Loads))
	}
	g.as(t, staff, "PUT", at+"/loads/1", `{"state":"issued"}`).wants(t, "handing out", http.StatusOK, "")
	s := send("ada")
	if !s.Settled || memberNamed(t, s, "ada").Code != "03" || len(memberNamed(t, s, "ada").Loads) == 0 {
		t.Errorf("%q %+v", s.Answer, s.Members)
	}
	g.rest(t)
	sums(t, s, 24)
}

// Those who are ready share loads; one that is mended joins, and a load that was
// handed out keeps its place, map and files.
func TestClassLoads(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.staff(t)
	a := g.as(t, ours, "POST", "/v1/class-sets", `{"client_reference":"course 1","terms":{"stock_ids":["card-220-a4"],"frame":"none"},
		"session":{"minutes":120,"start_at":"2026-03-02T09:00:00+01:00","places":2},"roster":["ada","ben","cy","dee"]}`)
	at := a.set(t).Links["self"]
	send := func(reference, drawn string, copies string) api.ClassSet {
		t.Helper()
		body, kind := form(t, reference+".svg", []byte(drawn), "copies", copies)
		return g.call(t, "POST", at+"/members", body, "Authorization", ours, "Content-Type", kind, "Prefer", "wait=50").set(t)
	}
	for _, one := range []string{"dee", "ada", "ben"} {
		send(one, plate, "8")
	}
	s := send("cy", onlyText, "8")
	if !s.Settled || len(s.Loads) < 2 || s.Roster.Ready != 3 || s.Stocks[0].SpareSheets != 1 || s.Schedule == nil || len(s.Schedule.Runs) != len(s.Loads) {
		t.Fatalf("%q %d loads, %+v %+v", s.Answer, len(s.Loads), s.Stocks, s.Schedule)
	}
	sums(t, s, 24)
	if memberNamed(t, s, "ada").Code != "01" || memberNamed(t, s, "dee").Code != "04" || len(memberNamed(t, s, "cy").Loads) != 0 {
		t.Errorf("codes and loads: %+v", s.Members)
	}
	t.Log(string(g.as(t, ours, "GET", at, "", "Accept", "text/plain").body))

	files := map[string][]byte{}
	for name, link := range s.Loads[0].Links {
		one := g.as(t, ours, "GET", link, "")
		one.wants(t, name, http.StatusOK, "")
		files[name] = one.body
		if dir := os.Getenv("KNIFEDESK_CLASS_FILES"); dir != "" {
			_ = os.WriteFile(filepath.Join(dir, filepath.Base(link)), one.body, 0o644)
		}
	}
	load := at + "/loads/1"
	g.as(t, ours, "PUT", load, `{"state":"issued"}`).wants(t, "handing out without the scope", http.StatusForbidden, "scope_missing")
	g.as(t, staff, "PUT", load, `{"state":"done"}`).wants(t, "done before it was handed out", http.StatusConflict, "not_issued")
	g.as(t, staff, "PUT", at+"/loads/77", `{"state":"issued"}`).wants(t, "no such load", http.StatusNotFound, "not_found")
	for range 2 {
		if s := g.as(t, staff, "PUT", load, `{"state":"issued"}`).set(t); s.Loads[0].State != "issued" || s.Loads[0].IssuedAt == nil {
			t.Errorf("%+v", s.Loads[0])
		}
	}
	first := s.Loads[0].Members
	s = send("cy", folded, "8")
	if !s.Settled || s.Roster.Ready != 4 || len(memberNamed(t, s, "cy").Loads) == 0 || s.Loads[0].State != "issued" || !slices.Equal(s.Loads[0].Members, first) {
		t.Fatalf("after mending: %q %+v", s.Answer, s.Loads)
	}
	sums(t, s, 32)
	for name, link := range s.Loads[0].Links {
		if after := g.as(t, ours, "GET", link, "").body; !bytes.Equal(after, files[name]) {
			t.Errorf("%s of the load that was handed out has changed", name)
		}
	}
	on := s.Loads[0].Members[0].Reference
	plan := memberNamed(t, s, on).Links["plan"]
	g.as(t, ours, "DELETE", plan+"?erase=true", "").wants(t, "erasing who lies on a load handed out", http.StatusConflict, "already_issued")
	if s := g.as(t, staff, "PUT", load, `{"state":"done"}`).set(t); s.Loads[0].State != "done" || len(s.Schedule.Runs) != len(s.Loads)-1 {
		t.Errorf("%+v", s.Schedule)
	}
	g.as(t, ours, "DELETE", plan+"?erase=true", "").wants(t, "erasing it later", http.StatusNoContent, "")
	s = g.as(t, ours, "GET", at, "", "Prefer", "wait=50").set(t)
	if !s.Settled || s.Loads[0].State != "done" || s.Loads[0].Members[0].Reference != "" || s.Roster.Ready != 3 {
		t.Errorf("without %s: %q %+v", on, s.Answer, s.Loads[0])
	}
	g.as(t, ours, "GET", load+"/layout.svg", "").wants(t, "its picture", http.StatusNotFound, "not_found")
	g.as(t, ours, "DELETE", at, "").wants(t, "the end", http.StatusNoContent, "")
	var left string // what is read by the layers of a convention goes with the plan, though ada's drawing stays
	if err := g.store.Pool.QueryRow(t.Context(), `select coalesce(string_agg(stage, ' '), '') from results`).Scan(&left); err != nil || left != "" {
		t.Errorf("results are left: %s, %v", left, err)
	}
}

// A piece of a member that lies on a load with others is cut again alone, on an offcut: the
// loads of the set stay as they are.
func TestPieceOfAClassIsCutAgain(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours, staff := g.key(t, "print", "submit", "read"), g.staff(t)
	g.as(t, staff, "POST", "/v1/offcuts", `{"from_stock_id":"card-220-a4","width_mm":80,"length_mm":80}`).wants(t, "an offcut", http.StatusCreated, "")
	at := g.classSet(t, ours, "")
	body, kind := form(t, "ben.svg", []byte(plate))
	g.call(t, "POST", at+"/members", body, "Authorization", ours, "Content-Type", kind).wants(t, "ben", http.StatusOK, "")
	kit := `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><g id="CUT" fill="none" stroke="#007c91" stroke-width="0.1">
		<path d="M5 5H55V45H5Z"/><path d="M65 10H95V40H65Z"/><circle cx="80" cy="25" r="5"/></g></svg>`
	body, kind = form(t, "ada.svg", []byte(kit), "stock", "card-220-a4", "copies", "2")
	s := g.call(t, "POST", at+"/members", body, "Authorization", ours, "Content-Type", kind, "Prefer", "wait=50").set(t)
	load := g.as(t, ours, "GET", s.Loads[0].Links["layout"], "").body
	ada := memberNamed(t, s, "ada")
	var w api.Weeding
	g.as(t, ours, "GET", ada.Links["plan"]+"/weeding", "").json(t, &w)
	small := slices.IndexFunc(w.Regions, func(r api.Region) bool { return r.Class == "kept" && r.AreaMM2 < 1000 })
	if small < 0 {
		t.Fatalf("%q %+v", s.Answer, w.Regions)
	}
	a := g.as(t, staff, "POST", ada.Links["plan"]+"/recut", fmt.Sprintf(`{"pieces":[{"copy":2,"piece":%d}],"reason":"torn"}`, w.Regions[small].Number), "Prefer", "wait=30")
	var again api.Plan
	a.wants(t, "a recut", http.StatusOK, "")
	a.json(t, &again)
	if again.Status != "ready" || !strings.HasPrefix(again.StockID, "offcut-") || len(again.Again) != 1 || again.Again[0] != (api.RecutPiece{Piece: w.Regions[small].Number, Copies: 1}) || again.Layout.Copies != 1 || again.Weeding.Kept != 1 {
		t.Errorf("%s on %s: %+v %+v %+v", again.Status, again.StockID, again.Again, again.Layout, again.Weeding)
	}
	text := string(g.as(t, ours, "GET", again.Links["self"], "", "Accept", "text/plain").body)
	if want := fmt.Sprintf("again 1 of piece %d × pieces on ", w.Regions[small].Number); !strings.Contains(text, want) {
		t.Errorf("the text lacks %q:\n%s", want, text)
	}
	if dir := os.Getenv("KNIFEDESK_CLASS_FILES"); dir != "" {
		for _, name := range []string{"layout_preview", "weeding_preview", "worksheet"} {
			_ = os.WriteFile(filepath.Join(dir, name), g.as(t, ours, "GET", again.Links[name], "").body, 0o644)
		}
	}
	if after := g.as(t, ours, "GET", s.Loads[0].Links["layout"], "").body; !bytes.Equal(after, load) {
		t.Error("the load of the set has changed")
	}
}
