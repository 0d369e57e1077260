// Package geometry holds the plane figures that every job of knifedesk
// passes on: points, boxes, affine maps and paths of lines, circular arcs and
// cubic Bézier curves.
//
// Lengths are millimetres unless a drawing has not been given its true size
// yet; the x axis runs across the feed of the cutter, y along it, and y points
// up. Curves stay exact until a job flattens them with a chord tolerance it
// states. Nothing here reads a clock, a file or the network.
package geometry
