package local_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/bulk"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
)

// sampled is how many foreign drawings are planned.
const sampled = 2000

// Foreign drawings that their authors never meant to cut run through all
// jobs on film, 100 mm wide, each question answered with its first answer:
// none fails, panics or takes more than two seconds, and closed filled outlines
// come through to the end. The bounds are our own.
func TestBulk(t *testing.T) {
	files := bulk.Sample(bulk.Files(t, ".svg"), sampled)
	var sum bulk.Tally
	for _, path := range files {
		file, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		sum.Try(t, path, func() { bulkPlan(t, path, file, &sum) })
	}
	t.Logf("%s", &sum)
	for _, slow := range sum.Over(2 * time.Second) {
		t.Error(slow)
	}
}

func bulkPlan(t *testing.T, path string, file []byte, sum *bulk.Tally) {
	c := plan.Choices{Stock: "film-removable-610", Size: plan.Size{KnownLength: &size.KnownLength{Of: size.Width, MM: 100}}}
	results, ended, err := runThrough(file, c, func(string, time.Duration) {})
	if err != nil {
		t.Errorf("%s: %v", bulk.Short(path), err)
		return
	}
	if filledOutlines(&result(t, list.Read, results).Drawing) && ended != "ready" {
		t.Errorf("%s: closed outlines end at %s", bulk.Short(path), ended)
	}
	var words []string
	for _, p := range list.Parts(results) {
		for _, f := range p.Findings {
			words = append(words, fmt.Sprintf("%s (%s)", f.Code, f.Severity))
		}
	}
	sum.Each(words, path)
	sum.Count("= ended: "+ended, path)
}

// filledOutlines reports whether d is made of nothing but closed outlines that
// are filled and not stroked: the plainest thing to cut.
func filledOutlines(d *drawing.Drawing) bool {
	for _, s := range d.Shapes {
		if s.Stroke != nil || s.Fill == nil {
			return false
		}
		for _, p := range s.Paths {
			if !p.Closed {
				return false
			}
		}
	}
	return len(d.Shapes) > 0
}
