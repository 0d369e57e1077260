// Package figure draws pictures without knowing what they show: pages with
// panels in true proportion, strokes, fills, hatches, lettering, marks, a scale
// bar and a legend, written as SVG and as PNG from one list of figures.
//
// A page is in pixels, x to the right and y down; its width is the same for all
// pages, its height grows with what is written. A panel shows a drawing, in mm
// with y up, as large as it fits:
//
//	p := figure.New(b, figure.Screen(0), "Plate", "80 × 40 mm")
//	p.Open(outline.Bounds(), figure.Inset{Dimensions: true})
//	p.Show(figure.Style{Stroke: figure.Ink, Width: 1.5}, outline)
//	p.ScaleBar()
//	svg, err := p.Finish().SVG(ctx)
//
// What is too small to be seen is left out (see Page.DetailOf), so that a
// picture stays small whatever is drawn. Making a page takes steps from the
// Budget that New was given and ends with it; SVG and PNG end with their
// context.
package figure
