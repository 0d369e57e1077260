package layout_test

import (
	"testing"

	"knifedesk/jobs/workshop"
)

// A sheet goes on a mat that carries it wholly; of several on that whose tack is
// the nearest to the one asked for, the weaker of two; of these on the smallest.
// An A4 sheet needs 190 mm of width and, less the margin at its end, 287 mm.
func TestChoiceOfMat(t *testing.T) {
	const low, medium, high = workshop.LowTack, workshop.MediumTack, workshop.HighTack
	mat := func(id string, tack workshop.Tack, width, length float64) workshop.MatSize {
		return workshop.MatSize{ID: id, Tack: tack, WidthMM: width, LengthMM: length}
	}
	for _, c := range []struct {
		name  string
		tack  workshop.Tack
		mats  []workshop.MatSize
		want  string
		loads int // of 9 copies of 90 × 55 mm, of which a whole sheet takes all
	}{
		{"the tack asked for", medium, []workshop.MatSize{mat("l", low, 300, 430), mat("h", high, 300, 430), mat("m", medium, 300, 430)}, "m", 1},
		{"the weaker of two", medium, []workshop.MatSize{mat("h", high, 300, 430), mat("l", low, 300, 430)}, "l", 1},
		{"one step too strong before two too weak", high, []workshop.MatSize{mat("l", low, 300, 430), mat("m", medium, 300, 430)}, "m", 1},
		{"one step too strong before two", low, []workshop.MatSize{mat("h", high, 300, 430), mat("m", medium, 300, 430)}, "m", 1},
		{"whole before tack", low, []workshop.MatSize{mat("l", low, 189, 430), mat("h", high, 300, 430)}, "h", 1},
		{"too short is not whole", low, []workshop.MatSize{mat("l", low, 300, 286), mat("h", high, 300, 430)}, "h", 1},
		{"just whole", low, []workshop.MatSize{mat("h", high, 300, 430), mat("l", low, 190, 287)}, "l", 1},
		{"the smaller", low, []workshop.MatSize{mat("large", low, 300, 430), mat("small", low, 300, 297), mat("larger", low, 310, 430)}, "small", 1},
		{"the first of two alike", low, []workshop.MatSize{mat("a", low, 300, 430), mat("b", low, 300, 430)}, "a", 1},
		{"any tack", "", []workshop.MatSize{mat("h", high, 300, 430), mat("l", low, 300, 297)}, "l", 1},
		{"half a sheet", low, []workshop.MatSize{mat("l", low, 300, 150)}, "l", 3},
	} {
		req := onA4(t, "card-160-a4", 9)
		req.Stock.MatTack, req.Machine.Mats = c.tack, c.mats
		l := place(t, piece(90, 55), req)
		if len(l.Loads) != c.loads || l.Loads[0].MatID != c.want {
			t.Errorf("%s: %d loads, the first on %q; want %d on %q", c.name, len(l.Loads), l.Loads[0].MatID, c.loads, c.want)
		}
	}
}
