package passes_test

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/workshop"
)

// A mark is cut for a setting that is not trusted, and for no other; without room
// between the copies in the first spot of what is removed that is wide enough: by hand
// half the diagonal of 8 mm, the offset of 0.25 mm and 0.5 mm, 6.41 mm.
func TestMarks(t *testing.T) {
	cut := square(artwork.ThroughCut, 0, 0, 60)
	for _, tt := range []struct {
		name      string
		untrusted bool
		full      bool // the copy takes all of the load
		removed   []passes.Spot
		want      bool
		at        geometry.Point
	}{
		{"trusted", false, false, nil, false, geometry.Point{}},
		{"in the margin", true, false, nil, true, geometry.Point{}},
		{"no room", true, true, nil, false, geometry.Point{}},
		{"in an opening", true, true, []passes.Spot{{At: geometry.Pt(9, 9), RadiusMM: 6.40}, {At: geometry.Pt(30, 40), RadiusMM: 6.42}}, true, geometry.Pt(30, 40)},
	} {
		j := jobOn(t, "card-160-a4", 1, cut)
		j.req.Machine.Compensates = workshop.CompensatesNothing
		set, _ := passes.SettingFor(j.req.Settings, j.req.Stock, j.req.Machine, artwork.ThroughCut)
		if tt.untrusted {
			j.req.Untrusted = []string{set.ID}
		}
		place := &j.layout.Loads[0].Placements[0]
		if tt.full {
			place.Bounds = geometry.Box{Max: geometry.Pt(j.layout.Loads[0].WidthMM, j.layout.Loads[0].LengthMM)}
		}
		j.req.Removed = tt.removed
		all := j.order(t).Loads[0].Passes
		last := all[len(all)-1]
		if marked := all[0].Mark != nil; marked != tt.want || len(all) == 2 != tt.want || last.NoMark != (tt.untrusted && !tt.want) {
			t.Errorf("%s: %d passes, mark %v, none for want of room: %t", tt.name, len(all), all[0].Mark, last.NoMark)
		}
		if want := place.Transform.Apply(tt.at); tt.at != (geometry.Point{}) && all[0].Mark.Box.Centre().Dist(want) > 1e-9 {
			t.Errorf("%s: at %v, want %v", tt.name, all[0].Mark.Box, want)
		}
	}
}
