package plan_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"knifedesk/geometry/drawing"
	"knifedesk/geometry/geometrytest/bulk"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// sampled is how many foreign drawings are planned.
const sampled = 2000

// Foreign drawings that their authors never meant to cut run through all
// stages on film, 100 mm wide, each question answered with its first answer:
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
	var last plan.Result
	var found []finding.Finding // of the stages before the last
	of, outlines := "", false
	c := plan.Choices{Stock: "film-removable-610", Size: plan.Size{KnownLength: &size.KnownLength{Of: size.Width, MM: 100}}}
	ended, err := runThrough(file, c, func(stage string, res plan.Result, _ time.Duration) {
		if stage != of && last != nil {
			fs, _ := last.Outcome()
			found = append(found, fs...)
		}
		of, last = stage, res
		if r, ok := res.(*read.Result); ok {
			outlines = filledOutlines(&r.Drawing)
		}
	})
	if err != nil {
		t.Errorf("%s: %v", bulk.Short(path), err)
		return
	}
	if outlines && ended != "ready" {
		t.Errorf("%s: closed outlines end at %s", bulk.Short(path), ended)
	}
	fs, _ := last.Outcome()
	var words []string
	for _, f := range append(found, fs...) {
		words = append(words, fmt.Sprintf("%s (%s)", f.Code, f.Severity))
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
