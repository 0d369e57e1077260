package main

import (
	"bytes"
	"context"
	"log/slog"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"

	"knifedesk/db"
	"knifedesk/db/dbtest"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// served runs the service on a database until the test ends it. The worksheet bears
// its address.
func served(t *testing.T, url, listen, erased string) (*client, func()) {
	t.Helper()
	store, err := db.Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	cfg := serveConfig{role: "all", listen: listen, erased: erased, workers: 1, memory: 256, requests: -1}
	s, err := start(t.Context(), cfg, &database{DB: store, close: store.Close}, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	return &client{base: s.url}, func() {
		if err := s.stop(); err != nil {
			t.Error(err)
		}
	}
}

const backedUp = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="CUT" fill="none" stroke="#007c91"><rect x="10" y="10" width="WIDTH" height="40"/></g></svg>`

// ready has a drawing of a width planned.
func ready(t *testing.T, c *client, width, reference string) *planBody {
	t.Helper()
	p, err := c.submit(t.Context(), reference+".svg", []byte(strings.Replace(backedUp, "WIDTH", width, 1)),
		map[string]string{"stock": "card-220-a4", "frame": "none", "client_reference": reference})
	if err != nil || p.Status != "ready" {
		t.Fatalf("%+v, %v", p, err)
	}
	return p
}

// shown fetches all that the links of a plan lead to.
func shown(t *testing.T, c *client, links map[string]string) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	for name, link := range links {
		if name == "answers" || name == "events" {
			continue
		}
		body, err := c.get(t.Context(), link, "*/*")
		if err != nil {
			t.Fatal(err)
		}
		all[link] = body
	}
	return all
}

func (c *client) post(t *testing.T, method, path, body string) {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), method, c.base+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/json")
	if _, err := do(req); err != nil {
		t.Fatal(err)
	}
}

// readmeCommand runs the command of the README that begins with a word, as it stands
// there.
func readmeCommand(t *testing.T, first, dir, url string) {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		command, ok := strings.CutPrefix(line, "    "+first+" ")
		if !ok {
			continue
		}
		cmd := exec.CommandContext(t.Context(), "bash", "-c", first+" "+command)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), "DATABASE_URL="+url)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", command, err, out)
		}
		return
	}
	t.Fatalf("the README has no command that begins with %s", first)
}

// emptyDatabase makes one on the server of another.
func emptyDatabase(t *testing.T, beside *pgxpool.Pool) (url string) {
	t.Helper()
	if _, err := beside.Exec(t.Context(), "create database restored"); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _, _ = beside.Exec(context.Background(), "drop database restored with (force)") })
	return strings.Replace(dbtest.URL(beside), "dbname="+beside.Config().ConnConfig.Database, "dbname=restored", 1)
}

// A copy that was made while the service ran, by the command of the README, gives
// back all plans, pictures and files byte for byte in another database; and what was
// erased after the copy is erased again there before the service is reached.
func TestRestoreGivesBackAllButWhatWasErased(t *testing.T) {
	pool, dir := dbtest.New(t), t.TempDir()
	if err := queue.Seed(t.Context(), db.From(pool), workshop.Example()); err != nil {
		t.Fatal(err)
	}
	list := filepath.Join(dir, "erased")
	c, stop := served(t, dbtest.URL(pool), "127.0.0.1:0", list)
	kept, gone := ready(t, c, "61.25", "keeps"), ready(t, c, "47.11815", "canary")
	c.post(t, "POST", "/v1/class-sets", `{"terms": {"stock_ids": ["card-220-a4"]}, "roster": ["canary", "keeps"]}`)
	c.post(t, "POST", kept.Links["self"]+"/acceptance", `{}`)
	before := shown(t, c, kept.Links)
	readmeCommand(t, "pg_dump", dir, dbtest.URL(pool))
	c.post(t, "DELETE", "/v1/plans?client_reference=canary", "")
	stop()
	if text, err := os.ReadFile(list); err != nil || bytes.Contains(text, []byte("canary")) || bytes.Count(text, []byte("\n")) != 4 {
		t.Fatalf("the list of what was erased, %v:\n%s", err, text)
	}

	url := emptyDatabase(t, pool)
	readmeCommand(t, "pg_restore", dir, url)
	restored, err := pgxpool.New(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer restored.Close()
	for _, canary := range []string{"canary", "47.11815"} {
		if at := dbtest.Holding(t, restored, []byte(canary)); len(at) == 0 {
			t.Errorf("%s is not in the copy: the search cannot fail", canary)
		}
	}
	c, stop = served(t, url, strings.TrimPrefix(c.base, "http://"), list)
	defer stop()
	for link, want := range before {
		if got, err := c.get(t.Context(), link, "*/*"); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s: %d bytes after the restore, %d before, %v", link, len(got), len(want), err)
		}
	}
	if len(before) < 15 {
		t.Errorf("only %d things compared", len(before))
	}
	if _, err := c.get(t.Context(), gone.Links["self"], "*/*"); err == nil || !strings.Contains(err.Error(), "404") {
		t.Errorf("what was erased: %v", err)
	}
	for _, canary := range []string{"canary", "47.11815"} {
		if at := dbtest.Holding(t, restored, []byte(canary)); len(at) > 0 {
			t.Errorf("%s is in %v", canary, at)
		}
	}
	began := time.Now()
	ready(t, c, "33.5", "later")
	t.Logf("a plan in the restored database took %v", time.Since(began).Round(time.Millisecond))
}
