package size_test

import (
	"testing"

	"knifedesk/jobs/size"
)

// The frame of a drawing may be ruled: four lines on its layer that run past its corners
// or stop short of them, as by a person with a ruler, or marks beside the corners alone.
// All are of A4, in points that the file calls mm; the plate is 137 × 62 mm.
func TestRuledFrames(t *testing.T) {
	for name, tt := range map[string]struct {
		drawn []string
		asked bool // no frame is found, and the work does not fit the sheet
	}{
		"past the corners":          {[]string{"M-5 0H212", "M210 -3V299", "M218 297H-1", "M0 305V-8"}, false},
		"short of them":             {[]string{"M5 0H206", "M210 3V291", "M202 297H1", "M0 290V8"}, false},
		"both, and a line in two":   {[]string{"M-5 0H100", "M120 0H206", "M210 -3V291", "M202 297H-7", "M0 290V-8"}, false},
		"marks":                     {[]string{"M-10 0H-3", "M213 0H220", "M-10 297H-3", "M213 297H220", "M0 -10V-3", "M0 300V307", "M210 -10V-3", "M210 300V307"}, false},
		"askew":                     {[]string{"M-5 0H212", "M210 -3L240 299", "M218 297H-1", "M0 305V-8"}, true},
		"a grid, far past":          {[]string{"M-50 0H260", "M210 -80V380", "M260 297H-50", "M0 380V-80"}, true},
		"far past one end":          {[]string{"M-80 0H212", "M210 -3V299", "M218 297H-1", "M0 305V-8"}, true},
		"far past the other":        {[]string{"M-5 0H290", "M210 -3V299", "M218 297H-1", "M0 305V-8"}, true},
		"marks of three corners":    {[]string{"M213 0H220", "M-10 297H-3", "M213 297H220", "M0 300V307", "M210 -10V-3", "M210 300V307"}, true},
		"and a line across":         {[]string{"M-5 0H212", "M210 -3V299", "M218 297H-1", "M0 305V-8", "M0 150H210"}, true},
		"and one with a corner":     {[]string{"M-5 0H212", "M210 -3V299", "M218 297H-1", "M0 305V-8", "M10 10H20V30"}, true},
		"one of them is not on it":  {[]string{"M-5 0H212", "M210 -3V299", "M218 297H-1"}, true},
		"two of them are the same":  {[]string{"M-5 0H212", "M210 -3V299", "M218 297H-1", "M0 305V-8", "M-2 0H209"}, false},
		"a rectangle stands before": {[]string{a4Frame, "M-5 20H212", "M190 -3V299", "M218 280H-1", "M10 305V-8"}, false},
	} {
		const points = 72 / 25.4
		d := stating(draw(t, points, points, append(tt.drawn, box)...), "mm", 1)
		for i := range tt.drawn {
			d.Shapes[i].Layer = "PAGE"
		}
		res := repair(t, d, size.Request{Stock: cardA4, FrameLayers: []string{"PAGE"}})
		switch {
		case tt.asked != (len(res.Questions) > 0):
			t.Errorf("%s: %.2f × %.2f mm, %+v", name, res.WidthMM, res.HeightMM, res.Questions)
		case !tt.asked:
			settled(t, res, 137, 62, 1e-6)
			if len(res.FrameParts) != len(tt.drawn) {
				t.Errorf("%s: %d lines are the frame", name, len(res.FrameParts))
			}
		}
	}
}
