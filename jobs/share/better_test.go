package share

import (
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// What leaves out fewer members is better, then what is laid at all, then what takes fewer
// sheets, then what cuts less; of two that are alike neither is.
func TestBetter(t *testing.T) {
	of := func(left, loads, sheets int, cutMM float64) *Share {
		s := &Share{Layout: layout.Layout{Loads: make([]layout.Load, loads), Usage: layout.Usage{Sheets: sheets}}, Shares: make([]Portion, 3)}
		for i := range left {
			s.Shares[i].Left = true
		}
		line := func(op artwork.Operation, mm float64) artwork.Stroke {
			return artwork.Stroke{Operation: op, Path: geometry.Polyline(geometry.Pt(0, 0), geometry.Pt(mm, 0))}
		}
		half := &weeding.Map{Strokes: []artwork.Stroke{line(artwork.KissCut, cutMM/4), line(artwork.ThroughCut, cutMM/4), line(artwork.Pen, 1000/(1+cutMM))}}
		s.Maps = []*weeding.Map{half, half}
		return s
	}
	for _, c := range []struct {
		name          string
		better, worse *Share
	}{
		{"fewer left out", of(1, 2, 3, 90), of(2, 1, 1, 10)}, {"laid at all", of(1, 1, 3, 90), of(1, 0, 0, 0)},
		{"fewer sheets", of(1, 2, 2, 90), of(1, 1, 3, 10)}, {"less cutting", of(1, 3, 2, 10), of(1, 2, 2, 12)},
	} {
		if !c.better.better(c.worse) || c.worse.better(c.better) {
			t.Errorf("%s: better %v, worse %v", c.name, c.better.better(c.worse), c.worse.better(c.better))
		}
	}
	if one := of(1, 2, 2, 10); one.better(of(1, 2, 2, 10)) {
		t.Error("of two that are alike one is better")
	}
}
