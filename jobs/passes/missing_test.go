package passes_test

import (
	"testing"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// An operation without a setting, or with one that stands still, is one finding
// and no pass; the others are planned.
func TestNoPassWithoutASetting(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(*workshop.Setting)
	}{
		{"of another family", func(s *workshop.Setting) { s.Family = workshop.CastFilm }},
		{"without a speed", func(s *workshop.Setting) { s.SpeedMMS = 0 }},
	} {
		j := jobOn(t, "card-160-a4", 1,
			artwork.Stroke{Path: path(t, "M0 0H80V50H0Z"), Operation: artwork.ThroughCut},
			artwork.Stroke{Path: path(t, "M40 5V45"), Operation: artwork.Score})
		for i := range j.req.Settings {
			if j.req.Settings[i].Operation == artwork.Score {
				tt.spoil(&j.req.Settings[i])
			}
		}
		p := j.order(t)
		found := 0
		for _, f := range p.Findings {
			if f.Code == finding.SettingMissing {
				found += f.Count
			}
		}
		if planned := p.Loads[0].Passes; found != 1 || len(planned) != 1 || planned[0].Operation != artwork.ThroughCut {
			t.Errorf("%s: found %d times, passes %+v", tt.name, found, planned)
		}
	}
}
