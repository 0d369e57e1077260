package geometry_test

import (
	"errors"
	"testing"

	"knifedesk/geometry"
)

// Path data that ends anywhere, as of a file that was cut off, is read up to there: what
// is whole of it is the same, and a fault stands within the text or at its end.
func TestPathDataThatIsCutOff(t *testing.T) {
	const data = "M10 10 h5.5e0 v-4 l1,2 c1 2 3 4 5 6 s1 2 3 4 q5 6 7 8 t1 2 a5 3 30 0 1 4 2 A5 3 30 11 9 9 z m1 1 H3"
	all, err := geometry.ParsePathData(data)
	if err != nil || len(all) != 2 {
		t.Fatal(all, err)
	}
	for n := range len(data) {
		some, err := geometry.ParsePathData(data[:n])
		var bad *geometry.PathDataError
		if err != nil && (!errors.As(err, &bad) || bad.Offset < 0 || bad.Offset > n) {
			t.Errorf("%q: %v", data[:n], err)
		}
		for i, p := range some {
			if len(p.Segments) > len(all[i].Segments) || p.Start != all[i].Start {
				t.Errorf("%q: %v", data[:n], p)
			}
			for k := range max(0, len(p.Segments)-1) { // the last number may be cut off
				if p.Segments[k] != all[i].Segments[k] {
					t.Errorf("%q: segment %d is %v", data[:n], k, p.Segments[k])
				}
			}
		}
	}
}
