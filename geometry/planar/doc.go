// Package planar cuts the plane along straight lines, exactly, and works with
// the cells.
package planar
