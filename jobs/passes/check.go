package passes

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
)

// RequestError says which part of a request makes no sense.
type RequestError struct {
	Field  string // as in the JSON of the machine, setting, stroke or layout
	Reason string
}

// Error names the field and what is wrong with it.
func (e *RequestError) Error() string { return "passes: " + e.Field + ": " + e.Reason }

const (
	farthest   = 1e6 // mm, beyond any load
	mostPasses = 100 // of one setting
	leastDash  = 0.1 // mm
)

// check refuses numbers with which no order can be worked out.
func check(b *budget.Budget, strokes []artwork.Stroke, laid *layout.Layout, req Request) error {
	m := req.Machine
	if bad := firstBad(map[string]float64{"travel_mm_s": m.TravelMMS, "accel_mm_s2": m.AccelMMS2}); bad != "" {
		return &RequestError{"machine." + bad, "must be above zero"}
	}
	for _, set := range req.Settings {
		if set.Passes > mostPasses {
			return &RequestError{"settings.passes", fmt.Sprintf("%s: %d is more than %d", set.ID, set.Passes, mostPasses)}
		}
		if set.DashMM != 0 && !(set.DashMM >= leastDash && set.TieMM >= 0) {
			return &RequestError{"settings.dash_mm", fmt.Sprintf("%s: dash %g, tie %g", set.ID, set.DashMM, set.TieMM)}
		}
	}
	for _, part := range partsOf(laid, strokes) {
		for i := range part {
			b.Spend(1 + len(part[i].Path.Segments))
			if !within(part[i].Path.Bounds()) {
				return &RequestError{"strokes.path", fmt.Sprintf("stroke %d lies beyond any load", i)}
			}
		}
	}
	for _, load := range laid.Loads {
		for _, at := range load.Placements {
			b.Step()
			if !within(at.Bounds) || !within(geometry.BoxAround(at.Transform.Apply(geometry.Pt(1, 1)))) {
				return &RequestError{"layout.placements", fmt.Sprintf("copy %d lies beyond any load", at.Copy)}
			}
		}
	}
	return nil
}

// firstBad returns the first name, by the alphabet, whose value is not above
// zero.
func firstBad(values map[string]float64) string {
	first := ""
	for name, v := range values {
		if !(v > 0 && v < math.Inf(1)) && (first == "" || name < first) {
			first = name
		}
	}
	return first
}

// within reports whether a box is of this world; NaN never is.
func within(b geometry.Box) bool {
	for _, v := range [...]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
		if !(math.Abs(v) <= farthest) {
			return false
		}
	}
	return true
}
