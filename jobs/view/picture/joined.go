package picture

import (
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// Joined is Weeding of which shapes that overlap were joined: below the map the lines are
// shown as drawn and as they are cut.
func Joined(ctx context.Context, a *artwork.Artwork, m *weeding.Map) (*figure.Picture, error) {
	return finished(ctx, func(b *budget.Budget) *page {
		p := weedingPage(b, m)
		p.Heading("Overlapping shapes are joined: as drawn and as it is cut")
		bothWays(p, a.Bounds, pathsOf(drawnOf(a.Strokes)), pathsOf(drawnOf(m.Strokes)), "")
		keyOfMends(p)
		return p
	})
}

// IsJoined reports whether less is cut than was drawn, and no bridge is why.
func IsJoined(a *artwork.Artwork, m *weeding.Map) bool {
	const least = 0.5 // mm of line that is gone
	return len(m.Bridges) == 0 && m.Panel == "" && cutMM(drawnOf(a.Strokes))-cutMM(drawnOf(m.Strokes)) > least
}

// drawnOf returns the strokes that were drawn, and not added as register marks are.
func drawnOf(strokes []artwork.Stroke) []artwork.Stroke {
	var drawn []artwork.Stroke
	for i := range strokes {
		if strokes[i].Added == "" {
			drawn = append(drawn, strokes[i])
		}
	}
	return drawn
}

// cutMM is how long the lines are that are cut.
func cutMM(strokes []artwork.Stroke) (length float64) {
	for i := range strokes {
		if strokes[i].Operation.Cuts() {
			length += strokes[i].Path.Length()
		}
	}
	return length
}
