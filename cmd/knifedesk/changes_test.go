package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"knifedesk/geometry/geometrytest/cost"
)

// How long the page waits for another price when copies, stock or purpose change, over
// HTTP and loopback with the service and its Postgres, for a drawing of 300 segments:
//
//	go test ./cmd/knifedesk -run '^$' -bench Changes -benchtime 1x
//
// A p95 of 150 ms is what is wanted on an idle machine, whose load is printed.
func BenchmarkChanges(b *testing.B) {
	for b.Loop() {
		measureChanges(b)
	}
}

// change is what is chosen on the page.
type change struct {
	stock, purpose string
	copies         int
}

func measureChanges(b *testing.B) {
	bin, data := build(b), dataDir(b)
	setUp(b, bin, data)
	s := startProcess(b, bin, data)
	load, _ := os.ReadFile("/proc/loadavg")
	fmt.Printf("load of the machine before: %s", load)
	meter := cost.NewMeter(b, s.Process.Pid)
	meter.Rest(3 * time.Second)
	const drawings, changes = 9, 4 // the first is to warm up
	stocks := []string{"card-160-a4", "card-220-a3", "film-removable-610", "stencil-a3"}
	kinds := []struct {
		name string
		of   func(i int) change
	}{
		{"copies", func(i int) change { return change{stock: "card-220-a4", copies: 2 + i} }},
		{"stock", func(i int) change { return change{stock: stocks[i], copies: 1} }},
		{"purpose", func(i int) change {
			return change{stock: "film-removable-610", purpose: []string{"pieces", "lettering"}[i%2], copies: 2 + i/2}
		}},
	}
	var sent []string
	for i := range drawings {
		p := post(b, s.client, card(300, 1+float64(i)/100))
		sent = append(sent, strings.TrimPrefix(p.Links["drawing"], "/v1/drawings/"))
	}
	for _, k := range kinds {
		for i := range changes {
			order(b, s.client, k.of(i), sent[0])
		}
		var waits []time.Duration
		spent := meter.Of((drawings-1)*changes, func(i int) {
			began := time.Now()
			order(b, s.client, k.of(i%changes), sent[1+i/changes])
			waits = append(waits, time.Since(began))
		})
		slices.Sort(waits)
		fmt.Printf("%-8s %.1f ms of processor time; by the clock median %.1f, p95 %.1f ms\n", k.name, spent, ms(waits[len(waits)/2]), ms(waits[len(waits)*95/100]))
	}
}

// order asks for another plan of a drawing as the page does, and waits for it.
func order(b *testing.B, c *client, to change, drawing string) {
	order := map[string]any{"drawing_id": drawing, "stock_id": to.stock, "copies": to.copies}
	if to.purpose != "" {
		order["purpose"] = to.purpose
	}
	body, err := json.Marshal(order)
	if err != nil {
		b.Fatal(err)
	}
	req, err := http.NewRequest(http.MethodPost, c.base+"/v1/plans", bytes.NewReader(body))
	if err != nil {
		b.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Prefer", "wait=10")
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		b.Fatal(err)
	}
	defer resp.Body.Close()
	var got planBody
	if err := json.NewDecoder(resp.Body).Decode(&got); err != nil || resp.StatusCode != http.StatusOK {
		b.Fatal(resp.Status, err)
	}
}
