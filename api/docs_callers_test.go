package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	standardwebhooks "github.com/standard-webhooks/standard-webhooks/libraries/go"

	"knifedesk/api"
	"knifedesk/geometry/geometrytest/reference"
)

// named returns the block with an id.
func named(t *testing.T, all []block, id string) string {
	t.Helper()
	for _, b := range all {
		if b.id == id {
			return b.text
		}
	}
	t.Fatalf("the page has lost %s", id)
	return ""
}

// The commands of the page for booking systems run as they stand: minutes, slots,
// acceptance, a webhook, an outcome.
func TestDocsForBooking(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	all, folder, told := shownOn(t, "booking"), t.TempDir(), newReceiver(t, 204)
	out := shell(t, folder, script(all), "desk="+g.URL, "admin="+bare(g.key(t, "workshop", "manage")), "receiver="+told.URL)
	wantsAll(t, out, `"status": "ready"`, `"machine_id": "wide-610"`, `"cutter_slot_min": 15`, `"cutter_slot_why": "`, `: book 15"`, `"valid_until": "`,
		`"price_list_version": 1`, `"booking_reference": "bay-2-0412"`, `"state": "held"`, "\nissue\noutcome\n")
	if err := os.WriteFile(filepath.Join(folder, "slots.py"), []byte(named(t, all, "slots.py")), 0o644); err != nil {
		t.Fatal(err)
	}
	// By hand: 15 minutes at the cutter, then at the bench, which is free before.
	wantsAll(t, shell(t, folder, "python3 slots.py"),
		"cutter 2026-12-04T13:00:00+01:00 2026-12-04T13:15:00+01:00\n", "bench  2026-12-04T13:15:00+01:00 2026-12-04T13:30:00+01:00\n")
	for _, b := range all {
		if b.language != "json" {
			continue
		}
		var message any
		if err := json.Unmarshal([]byte(b.text), &message); err != nil {
			t.Fatal(err)
		}
		if err := g.spec.Components.Schemas["WebhookMessage"].Value.VisitJSON(message); err != nil {
			t.Error(err)
		}
	}
}

// What the page gives to receive webhooks with takes what the service sends, once,
// and refuses what is forged, old or changed.
func TestDocsReceiveWebhooks(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	staff, booking := g.key(t, "workshop", "manage"), g.key(t, "booking", "submit", "read")
	all := shownOn(t, "booking")
	received := map[string]*received{}
	for file, tool := range map[string]string{"receive.py": "python3", "receive.mjs": "node"} {
		r := receive(t, tool, file, named(t, all, file), func(url string) string { return g.hook(t, staff, `{"url":"`+url+`","owner":"booking"}`).Secret })
		received[file] = r
	}
	p := g.planned(t, booking)
	for file, r := range received {
		r.waitFor(t, "plan.ready  /v1/plans/"+p.ID.String()+"\n")
		sign, err := standardwebhooks.NewWebhook(r.secret)
		if err != nil {
			t.Fatal(err)
		}
		body := []byte(`{"type":"plan.ready","data":{"client_reference":"ünö","link":"/v1/plans/x"}}`)
		now := time.Now()
		for _, c := range []struct {
			what  string
			sent  time.Time
			bytes []byte
			id    string
			want  int
		}{
			{"genuine", now, body, "msg_a", 204}, {"the same again", now, body, "msg_a", 204}, {"changed", now, append(body, ' '), "msg_b", 401},
			{"old", now.Add(-6 * time.Minute), body, "msg_c", 401}, {"of another message", now, body, "msg_d", 401},
		} {
			signature, err := sign.Sign(strings.Replace(c.id, "_d", "_e", 1), c.sent, body)
			if err != nil {
				t.Fatal(err)
			}
			for with, want := range map[string]int{"v1,bm90IGl0 " + signature: c.want, "v1,bm90IGl0": 401, "": 401, "v1,é": 401} {
				if got := r.send(t, c.id, c.sent, with, c.bytes); got != want {
					t.Errorf("%s: %s with %q is answered %d, want %d", file, c.what, with, got, want)
				}
			}
		}
		r.waitFor(t, "plan.ready ünö /v1/plans/x\n")
		if n := strings.Count(r.printed(), "/v1/plans/x\n"); n != 1 {
			t.Errorf("%s takes it %d times", file, n)
		}
	}
}

// received is a receiver of the page that runs.
type received struct {
	url, secret string
	mu          sync.Mutex
	out         bytes.Buffer
}

// receive writes a receiver into a folder of its own, with the secret, and starts it.
func receive(t *testing.T, tool, file, text string, hook func(url string) string) *received {
	t.Helper()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	at := free.Addr().String()
	free.Close()
	r := &received{url: "http://" + at, secret: hook("http://" + at)}
	folder := t.TempDir()
	for name, content := range map[string]string{file: text, "secret.txt": r.secret + "\n"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(reference.Tool(t, tool), file)
	cmd.Dir, cmd.Stdout, cmd.Stderr = folder, r, io.Discard
	cmd.Env = append(os.Environ(), "PORT="+at[strings.LastIndex(at, ":")+1:], "PYTHONUTF8=1")
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if conn, err := net.Dial("tcp", at); err == nil {
			conn.Close()
			return r
		} else if time.Now().After(end) {
			t.Fatal(err)
		}
	}
}

// Write takes what the receiver prints.
func (r *received) Write(b []byte) (int, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.out.Write(b)
}

func (r *received) printed() string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.out.String()
}

func (r *received) waitFor(t *testing.T, line string) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); !strings.Contains(r.printed(), line); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%q is not printed: %q", line, r.printed())
		}
	}
}

// send posts a message with a signature and returns the status.
func (r *received) send(t *testing.T, id string, sent time.Time, signature string, body []byte) int {
	t.Helper()
	req, err := http.NewRequest("POST", r.url, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("webhook-id", id)
	req.Header.Set("webhook-timestamp", fmt.Sprint(sent.Unix()))
	req.Header.Set("webhook-signature", signature)
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	return resp.StatusCode
}

// The form of the page works on a site of its own, from the token to the
// worksheet, with a question on the way.
func TestPageOnAnotherSite(t *testing.T) {
	all := shownOn(t, "form")
	var page string
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = io.WriteString(w, page)
	}))
	t.Cleanup(site.Close)
	g := openGuarded(t, api.Config{PerMinute: -1, Origins: []string{site.URL}})
	page = strings.Replace(named(t, all, "form.html"), "https://knifedesk.example.org", g.URL, 1)
	folder := t.TempDir()
	wantsAll(t, shell(t, folder, script(all), "desk="+g.URL, "key="+bare(g.key(t, "course", "submit"))), "\nkdt_", "\n"+g.URL+"/#token=kdt_")
	token := strings.TrimSpace(shell(t, folder, "jq -r .token token.json"))

	b := window(t, 400, 900)
	b.do("open the form", chromedp.Navigate(site.URL+"/form.html#"+token), chromedp.WaitReady("#file"))
	b.accessible("the form")
	b.do("send a drawing", chromedp.SetUploadFiles("#file", []string{drawingFile(t, "folded.svg", folded)}), chromedp.Click("#send button"), waitFor(`!/worked out|^$/.test(document.querySelector('#state').textContent)`))
	if said := b.text("#state"); said != "Something has to be said first." {
		b.quiet()
		t.Fatalf("the page says %q", said)
	}
	b.accessible("the question")
	b.do("answer it", chromedp.Click(`input[value="nothing"]`), chromedp.Click("#plan button"), chromedp.WaitVisible("#plan a"))
	wantsAll(t, b.text("main"), "It can be cut.", "80.0 × 40.0 mm", "minutes at the cutter")
	for end := time.Now().Add(20 * time.Second); !value[bool](b, `document.querySelector('img').naturalWidth > 0`); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("no picture is shown")
		}
	}
	b.accessible("the plan")
	b.keep("docs-form-used")
	sheet := strings.TrimPrefix(value[string](b, `document.querySelector('#plan a').href`), g.URL)
	g.call(t, "GET", sheet, nil).wants(t, "the worksheet", http.StatusOK, "")
	b.quiet()
}
