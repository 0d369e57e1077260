// Package svg reads drawings in the SVG format and writes files to cut from.
//
// Read follows SVG 2 (W3C Candidate Recommendation, 4 October 2018), CSS
// Cascading and Inheritance 4, CSS Color 4 and CSS Transforms 1: style sheets,
// nested viewports, references within the file and every unit. Nothing outside
// the file is ever loaded; entities, references, nesting and sizes have limits.
//
// A drawing comes out in CSS pixels (96 to the inch) with y up: the y axis of
// the file is turned about the height of the outermost viewport, or about 0
// where the file has none. Curves stay exact.
package svg
