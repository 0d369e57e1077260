package meaning_test

import (
	"strings"
	"testing"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// Two cut lines, one of them on a locked layer, and a note on another.
const lockedSheet = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:i="urn:editor" width="100mm" height="60mm" viewBox="0 0 100 60" fill="none">
<g i:groupmode="layer" i:label="CUT"><path stroke="#007c91" d="M10 10h20v20h-20z"/></g>
<g i:groupmode="layer" i:label="TEMPLATE" i:insensitive="true"><path stroke="#007c91" d="M5 5h40v40h-40z"/></g>
<g i:groupmode="layer" i:label="PAGE" i:insensitive="true"><path stroke="#909090" d="M50 5h40"/></g></svg>`

// Lines on a locked layer wait for a person, but for those that are for no
// machine anyway.
func TestLockedLayers(t *testing.T) {
	for _, tt := range []struct {
		answer  string
		strokes int
		width   float64
	}{{"", 1, 20}, {"leave_out", 1, 20}, {"use", 2, 40}} {
		req := request(t, card)
		if tt.answer != "" {
			req.Replies = ask.Replies{"artwork/locked_layers": {Answer: tt.answer}}
		}
		a := resolved(t, req, lockedSheet)
		if len(a.Strokes) != tt.strokes || a.Bounds.Width() != tt.width {
			t.Errorf("%q: %d strokes, %v wide, want %d and %v", tt.answer, len(a.Strokes), a.Bounds.Width(), tt.strokes, tt.width)
		}
		asked := len(a.Questions) == 1 && a.Questions[0].ID == "artwork/locked_layers"
		if f := find(a, finding.LockedLayer); f == nil || f.Count != 1 || asked != (tt.answer == "") || (f.Severity == finding.Ask) != asked {
			t.Errorf("%q: asks %v, %+v", tt.answer, a.Questions, f)
		}
	}
}

// Lines that are left out with their locked layer say nothing of the rest: all
// that is cut is mirrored.
func TestLockedLinesAreNoEvidence(t *testing.T) {
	sheet := strings.Replace(lockedSheet, `<path stroke="#007c91" d="M10`, `<path transform="scale(-1 1)" stroke="#007c91" d="M10`, 1)
	sheet = strings.Replace(sheet, `<path stroke="#909090" d="M50 5h40"/>`, "", 1)
	req := request(t, film)
	for answer, asked := range map[string]bool{"leave_out": true, "use": false} {
		req.Replies = ask.Replies{"artwork/locked_layers": {Answer: answer}}
		if a := resolved(t, req, sheet); (question(a, "artwork/mirror") != nil) != asked {
			t.Errorf("%s: asks %+v", answer, a.Questions)
		}
	}
}
