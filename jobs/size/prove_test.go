package size_test

import (
	"errors"
	"testing"

	"knifedesk/geometry"
	"knifedesk/jobs/size"
	"knifedesk/jobs/size/reading"
)

// A result whose frame has not the size that it was taken for is a fault, and no
// plan is ready with it: whatever spoils the map or the corners by more than is
// accepted in silence (0.05 mm), or than corners are drawn off (0.12 mm).
func TestProve(t *testing.T) {
	a4 := reading.Named{Name: "A4", Short: 210, Long: 297}
	for name, c := range map[string]struct {
		by    geometry.Affine
		moved geometry.Point // of the last corner
		holds bool
	}{
		"as it is":                   {geometry.Identity, geometry.Pt(0, 0), true},
		"turned":                     {geometry.Affine{A: 0.6, B: 0.8, C: -0.8, D: 0.6}, geometry.Pt(0, 0), true},
		"mirrored":                   {geometry.Scale(-1, 1), geometry.Pt(0, 0), true},
		"long by 0.045 mm":           {geometry.Scale(1, 297.045/297), geometry.Pt(0, 0), true},
		"long by 0.06 mm":            {geometry.Scale(1, 297.06/297), geometry.Pt(0, 0), false},
		"narrow by 0.06 mm":          {geometry.Scale(209.94/210, 1), geometry.Pt(0, 0), false},
		"larger by 0.03 %":           {geometry.Scale(1.0003, 1.0003), geometry.Pt(0, 0), false},
		"sheared by a third of a mm": {geometry.Affine{A: 1, C: 0.001, D: 1}, geometry.Pt(0, 0), false},
		"a corner off by 0.05 mm":    {geometry.Identity, geometry.Pt(-0.05, 0.05), true},
		"a corner off by 0.3 mm":     {geometry.Identity, geometry.Pt(0, 0.3), false},
		"points read as mm":          {geometry.Scale(72/25.4, 72/25.4), geometry.Pt(0, 0), false},
	} {
		r := &size.Result{Transform: c.by, Frame: &size.Frame{
			Corners: [4]geometry.Point{geometry.Pt(0, 0), geometry.Pt(210, 0), geometry.Pt(210, 297), geometry.Pt(0, 297).Add(c.moved)},
		}}
		err := r.Prove(a4)
		if off := new(size.FrameError); (err == nil) != c.holds || err != nil && (!errors.As(err, &off) || off.OffMM <= 0.05) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
