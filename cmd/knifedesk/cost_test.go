package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"net/http"
	"os"
	"slices"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"
	"knifedesk/jobs"
	"knifedesk/jobs/local"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// What a plan costs the machine when the service makes it, beside the same plan
// made in this process, all in one run:
//
//	go test ./cmd/knifedesk -run '^$' -bench Cost -benchtime 1x
//
// The processor time is that of the service and its Postgres together, less what
// they use idle. Times by the clock mean something on an idle machine only,
// whose load is printed.
func BenchmarkCost(b *testing.B) {
	for b.Loop() {
		measureCost(b)
	}
}

func measureCost(b *testing.B) {
	bin, data := build(b), dataDir(b)
	setUp(b, bin, data)
	s := startProcess(b, bin, data)
	load, _ := os.ReadFile("/proc/loadavg")
	fmt.Printf("load of the machine before: %s", load)
	meter := cost.NewMeter(b, s.Process.Pid)
	meter.Rest(5 * time.Second)
	fmt.Printf("idle: %.1f ms of processor time a second\n", 1000*meter.Idle)
	for _, k := range []struct{ segments, plans int }{{300, 60}, {6000, 6}} {
		freshPlans(b, meter, s.client, k.segments, k.plans)
	}
	reads(b, meter, s.client)
}

// freshPlans times plans of drawings that the service has never seen, and then
// the same again.
func freshPlans(b *testing.B, m *cost.Meter, c *client, segments, plans int) {
	drawing := func(i int) []byte { return card(segments, 1+float64(i)/1000) }
	for i := range 3 { // warm up
		post(b, c, drawing(-1-i))
		inProcess(b, drawing(-1-i))
	}
	var waits []time.Duration
	var here time.Duration
	fresh := m.Of(plans, func(i int) { // in turns, so that both meet the same machine
		began := time.Now()
		post(b, c, drawing(i))
		waits = append(waits, time.Since(began))
		before := cost.Spent()
		inProcess(b, drawing(i))
		here += cost.Spent() - before
	})
	alone := ms(here) / float64(plans)
	equal := m.Of(plans, func(i int) { post(b, c, drawing(i)) })
	slices.Sort(waits)
	fmt.Printf("%5d segments: fresh %.1f ms of processor time, in process %.1f: %.2f times; equal again %.1f ms; by the clock, fresh, with wait: median %.1f, p95 %.1f ms\n",
		segments, fresh, alone, fresh/alone, equal, ms(waits[len(waits)/2]), ms(waits[len(waits)*95/100]))
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// reads times reading settled plans, the small and the large.
func reads(b *testing.B, m *cost.Meter, c *client) {
	for _, segments := range []int{300, 6000} {
		p := post(b, c, card(segments, 2))
		etag := get(b, c, p.Links["self"], "")
		whole := m.Of(400, func(int) { get(b, c, p.Links["self"], "") })
		not := m.Of(400, func(int) { get(b, c, p.Links["self"], etag) })
		fmt.Printf("%5d segments: GET of the settled plan %.2f ms of processor time, 304 %.2f ms\n", segments, whole, not)
	}
}

func post(b *testing.B, c *client, file []byte) *planBody {
	p, err := c.submit(context.Background(), "card.svg", file, map[string]string{"stock": "card-220-a4"})
	if err != nil {
		b.Fatal(err)
	}
	if p.Status != string(plan.Ready) {
		b.Fatalf("%s: %v %v", p.Status, p.codes(), p.Questions)
	}
	return p
}

func get(b *testing.B, c *client, path, etag string) string {
	req, err := http.NewRequest(http.MethodGet, c.base+path, nil)
	if err != nil {
		b.Fatal(err)
	}
	want := http.StatusOK
	if etag != "" {
		req.Header.Set("If-None-Match", etag)
		want = http.StatusNotModified
	}
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		b.Fatal(err)
	}
	defer resp.Body.Close()
	if _, err := io.Copy(io.Discard, resp.Body); err != nil || resp.StatusCode != want {
		b.Fatalf("%s, %v", resp.Status, err)
	}
	return resp.Header.Get("ETag")
}

func inProcess(b *testing.B, file []byte) {
	list := jobs.NewList()
	request, err := list.Choose(workshop.Example(), plan.Choices{Stock: "card-220-a4"})
	if err != nil {
		b.Fatal(err)
	}
	if _, status, err := local.Run(context.Background(), list.Rows, file, request); err != nil || status != plan.Ready {
		b.Fatal(status, err)
	}
}

// card is a drawing of rosettes with so many segments in all, on an A4 card with
// its frame; scale makes each another one.
func card(segments int, scale float64) []byte {
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
			r := pitch * (0.36 + 0.08*math.Cos(float64(k)*2*math.Pi/5)) * (1 - 0.01*scale)
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / around)
			fmt.Fprintf(&b, "%.4f %.4f ", cx+r*cos, cy+r*sin)
		}
		b.WriteString(`Z"/>`)
	}
	b.WriteString(`</g></svg>`)
	return b.Bytes()
}
