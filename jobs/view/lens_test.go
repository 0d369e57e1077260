package view_test

import (
	"testing"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// A lens of two arcs, the fewest lines that close, is closed in the files that can say so:
// a program that takes it for open draws its end as one, and joins nothing.
func TestALensIsClosed(t *testing.T) {
	const lens = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><g id="CUT" fill="none" stroke="#007c91">
<rect x="10" y="10" width="80" height="40"/></g><g id="PEN" fill="none" stroke="#000"><path d="M30 30a30 30 0 0 1 30 0a30 30 0 0 1 -30 0Z"/></g></svg>`
	p := planIn(t, neutral(), lens, plan.Choices{Stock: "card-160-a4", Copies: 1})
	for _, r := range ownReaders() {
		if r.format == view.Plt {
			continue // it knows no closed lines
		}
		arcs := 0
		for _, pass := range r.read(t, fileOf(t, p, view.AllPasses, r.format)) {
			for _, line := range pass.lines {
				if len(line.Segments) == 2 {
					arcs++
				}
				if !line.Closed {
					t.Errorf("%s: a line of %d segments is open", r.name, len(line.Segments))
				}
			}
		}
		if arcs != 1 {
			t.Errorf("%s: %d lenses, want 1", r.name, arcs)
		}
	}
}
