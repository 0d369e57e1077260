package api_test

import (
	"html"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"knifedesk/api"
	"knifedesk/api/docs"
	"knifedesk/geometry/geometrytest/reference"
	"knifedesk/jobs/finding"
)

// block is what a page shows to be copied.
type block struct{ language, id, text string }

var blocks = regexp.MustCompile(`(?s)<pre><code class="language-(\w+)"(?: id="([\w.]+)")?>(.*?)</code></pre>`)

// shownOn returns the blocks of a page, all of them.
func shownOn(t *testing.T, name string) (all []block) {
	t.Helper()
	pages, err := docs.New()
	if err != nil {
		t.Fatal(err)
	}
	page := string(pages[name].Body)
	for _, m := range blocks.FindAllStringSubmatch(page, -1) {
		all = append(all, block{m[1], m[2], html.UnescapeString(m[3]) + "\n"})
	}
	if n := strings.Count(page, "<pre"); n != len(all) || n == 0 {
		t.Fatalf("%s has %d blocks, and %d are run", name, n, len(all))
	}
	return all
}

// script joins the blocks of shell commands.
func script(all []block) string {
	var text strings.Builder
	for _, b := range all {
		if b.language == "sh" {
			text.WriteString(b.text)
		}
	}
	return text.String()
}

// shell runs commands in a folder, with variables set, and returns what they print.
func shell(t *testing.T, folder, commands string, variables ...string) string {
	t.Helper()
	reference.Tool(t, "jq")
	cmd := exec.CommandContext(t.Context(), "bash", "-euo", "pipefail", "-c", commands)
	cmd.Dir, cmd.Env = folder, append(os.Environ(), append(variables, "HOME="+folder)...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return string(out)
}

func wantsAll(t *testing.T, out string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(out, w) {
			t.Errorf("the output lacks %q:\n%s", w, out)
		}
	}
}

// bare is a key as it stands in a header, without the scheme.
func bare(bearer string) string { return strings.TrimPrefix(bearer, "Bearer ") }

// The blocks of the page for a shell run as they stand, with a key.
func TestDocsInAShell(t *testing.T) {
	g := openGuarded(t, api.Config{PerMinute: -1})
	key := g.key(t, "course", "submit", "read")
	folder := t.TempDir()
	out := shell(t, folder, script(shownOn(t, "curl")), "desk="+g.URL, "key="+bare(key))
	wantsAll(t, out, "card-220-a4\t", "137 × 62 mm", "asking\nartwork/operation:score\n", "  nothing: ", "kiss cut", "asking\nready\n",
		`"cutter_slot_why": "`, `"bench_slot_why": "`, "?signed=", "\tfilm-removable-610\tready\t", `"code":"not_found"`)
	for name, head := range map[string]string{"begin.svg": "<svg", "worksheet.pdf": "%PDF-", "load-1.dxf": "", "weeding.png": "\x89PNG"} {
		body, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil || len(body) == 0 || !strings.Contains(string(body[:min(200, len(body))]), head) {
			t.Errorf("%s: %v, %d bytes", name, err, len(body))
		}
	}
}

// Every page is whole, has no script, leads nowhere that is not there, and can be
// read by everybody, on a phone too.
func TestDocsPages(t *testing.T) {
	d := open(t)
	b := window(t, 360, 800)
	for _, name := range []string{"", "/curl", "/form", "/booking", "/codes"} {
		a := d.call(t, "GET", "/docs"+name, nil)
		page := string(a.body)
		policy := a.header.Get("Content-Security-Policy")
		if a.status != http.StatusOK || strings.Contains(page, "<script") || !strings.HasPrefix(policy, "default-src 'none'") || strings.Contains(policy, "unsafe") {
			t.Errorf("%s: %d under %q", name, a.status, policy)
		}
		for _, link := range regexp.MustCompile(`href="(/[^"#]*)`).FindAllStringSubmatch(page, -1) {
			if there := d.call(t, "GET", link[1], nil); there.status != http.StatusOK {
				t.Errorf("%s leads to %s: %d", name, link[1], there.status)
			}
		}
		b.do("open "+name, chromedp.Navigate(d.URL+"/docs"+name), chromedp.WaitReady("h1"))
		b.accessible("/docs" + name)
		if over := value[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
			t.Errorf("%s is %d px wider than a phone", name, over)
		}
		b.keep("docs" + strings.ReplaceAll(name, "/", "-"))
	}
	b.media("prefers-color-scheme", "dark")
	b.accessible("in the dark")
	b.quiet()
}

// The page of codes and the specification list the codes of the catalogues, and
// each code of a problem stands in the code.
func TestCodesAreListed(t *testing.T) {
	d := open(t)
	page := string(d.call(t, "GET", "/docs/codes", nil).body)
	var problems, findings []string
	for _, p := range docs.Problems() {
		problems = append(problems, p.Code)
		if strings.Count(page, `<tr id="`+p.Code+`">`) != 1 {
			t.Errorf("the page does not list %s once", p.Code)
		}
	}
	for _, c := range finding.Codes() {
		findings = append(findings, string(c))
		if strings.Count(page, `<tr id="finding-`+string(c)+`">`) != 1 {
			t.Errorf("the page does not list %s once", c)
		}
	}
	slices.Sort(problems)
	for schema, want := range map[string][]string{"ProblemCode": problems, "FindingCode": findings} {
		var listed []string
		for _, code := range d.spec.Components.Schemas[schema].Value.Enum {
			listed = append(listed, code.(string))
		}
		if !slices.Equal(listed, want) {
			t.Errorf("%s lists %v, the catalogue %v: go generate ./api", schema, listed, want)
		}
	}
	written := sourcesOfProblems(t)
	for _, code := range problems {
		half, rest, _ := strings.Cut(code, "_")
		joined := strings.Contains(written, `"`+half+`_"+kind`) && slices.Contains([]string{"parameter", "body"}, rest)
		if !joined && !strings.Contains(written, `"`+code+`"`) {
			t.Errorf("no code raises %s", code)
		}
	}
	for _, m := range regexp.MustCompile(`(?:code: |unprocessable\([^"\n]*(?:"\w+")?, |conflict\(|forbidden\(|unauthorised\()"(\w+)"`).FindAllStringSubmatch(written, -1) {
		if !slices.Contains(problems, m[1]) && !strings.HasSuffix(m[1], "_") {
			t.Errorf("%s is raised and not in the catalogue of package docs", m[1])
		}
	}
}

// sourcesOfProblems is the code that problems come from.
func sourcesOfProblems(t *testing.T) string {
	t.Helper()
	var all strings.Builder
	for _, room := range []string{".", "keyring", "../jobs/queue", "../jobs/queue/ledger"} {
		files, err := filepath.Glob(filepath.Join(room, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") || strings.HasSuffix(f, ".gen.go") {
				continue
			}
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(text)
		}
	}
	return all.String()
}
