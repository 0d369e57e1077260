package api_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"knifedesk/geometry/geometrytest/reference"
)

// browser is Chromium on the page of a service.
type browser struct {
	t   testing.TB
	ctx context.Context
	mu  sync.Mutex
	bad []string // errors that the page wrote to the console
}

type step = chromedp.Action[chromedp.Void]

// browse opens the service's page in a window of the given size.
func browse(t testing.TB, d *desk, width, height int) *browser {
	t.Helper()
	return browseAt(t, d.URL, width, height)
}

// browseAt opens the page at an address.
func browseAt(t testing.TB, address string, width, height int) *browser {
	t.Helper()
	b := window(t, width, height)
	b.do("open the page", chromedp.Navigate(address), chromedp.WaitReady(`input[name=stock][value="film-removable-610"]`))
	return b
}

// window opens a window of the given size that shows nothing yet.
func window(t testing.TB, width, height int) *browser {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(reference.Tool(t, "chromium")), chromedp.NoSandbox, chromedp.WindowSize(width, height))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 90*time.Second)
	t.Cleanup(cancel)
	b := &browser{t: t, ctx: ctx}
	b.do("open a window", chromedp.Navigate("about:blank"))
	go func() {
		for m, err := range chromedp.Console(ctx) {
			if err != nil {
				return
			}
			if m.IsException() || m.Type == chromedp.ConsoleError {
				b.mu.Lock()
				b.bad = append(b.bad, m.String())
				b.mu.Unlock()
			}
		}
	}()
	return b
}

// do takes steps, or ends the test with what they were for.
func (b *browser) do(what string, steps ...step) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.keep("failed")
		b.t.Fatalf("%s: %v", what, err)
	}
}

// key presses keys one after the other.
func (b *browser) key(keys ...string) {
	b.t.Helper()
	for _, k := range keys {
		b.do("press a key", chromedp.KeyEvent(k))
	}
}

// text is what a person reads in an element.
func (b *browser) text(selector string) string {
	b.t.Helper()
	text, err := chromedp.Run(b.ctx, chromedp.Text(selector))
	if err != nil {
		b.t.Fatal(err)
	}
	return text
}

// media shows the page under a feature of media queries.
func (b *browser) media(name, value string) {
	b.t.Helper()
	b.do(name+" "+value, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: name, Value: value}}})
		return err
	}))
}

// value evaluates an expression on the page.
func value[T any](b *browser, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.EvaluateAsDevTools[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// accessible fails for what axe-core finds wrong with the page as it stands:
// its rules of WCAG 2.2 A and AA and its best practices.
func (b *browser) accessible(state string) {
	b.t.Helper()
	if !value[bool](b, "typeof axe === 'object'") {
		value[bool](b, reference.AxeCore(b.t)+"; true")
	}
	found := value[string](b, `axe.run({resultTypes: ['violations', 'incomplete']}).then(r => JSON.stringify(r.violations.map(v => ({rule: v.id, nodes: v.nodes.map(n => n.html + ' ' + n.failureSummary)}))))`)
	var faults []struct {
		Rule  string
		Nodes []string
	}
	if err := json.Unmarshal([]byte(found), &faults); err != nil {
		b.t.Fatal(err)
	}
	for _, f := range faults {
		b.t.Errorf("%s: axe-core finds %s: %q", state, f.Rule, f.Nodes)
	}
}

// quiet fails where the page wrote errors to the console.
func (b *browser) quiet() {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, m := range b.bad {
		b.t.Errorf("the console says: %s", m)
	}
}

// keep writes the page as a picture into the folder that KNIFEDESK_SCREENSHOTS
// names, for a look by eye.
func (b *browser) keep(name string) {
	b.t.Helper()
	folder := os.Getenv("KNIFEDESK_SCREENSHOTS")
	if folder == "" {
		return
	}
	picture, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o644)
	}
	if err != nil {
		b.t.Error(err)
	}
}

// waitFor looks until an expression holds. What it looks at may not be there yet: a page that is
// loaded anew has nothing at first.
func waitFor(expression string) step {
	expression = "(() => { try { return Boolean(" + expression + ") } catch (e) { if (e instanceof TypeError) return false; throw e } })()"
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		for {
			ok, err := chromedp.EvaluateAsDevTools[bool](expression)(ctx, t)
			if err != nil || ok {
				return err
			}
			select {
			case <-ctx.Done():
				return ctx.Err()
			case <-time.After(20 * time.Millisecond):
			}
		}
	})
}
