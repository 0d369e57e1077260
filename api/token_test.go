package api_test

import (
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"knifedesk/api"
	"knifedesk/api/access"
)

// token makes a token with a key and returns the header that shows it.
func (g guarded) token(t *testing.T, bearer, body string) string {
	t.Helper()
	a := g.as(t, bearer, "POST", "/v1/tokens", body)
	a.wants(t, "a token", http.StatusCreated, "")
	var made api.NewToken
	a.json(t, &made)
	if made.Page != "/#token="+made.Token {
		t.Errorf("the link is %q", made.Page)
	}
	return "Bearer " + made.Token
}

// The way of a form in a browser: the token is spent on the drawing and redeemed
// for a capability that sees this drawing and its plans and nothing else.
func TestATokenIsSpentOnce(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	course := g.key(t, "print", "submit", "read")
	other := g.planned(t, course) // of the same client, by somebody else
	token := g.token(t, course, `{"stock_id":"film-removable-610"}`)

	reads := func(when string) {
		for _, path := range []string{"/v1/stocks", "/v1/machines", "/v1/conventions/paper-folding", "/v1/templates/card-220-a4.svg"} {
			a := g.as(t, token, "GET", path, "")
			a.wants(t, path+" "+when, http.StatusOK, "")
			if a.header.Get("Submission-Capability") != "" {
				t.Errorf("%s %s: whoever has the link gets the capability", path, when)
			}
		}
	}
	reads("before the drawing")
	for _, path := range []string{"/v1/plans", other.Links["self"], "/v1/keys", "/v1/levels"} {
		g.as(t, token, "GET", path, "").wants(t, path+" with a token", http.StatusForbidden, "not_with_token")
	}
	send := func(headers ...string) answer {
		return g.call(t, "POST", "/v1/drawings", []byte(plate), append([]string{"Content-Type", "image/svg+xml", "Authorization", token}, headers...)...)
	}
	first := send("Idempotency-Key", "one")
	first.wants(t, "sending the drawing", http.StatusCreated, "")
	capability := first.header.Get("Submission-Capability")
	if again := send("Idempotency-Key", "one"); again.status != http.StatusCreated || again.header.Get("Location") != first.header.Get("Location") || again.header.Get("Submission-Capability") != capability {
		t.Errorf("the same again: %d at %s", again.status, again.header.Get("Location"))
	}
	second := send("Idempotency-Key", "two")
	second.wants(t, "a second drawing", http.StatusConflict, "token_spent")
	if second.header.Get("Submission-Capability") != "" {
		t.Error("a refusal carries the capability")
	}
	send().wants(t, "a second drawing without a key", http.StatusConflict, "token_spent")
	reads("after the drawing of another")

	mine := "Bearer " + capability
	drawing := first.header.Get("Location")
	order := `{"drawing_id":"` + strings.TrimPrefix(drawing, "/v1/drawings/") + `"}`
	g.as(t, mine, "GET", drawing, "").wants(t, "the drawing", http.StatusOK, "")
	a := g.as(t, mine, "POST", "/v1/plans", order, "Prefer", "wait=30")
	a.wants(t, "a plan of it", http.StatusOK, "")
	var p api.Plan
	a.json(t, &p)
	if p.Owner != "print" || p.StockID != "film-removable-610" {
		t.Errorf("the plan is of %s, on %s", p.Owner, p.StockID)
	}
	g.as(t, mine, "POST", "/v1/plans", strings.TrimSuffix(order, "}")+`,"copies":2,"supersedes":"`+p.ID.String()+`"}`, "Prefer", "wait=30").wants(t, "another plan", http.StatusOK, "")
	// A browser opens these by itself, without the capability.
	for _, name := range []string{"size_preview", "drawing_preview", "worksheet", "cut_file", "mended_svg", "mended_dxf", "proof"} {
		g.call(t, "GET", p.Links[name], nil).wants(t, name, http.StatusOK, "")
	}
	g.as(t, mine, "GET", p.Links["self"], "").wants(t, "the plan", http.StatusOK, "")
	for what, call := range map[string][3]string{
		"another's plan": {"GET", other.Links["self"]}, "its picture": {"GET", other.Links["self"] + "/previews/size.svg"}, "its drawing": {"GET", other.Links["drawing"]},
		"erasing it": {"DELETE", other.Links["self"] + "?erase=true"}, "a plan of its drawing": {"POST", "/v1/plans", `{"drawing_id":"` + other.DrawingID.String() + `"}`},
		"superseding it": {"POST", "/v1/plans", strings.TrimSuffix(order, "}") + `,"supersedes":"` + other.ID.String() + `"}`},
	} {
		g.as(t, mine, call[0], call[1], call[2]).wants(t, what, http.StatusNotFound, "not_found")
	}
	g.as(t, mine, "GET", "/v1/plans", "").wants(t, "the list", http.StatusForbidden, "not_with_token")
	g.call(t, "POST", "/v1/drawings", []byte(plate), "Content-Type", "image/svg+xml", "Authorization", mine).wants(t, "another drawing", http.StatusForbidden, "not_with_token")
	body, kind := form(t, "plate.svg", []byte(plate))
	g.call(t, "POST", "/v1/plans", body, "Content-Type", kind, "Authorization", mine).wants(t, "another drawing with a plan", http.StatusConflict, "token_spent")
	g.as(t, mine[:len(mine)-4]+"AAAA", "GET", drawing, "").wants(t, "a forged capability", http.StatusUnauthorized, "key_unknown")
}

// Of many requests that spend a token at once one does.
func TestATokenIsSpentByOne(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	course := g.key(t, "print", "submit")
	token := g.token(t, course, `{}`)
	var made sync.Map
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			a := g.call(t, "POST", "/v1/drawings", []byte(plate), "Content-Type", "image/svg+xml", "Authorization", token)
			made.Store(a.header.Get("Location"), a.status)
		})
	}
	all.Wait()
	n := 0
	made.Range(func(where, status any) bool {
		if where != "" {
			n++
		} else if status != http.StatusConflict {
			t.Errorf("a late one gets %v", status)
		}
		return true
	})
	if n != 1 {
		t.Errorf("%d drawings were made", n)
	}
}

// A token whose choices the workshop does not have is refused to whoever makes it, and not
// to each person who gets one.
func TestTokenWithAnUnknownChoice(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	for body, wrong := range map[string]bool{
		`{"frame":"as drawn"}`: true, `{"stock_id":"tin"}`: true, `{"frame":"210x"}`: true,
		`{"frame":"A4"}`: false, `{"frame":"none"}`: false, `{"frame":"8.5x11in","stock_id":"card-220-a4"}`: false, `{}`: false,
	} {
		if a := g.as(t, ours, "POST", "/v1/tokens", body); wrong {
			a.wants(t, body, http.StatusUnprocessableEntity, "invalid_body")
		} else {
			a.wants(t, body, http.StatusCreated, "")
		}
	}
}

func TestTokensEnd(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff := g.key(t, "workshop", "manage")
	var k api.NewKey
	g.as(t, staff, "POST", "/v1/keys", `{"owner":"print","scopes":["submit"]}`).json(t, &k)
	unspent, spent := g.token(t, "Bearer "+k.Key, `{}`), g.token(t, "Bearer "+k.Key, `{}`)
	late := g.token(t, "Bearer "+k.Key, `{}`)
	send := func(token string) answer {
		return g.call(t, "POST", "/v1/drawings", []byte(plate), "Content-Type", "image/svg+xml", "Authorization", token)
	}
	a := send(spent)
	mine := "Bearer " + a.header.Get("Submission-Capability")
	if _, err := g.store.Pool.Exec(t.Context(), `update tokens set expires = now() - interval '1 s' where id = $1`, idOf(t, late)); err != nil {
		t.Fatal(err)
	}
	send(late).wants(t, "a token past its time", http.StatusUnauthorized, "token_expired")
	g.as(t, mine, "GET", a.header.Get("Location"), "").wants(t, "in its time", http.StatusOK, "")
	if _, err := g.store.Pool.Exec(t.Context(), `update tokens set until = now() - interval '1 s' where id = $1`, idOf(t, spent)); err != nil {
		t.Fatal(err)
	}
	g.as(t, mine, "GET", a.header.Get("Location"), "").wants(t, "a capability past its time", http.StatusUnauthorized, "token_expired")
	g.as(t, staff, "DELETE", "/v1/keys/"+k.ID.String(), "").wants(t, "revoking", http.StatusNoContent, "")
	send(unspent).wants(t, "a token of a revoked key", http.StatusUnauthorized, "key_unknown")
}

func idOf(t *testing.T, bearer string) string {
	t.Helper()
	s, ok := access.ParseSecret(strings.TrimPrefix(bearer, "Bearer "))
	if !ok {
		t.Fatalf("%q is no secret", bearer)
	}
	return s.ID.String()
}

func TestLinksAreSignedAndExpire(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	ours := g.key(t, "print", "submit", "read")
	p, other := g.planned(t, ours), g.planned(t, ours)
	var shared api.SharedLinks
	g.as(t, ours, "POST", p.Links["self"]+"/links", `{"expires_in_min":5}`).json(t, &shared)
	if left := time.Until(shared.ExpiresAt); left < 4*time.Minute || left > 5*time.Minute {
		t.Errorf("they end in %v", left)
	}
	if len(shared.Links) < 8 {
		t.Errorf("the links: %v", shared.Links)
	}
	for name, link := range shared.Links {
		g.call(t, "GET", link, nil).wants(t, name, http.StatusOK, "")
	}
	link := shared.Links["layout_preview"]
	g.call(t, "GET", link+"&load=1", nil).wants(t, "a load of it", http.StatusOK, "")
	path, signed, _ := strings.Cut(link, "?signed=")
	when, sum, _ := strings.Cut(signed, ".")
	broken := map[string]string{
		"another plan":  strings.Replace(link, p.ID.String(), other.ID.String(), 1),
		"another file":  strings.Replace(link, "layout.svg", "layout.png", 1),
		"a later end":   path + "?signed=9" + when + "." + sum,
		"another sum":   path + "?signed=" + when + "." + strings.Repeat("A", len(sum)),
		"no sum":        path + "?signed=" + when,
		"a word":        path + "?signed=" + url.QueryEscape("no.thing"),
		"a plan itself": p.Links["self"] + "?signed=" + signed,
	}
	for what, link := range broken {
		g.call(t, "GET", link, nil).wants(t, what, http.StatusForbidden, "link_broken")
	}
	secret, err := g.store.SigningSecret(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	sign := access.NewSigner(secret)
	g.call(t, "GET", path+"?signed="+sign.Sign(path, time.Now().Add(-time.Second)), nil).wants(t, "past its end", http.StatusForbidden, "link_expired")
	g.call(t, "GET", p.Links["self"]+"?signed="+sign.Sign(p.Links["self"], time.Now().Add(time.Hour)), nil).wants(t, "what no link opens", http.StatusForbidden, "link_broken")
}

// A student opens the link that the workshop gave out, sends a drawing, sees its
// pictures, and has the plan again after a reload. The token is in no address.
func TestPageWithAToken(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	token := g.token(t, g.key(t, "print", "submit", "read"), `{}`)
	b := browseAt(t, g.URL+"/#token="+strings.TrimPrefix(token, "Bearer "), 1000, 1200)
	if at := value[string](b, `location.href`); at != g.URL+"/" {
		t.Errorf("the address is %s", at)
	}
	b.do("send a drawing", chromedp.SetUploadFiles(`#file`, []string{drawingFile(t, "plate.svg", plate)}),
		chromedp.Click(film), chromedp.Click(`#send`), chromedp.WaitVisible(`.files a`))
	b.do("open the page again", chromedp.Reload(), chromedp.WaitVisible(`.files a`))
	seen := `[...document.querySelectorAll('#plan img')].some(i => i.complete && i.naturalWidth > 0)`
	for end := time.Now().Add(10 * time.Second); !value[bool](b, seen); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("no picture is shown")
		}
	}
	b.keep("with-token")
	sheet := value[string](b, `document.querySelector('.files a').href`)
	g.call(t, "GET", strings.TrimPrefix(sheet, g.URL), nil).wants(t, "the worksheet's link", http.StatusOK, "")
}
