package planar_test

import (
	"context"
	"math"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/planar"
)

func squareAt(x, y, side float64) planar.Region {
	return planar.Region{Rings: [][]geometry.Point{{geometry.Pt(x, y), geometry.Pt(x+side, y), geometry.Pt(x+side, y+side), geometry.Pt(x, y+side)}}}
}

// By hand: a square of 10 with one of 4 on it in another paint, on which lies one of 2 in
// the first paint again: 100 − 16 + 4, and 16 − 4. One of 10 in a third paint is hidden to
// its half.
func TestShown(t *testing.T) {
	regions := []planar.Region{squareAt(5, 0, 10), squareAt(0, 0, 10), squareAt(3, 3, 4), squareAt(4, 4, 2)}
	var got []planar.Polygons
	err := budget.Run(context.Background(), func(b *budget.Budget) {
		var err error
		if got, err = planar.Shown(b, regions, []int{2, 0, 1, 0}, 4); err != nil {
			t.Error(err)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{88, 12, 50, 0} {
		if a := got[i].Area(); math.Abs(a-want) > 1e-9 {
			t.Errorf("of paint %d %g mm² show, not %g", i, a, want)
		}
	}
}
