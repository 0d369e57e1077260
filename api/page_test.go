package api_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"knifedesk/geometry/geometrytest/reference"
)

// A student sends a drawing by the page in a real browser, is asked about the
// fold on film, answers by a click, and sees that it can be cut.
func TestPageInABrowser(t *testing.T) {
	chromium := reference.Tool(t, "chromium")
	d := open(t)
	file := filepath.Join(t.TempDir(), "folded.svg")
	if err := os.WriteFile(file, []byte(folded), 0o644); err != nil {
		t.Fatal(err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox, chromedp.WindowSize(1100, 1400))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	ctx, cancel := chromedp.NewContext(alloc)
	defer cancel()
	ctx, cancel = context.WithTimeout(ctx, 90*time.Second)
	defer cancel()
	for _, step := range []struct {
		what string
		do   chromedp.Action[chromedp.Void]
	}{
		{"open the page", chromedp.Navigate(d.URL)},
		{"wait for the stocks", chromedp.WaitReady(`#stock option[value="film-removable-610"]`)},
		{"choose the file", chromedp.SetUploadFiles(`input[type=file]`, []string{file})},
		{"choose the stock", chromedp.SetValue(`#stock`, "film-removable-610")},
		{"send", chromedp.Click(`form button`)},
		{"wait for the question", chromedp.WaitVisible(`fieldset label.answer`)},
		{"choose an answer", chromedp.Click(`fieldset label.answer input`)},
		{"send the answer", chromedp.Click(`form.question > button`)},
		{"wait for the weeding map", chromedp.WaitVisible(`img[alt^="weeding"]`)},
	} {
		if err := chromedp.Do(ctx, step.do); err != nil {
			t.Fatalf("%s: %v", step.what, err)
		}
	}
	text, err := chromedp.Run(ctx, chromedp.Text(`#result`))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"It can be cut", "80 × 40 mm", "credit", "Local rules and trained staff"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not show %q:\n%s", want, text)
		}
	}
	keepScreenshot(ctx, t)
}

// keepScreenshot writes the page as a picture where KNIFEDESK_SCREENSHOT names
// a file, for a look by eye.
func keepScreenshot(ctx context.Context, t *testing.T) {
	name := os.Getenv("KNIFEDESK_SCREENSHOT")
	if name == "" {
		return
	}
	picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, picture, 0o644); err != nil {
		t.Fatal(err)
	}
}
