// Package clearance measures the room inside a region and between its parts:
// the point farthest from the boundary, how wide the region is from place to
// place, and the shortest lines that tie its holes together.
//
// A region is an outer ring, anticlockwise, with holes, clockwise, so that its
// inside lies to the left of every edge. Lengths are in mm; distances are
// measured to whole edges and not to vertices, in float64.
package clearance
