package view_test

import (
	"fmt"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
)

// A drawing in points (72 to the inch) with a frame of 297 × 210 mm, a cut
// square of 1 inch at (2, 2) inches, a dashed one at (4, 2), and a third that is
// clipped. The reader sees them in pixels of 1/96 inch with y up.
const inPoints = `<svg xmlns="http://www.w3.org/2000/svg" width="12in" height="9in" viewBox="0 0 864 648" fill="none" stroke="#007c91">
<g id="FRAME"><path d="M7.2 7.2h841.890v595.276h-841.890z"/></g><g id="CUT"><path d="M144 144h72v72h-72z"/>
<path d="M288 144h72v72h-72z" stroke-dasharray="5 2"/>%s</g></svg>`

// Whatever job found a fault, its place is told in mm from the lower left
// corner of the artwork.
func TestPlacesAreOnTheArtwork(t *testing.T) {
	p := planOfFile(t, fmt.Sprintf(inPoints, ""), plan.Choices{Stock: "card-220-a3", Size: plan.Size{Frame: "A4"}})
	findings, _ := view.Outcome(p.parts)
	if p.status != plan.Ready {
		t.Fatalf("%s: %v", p.status, findings)
	}
	checkPlace(t, findings, finding.DashedLine, 50.8, 0, 76.2, 25.4)
	// The frame starts 0.1 inch from the left and top of the page; the squares
	// stand at 2 inches and end at 3 inches from the top.
	left, bottom := (0.1-2)*25.4, (3-0.1)*25.4-210
	checkPlace(t, findings, finding.FrameTakenOut, left, bottom, left+297, bottom+210)
	for i, f := range findings {
		if f.Number != i+1 {
			t.Errorf("%s has number %d, want %d", f.Code, f.Number, i+1)
		}
	}
}

// While there is no artwork, places are told from the origin of the drawing.
func TestPlacesWithoutArtwork(t *testing.T) {
	clipped := `<clipPath id="c"><path d="M144 288h36v72h-36z"/></clipPath><path clip-path="url(#c)" d="M144 288h72v72h-72z"/>`
	p := planOfFile(t, fmt.Sprintf(inPoints, clipped), plan.Choices{Stock: "card-220-a3", Size: plan.Size{Frame: "A4"}})
	findings, questions := view.Outcome(p.parts)
	if p.status != plan.Asking || len(questions) != 1 {
		t.Fatalf("%s: %v", p.status, questions)
	}
	checkPlace(t, findings, finding.ClipPathUsed, 50.8, 4*25.4, 76.2, 5*25.4) // 9 inches is the page
	if at := places(questions); !near(at[0].Box, geometry.BoxAround(geometry.Pt(50.8, 101.6), geometry.Pt(76.2, 127))) {
		t.Errorf("asked at %v", at)
	}
}

func places(questions []ask.Question) (all []finding.Place) {
	for _, q := range questions {
		all = append(all, q.Places...)
	}
	return all
}

func checkPlace(t *testing.T, findings []finding.Finding, code finding.Code, x, y, x2, y2 float64) {
	t.Helper()
	want := geometry.BoxAround(geometry.Pt(x, y), geometry.Pt(x2, y2))
	for _, f := range findings {
		if f.Code == code {
			if len(f.Places) != 1 || !near(f.Places[0].Box, want) {
				t.Errorf("%s at %v, want %v", code, f.Places, want)
			}
			return
		}
	}
	t.Errorf("no %s in %v", code, findings)
}

func near(a, b geometry.Box) bool {
	return math.Max(a.Min.Dist(b.Min), a.Max.Dist(b.Max)) < 0.001
}
