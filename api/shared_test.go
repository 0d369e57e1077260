package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"knifedesk/api"
)

// counts reads a counter of the service by its label "stage", as a monitor
// would.
func (d *desk) counts(t *testing.T, name string) map[string]int {
	t.Helper()
	counts := map[string]int{}
	for _, line := range strings.Split(string(d.call(t, http.MethodGet, "/metrics", nil).body), "\n") {
		labels, ok := strings.CutPrefix(line, name+"{")
		if !ok {
			continue
		}
		labels, value, _ := strings.Cut(labels, "} ")
		_, stage, _ := strings.Cut(labels, `stage="`)
		stage, _, _ = strings.Cut(stage, `"`)
		n, err := strconv.Atoi(value)
		if err != nil {
			t.Fatal(err)
		}
		counts[stage] += n
	}
	return counts
}

// ran returns how often each job ran while do did its work.
func (d *desk) ran(t *testing.T, do func()) map[string]int {
	t.Helper()
	before := d.counts(t, "knifedesk_stage_runs_total")
	do()
	ran := map[string]int{}
	for stage, n := range d.counts(t, "knifedesk_stage_runs_total") {
		if n > before[stage] {
			ran[stage] = n - before[stage]
		}
	}
	return ran
}

// Equal submissions share work: over HTTP, with the real jobs, by the
// service's own counters and by what the plans say.
func TestEqualSubmissionsShareWork(t *testing.T) {
	d := open(t)
	fields := []string{"stock", "film-removable-610", "copies", "3"}
	all := map[string]int{"read": 1, "size": 1, "artwork": 1, "weeding": 1, "layout": 1, "passes": 1, "estimate": 1}

	var first, second api.Plan
	if diff := cmp.Diff(all, d.ran(t, func() { first = d.submit(t, "plate.svg", []byte(plate), fields...) })); diff != "" {
		t.Errorf("the first plan ran (-want +got):\n%s", diff)
	}
	if ran := d.ran(t, func() { second = d.submit(t, "the-same.svg", []byte(plate), fields...) }); len(ran) > 0 {
		t.Errorf("the second, equal plan ran %v", ran)
	}
	if first.ID == second.ID || second.Status != "ready" || !cmp.Equal(first.Estimate, second.Estimate) {
		t.Errorf("first %s, second %s is %s", first.ID, second.ID, second.Status)
	}
	if reused := reusedStages(second); !slices.Equal(reused, slices.Sorted(maps.Keys(all))) {
		t.Errorf("the second plan says that it reused %v", reused)
	}

	d.raise(t, "orrin")
	var dearer api.Plan
	if diff := cmp.Diff(map[string]int{"estimate": 1}, d.ran(t, func() { dearer = d.submit(t, "plate.svg", []byte(plate), fields...) })); diff != "" {
		t.Errorf("with another price ran (-want +got):\n%s", diff)
	}
	if reused := reusedStages(dearer); slices.Contains(reused, "estimate") || len(reused) != len(all)-1 {
		t.Errorf("with another price the plan says that it reused %v", reused)
	}
	if dearer.Estimate.TotalMinor <= first.Estimate.TotalMinor {
		t.Errorf("%s after %s", dearer.Estimate.TotalText, first.Estimate.TotalText)
	}
	if now := d.plan(t, first.ID.String()); !cmp.Equal(now.Estimate, first.Estimate) {
		t.Error("a plan that was there has another price now")
	}
}

func reusedStages(p api.Plan) []string {
	var names []string
	for _, s := range p.Progress {
		if s.Reused {
			names = append(names, s.Stage)
		}
	}
	slices.Sort(names)
	return names
}

func (d *desk) plan(t *testing.T, id string) (p api.Plan) {
	t.Helper()
	d.call(t, http.MethodGet, "/v1/plans/"+id, nil).json(t, &p)
	return p
}

// raise makes the machine of a price list dearer.
func (d *desk) raise(t *testing.T, id string) {
	t.Helper()
	var list map[string]any
	d.call(t, http.MethodGet, "/v1/price-lists/"+id, nil).json(t, &list)
	list["machine_per_minute"] = "7.50"
	body, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	if a := d.call(t, http.MethodPut, "/v1/price-lists/"+id, body, "Content-Type", "application/json"); a.status != http.StatusOK {
		t.Fatalf("%d %s", a.status, a.body)
	}
}

// dense is work that takes a while: rings side by side.
func dense(n int) []byte {
	var b bytes.Buffer
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm" viewBox="0 0 500 500"><g id="CUT" fill="none" stroke="#007c91">`)
	for i := range n {
		fmt.Fprintf(&b, `<circle cx="%d" cy="%d" r="2.%d"/>`, 10+i%80*6, 10+i/80*6, i%10)
	}
	b.WriteString(`</g></svg>`)
	return b.Bytes()
}

// Two clients wait for the same result while it is being computed, and one
// cancels: the other's plan gets ready, and nothing ran twice.
func TestCancellingOneOfTwo(t *testing.T) {
	d := open(t)
	body, kind := form(t, "rings.svg", dense(1500), "stock", "film-removable-610")
	submit := func() (p api.Plan) {
		d.call(t, http.MethodPost, "/v1/plans", body, "Content-Type", kind).json(t, &p)
		return p
	}
	ran := d.ran(t, func() {
		one, other := submit(), submit()
		for d.plan(t, one.ID.String()).Status == "queued" {
			time.Sleep(5 * time.Millisecond)
		}
		var cancelled api.Plan
		d.call(t, http.MethodDelete, "/v1/plans/"+one.ID.String(), nil).json(t, &cancelled)
		if cancelled.Status != "cancelled" {
			t.Fatalf("it was too quick to cancel: %s", cancelled.Status)
		}
		d.call(t, http.MethodGet, "/v1/plans/"+other.ID.String(), nil, "Prefer", "wait=60").json(t, &other)
		if other.Status != "ready" {
			t.Errorf("the other is %s", other.Status)
		}
	})
	for stage, n := range ran {
		if n != 1 {
			t.Errorf("%s ran %d times", stage, n)
		}
	}
}

// together runs do n times at once.
func together(n int, do func(i int)) {
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() { do(i) })
	}
	all.Wait()
}
