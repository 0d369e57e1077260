package ordeal

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"net/url"
	"testing"

	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// drawing is what is sent with a request for a plan.
type drawing struct {
	file   []byte
	fields url.Values
}

// card is a drawing of rosettes with so many segments, on an A4 card with its frame;
// number makes each another one.
func card(segments, number int) drawing {
	var b bytes.Buffer
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297" fill="none">` +
		`<g id="PAGE" stroke="#888888"><path d="M0 0H210V297H0Z"/></g><g id="CUT" stroke="#007c91" stroke-width="0.1">`)
	const around = 12
	figures := segments / around
	across := int(math.Ceil(math.Sqrt(float64(figures) * 190 / 270)))
	pitch := 190 / float64(across)
	for i := range figures {
		cx, cy := 10+pitch*(float64(i%across)+0.5), 13+pitch*(float64(i/across)+0.5)
		b.WriteString(`<path d="M`)
		for k := range around {
			r := pitch * (0.36 + 0.08*math.Cos(float64(k)*2*math.Pi/5)) * (1 - 1e-5*float64(number%5000))
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / around)
			fmt.Fprintf(&b, "%.4f %.4f ", cx+r*cos, cy+r*sin)
		}
		b.WriteString(`Z"/>`)
	}
	fmt.Fprintf(&b, `</g><!--%d--></svg>`, number)
	return drawing{b.Bytes(), url.Values{"stock": {"card-220-a4"}}}
}

// folded is a sign with a fold, which on film is asked about.
func folded(number int) drawing {
	const sign = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60" fill="none">
<g id="CUT" stroke="#007c91" stroke-width="0.1"><path d="M10 10H70V50H10Z"/></g>
<g id="FOLD" stroke="#7a3eb1" stroke-width="0.1"><path d="M10 30H70"/></g><!--%d--></svg>`
	return drawing{fmt.Appendf(nil, sign, number), url.Values{"stock": {"film-removable-610"}}}
}

// tag is what a member of a course draws.
func tag(number int) drawing {
	const plate = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40" fill="none">
<g id="CUT" stroke="#007c91" stroke-width="0.1"><path d="M10 10H70V30H10Z"/></g><!--%d--></svg>`
	return drawing{file: fmt.Appendf(nil, plate, number)}
}

// layered is a sign of two films.
func layered(number int) drawing {
	const sign = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="60mm" viewBox="0 0 120 60">
<rect x="5" y="5" width="110" height="50" fill="#1f4e79"/><circle cx="35" cy="30" r="15" fill="#ffffff"/><!--%d--></svg>`
	return drawing{fmt.Appendf(nil, sign, number), url.Values{"film": {"film-permanent-300=#1f4e79", "film-removable-610=#ffffff"}}}
}

// inProcess makes the plan of a drawing in this process.
func (d drawing) inProcess(t testing.TB) {
	t.Helper()
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: d.fields.Get("stock")})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := local.Run(context.Background(), list.Rows, d.file, request); err != nil {
		t.Fatal(err)
	}
}
