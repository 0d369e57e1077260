package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// A layered work on the page: its films in the order in which they are put up, the price of
// each and of all, the picture of the stack, and the plan of the other film behind a link.
// Other copies are asked for of all films. On a desk and on a phone.
func TestPageOfLayeredFilm(t *testing.T) {
	d := open(t)
	first := d.submit(t, "sign.svg", []byte(threeColours), "film", "film-permanent-300=#1f4e79", "film", "film-removable-610=#ffffff", "film", "film-removable-610=#2e8b57")
	b := browse(t, d, 1100, 1400)
	d.call(t, http.MethodGet, "/v1/plans/"+first.Stack.Films[1].PlanID.String(), nil, "Prefer", "wait=30")
	b.do("open the plan", chromedp.Navigate(d.URL+"/#"+first.ID.String()), chromedp.Reload(), waitFor(`document.getElementById('plan').textContent.includes('All together')`))
	for _, want := range []string{"Films on each other", "(shown here)", "lowest first", "credit", "0.5 mm under"} {
		if text := b.text(`#plan`); !strings.Contains(text, want) {
			t.Errorf("the page does not show %q:\n%s", want, text)
		}
	}
	b.accessible("layered film")
	picturesLoad(b)
	b.keep("layered film")
	b.do("go to the other film", chromedp.Click(`ol.films a`), waitFor(`document.querySelector('ol.films li:last-child strong') !== null`))
	b.do("ask for three", chromedp.SetValue(`#copies`, "3"))
	value[bool](b, `document.getElementById('copies').dispatchEvent(new Event('input', {bubbles: true}))`)
	b.do("wait for another plan", waitFor(`document.querySelector('.gist').textContent.includes('3 copies')`))
	if n := value[int](b, `document.querySelectorAll('ol.films li').length`); n != 2 {
		t.Errorf("three copies are planned as %d films", n)
	}
	if chosen, shows := value[string](b, `document.querySelector('input[name=stock]:checked').value`), b.text(`ol.films strong`); chosen != "film-permanent-300" || shows != "Permanent film, 300 mm roll" {
		t.Errorf("%s is chosen and %s shown", chosen, shows)
	}
	b.do("375 px", chromedp.EmulateViewport(375, 700))
	if w := value[int](b, `document.documentElement.scrollWidth`); w > 375 {
		t.Errorf("the page is %d px wide", w)
	}
	b.accessible("phone layered film")
	b.keep("phone layered film")
	b.quiet()
}
