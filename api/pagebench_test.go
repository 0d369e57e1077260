package api_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// How long a student waits for the first useful answer: from the click on a drawing of 300
// segments that is new to the service to the plan on the page, in a browser over loopback
// with the service and its Postgres:
//
//	go test ./api -run '^$' -bench FirstAnswer -benchtime 20x
//
// A second is what is wanted on an idle machine, whose load is printed.
func BenchmarkFirstAnswer(b *testing.B) {
	d := open(b)
	w := browse(b, d, 1100, 900)
	load, _ := os.ReadFile("/proc/loadavg")
	fmt.Printf("load of the machine before: %s", load)
	var waits []float64
	for b.Loop() {
		file := drawingFile(b, "stars.svg", stars(300, 1+float64(len(waits))/1000))
		w.do("choose", chromedp.Navigate("about:blank"), chromedp.Navigate(d.URL), chromedp.WaitReady(film), chromedp.SetUploadFiles(`#file`, []string{file}), chromedp.Click(film))
		ms := value[float64](w, `new Promise(done => {
			const began = performance.now(), plan = document.getElementById('plan');
			const look = () => plan.querySelector('.head') && !plan.hidden ? done(performance.now() - began) : requestAnimationFrame(look);
			document.getElementById('send').click();
			look();
		})`)
		if said := w.text(`#plan`); !strings.Contains(said, "It can be cut") {
			b.Fatalf("the page says:\n%s", said)
		}
		waits = append(waits, ms)
	}
	slices.Sort(waits)
	b.ReportMetric(waits[len(waits)/2], "median-ms")
	b.ReportMetric(waits[len(waits)*95/100], "p95-ms")
}

// stars is a drawing of stars of 20 segments each, so many segments in all.
func stars(segments int, scale float64) string {
	var paths strings.Builder
	for i := range segments / 20 {
		x, y := 20+30*float64(i%5), 20+30*float64(i/5)
		paths.WriteString(`<path d="M`)
		for k := range 20 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 10)
			r := scale * []float64{11, 6}[k%2]
			fmt.Fprintf(&paths, "%.4f %.4f ", x+r*cos, y+r*sin)
		}
		paths.WriteString(`z"/>`)
	}
	return `<svg xmlns="http://www.w3.org/2000/svg" width="170mm" height="110mm" viewBox="0 0 170 110"><g fill="none" stroke="#007c91">` + paths.String() + `</g></svg>`
}
