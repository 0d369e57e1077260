package weeding

import (
	"cmp"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// readingOrder returns the faces in the order in which a person reads a page:
// outer ones first, then rows from the top, each from the left. It depends on
// where the faces lie and not on the order in which they were drawn.
func (c *cells) readingOrder(b *budget.Budget, faces []int32) []int32 {
	boxes := make(map[int32]geometry.Box, len(faces))
	for _, f := range faces {
		boxes[f] = c.box(b, f)
	}
	slices.SortFunc(faces, func(f, g int32) int {
		b.Step()
		return cmp.Or(cmp.Compare(c.depth[f], c.depth[g]), compareBoxes(boxes[f], boxes[g]), cmp.Compare(c.Faces[g].Area, c.Faces[f].Area))
	})
	for i := 0; i < len(faces); {
		// A row holds the faces of one depth whose middle lies above the
		// foot of its topmost one.
		foot, j := boxes[faces[i]].Min.Y, i+1
		for j < len(faces) && c.depth[faces[j]] == c.depth[faces[i]] && boxes[faces[j]].Centre().Y >= foot {
			j++
		}
		slices.SortStableFunc(faces[i:j], func(f, g int32) int {
			b.Step()
			return cmp.Compare(boxes[f].Min.X, boxes[g].Min.X)
		})
		i = j
	}
	return faces
}

// compareBoxes puts the higher box first, then the one farther left.
func compareBoxes(a, b geometry.Box) int {
	return cmp.Or(cmp.Compare(b.Max.Y, a.Max.Y), cmp.Compare(a.Min.X, b.Min.X),
		cmp.Compare(b.Min.Y, a.Min.Y), cmp.Compare(a.Max.X, b.Max.X))
}
