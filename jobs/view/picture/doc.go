// Package picture draws pictures of the jobs: size, artwork, weeding, layout
// and passes, and the drawing as it was read, with their marks and words.
//
// Everything is in true proportion with a scale bar in mm and a legend of what
// is in the picture. Nothing is told by colour alone: lines differ by dash or
// width, regions by hatch, marks by shape and number, so that a picture can be
// printed in grey. What is too small to be seen is left out, and the picture
// says so, so that it stays small whatever is drawn.
package picture
