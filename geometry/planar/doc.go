// Package planar cuts the plane along straight lines, exactly, and works with
// the cells: regions of a drawing, unions and differences of areas, welding,
// offsets. Whatever asks for regions in knifedesk asks here.
//
//	lines drawn              the map
//
//	    |                        :          :   dangling edge: bounds nothing
//	+---+-------+            +---+-------+  +   vertex
//	|   |       |            |   |       |
//	|   |  +-+  |            | 1 |  +-+  |  1 to 4: faces; 0 is all round
//	|   |  | |  |            |   |  |3|  |
//	+---+  +-+  |   ----->   |   |  +-+  |  face 2 has one hole, in which
//	|   |       |            +---+   2   |  face 3 lies
//	|   +-------+            | 4 |       |
//	|   |       |            +---+-------+
//	+---+-------+
//
// # From lines to faces
//
// Arrange moves the lines to a local origin if need be and rounds their ends
// to a grid of 0.1 µm. Coordinates then have 30 bits, so that on which side
// of a line a point lies is exact in 64-bit integers, and where two lines
// cross in 128.
//
// Lines are noded by snap rounding (Hobby 1999; Guibas and Marimont 1998): a
// pixel of the grid is hot if it holds an end or a crossing, and every line is
// bent to the middle of each hot pixel it meets. Edges then meet only in
// vertices, and none has moved by more than a pixel. The pixels are half-open,
// and every decision about them is exact. The plane is cut into upright strips
// that hold about as many ends each; within one strip, which is narrow, lines
// and pixels meet in the order of their height. Strips are handled at the same
// time on all processors, and joined in order.
//
// The sides of the edges, sorted round each vertex, make closed walks, one
// face on the left of each. A walk of positive area is the outside of a face,
// the others are the outlines of parts that lie in a face, which is found by
// looking straight down from their leftmost vertex. Map.Euler checks the
// outcome.
//
// Edges say by which lines they were drawn, and how often: duplicates and
// shared sides fall out of the map.
//
// # From faces to areas
//
// Union, Intersection, Difference and SymmetricDifference count how often each
// region winds round every face of one map, and dissolve the chosen faces.
// Offset is a union too: of the area and of what its border sweeps. So all of
// them are exact in the same sense, and their results fit each other: the
// areas of the parts of one map add up to the last grid square.
package planar
