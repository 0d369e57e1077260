package planar

import "knifedesk/geometry/budget"

// Shown returns what shows of each paint where regions are painted one over the other
// in their order, the last on top: region i with the paint paints[i], from 0 to n−1. The
// areas are disjoint, together they are the union of the regions, and where two meet
// they have the same corners. The error is that of Arrange, with the line counted over
// all rings.
func Shown(b *budget.Budget, regions []Region, paints []int, n int) ([]Polygons, error) {
	m, err := Arrange(b, ringLines(b, regions))
	if err != nil {
		return nil, err
	}
	chosen := make([][]bool, n) // by paint and face
	for i := range chosen {
		chosen[i] = make([]bool, len(m.Faces))
	}
	w := walker{m: m, regions: regions, winding: make([]int32, len(regions)), inside: make([]bool, len(regions))}
	w.eachFace(b, func(face int32) {
		if w.count == 0 {
			return
		}
		top := len(regions) - 1
		for ; !w.inside[top]; top-- {
			b.Step()
		}
		chosen[paints[top]][face] = true
	})
	shown := make([]Polygons, n)
	for i := range shown {
		shown[i] = selection{m, chosen[i]}.dissolve(b)
	}
	return shown, nil
}
