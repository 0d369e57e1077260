// Package dxf reads and writes drawings in the DXF interchange format.
//
// Read takes releases 9 to 2018, as text or binary. It goes by group codes
// alone: version and subclass markers are not relied on, coordinates may come
// in any order. The plane of the drawing is x, y as seen from above (+z), y up,
// in the drawing's own units. Curves stay exact: lines, circular arcs and
// cubics; ellipses and curves that no cubic can follow come within 10⁻⁷ of
// their size.
//
// A file that can be read at all gives a drawing, however broken it is; what
// was left out, mended or doubtful stands in the drawing's notes. Only a
// file that is no DXF gives a *ParseError.
//
// Section numbers in comments are those of the published DXF reference.
package dxf
