// Package pdf reads drawings from PDF files, and from the files of drawing
// programs that are PDF files inside.
//
// Read follows ISO 32000-1:2008, whose section numbers the comments give.
// Paths come out exactly, through page boxes, rotation, user unit, nested
// forms, optional content (layers) and the glyphs of Type 3 fonts, which are
// drawings too. Letters of other fonts, pictures and shadings have no outline
// here and are listed instead. Nothing outside the file is loaded and no
// script is run.
//
// A drawing comes out in points (72 to the inch) with the user unit applied,
// y up, its origin at the lower left corner of the page as shown: the crop box
// after rotation.
package pdf
