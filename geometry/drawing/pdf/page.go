package pdf

import (
	"math"

	"knifedesk/geometry"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// page is one page with what it inherits from the page tree (7.7.3).
type page struct {
	dict      types.Dict
	resources types.Dict
	box       geometry.Box // crop box within the media box, user units
	rotate    int          // quarter turns clockwise
	unit      float64      // points in a user unit
}

// inherited are the page attributes that the nodes of the tree pass down.
type inherited struct{ resources, media, crop, rotate types.Object }

func (in inherited) under(d types.Dict) inherited {
	take := func(v *types.Object, key string) {
		if o, ok := d.Find(key); ok && o != nil {
			*v = o
		}
	}
	take(&in.resources, "Resources")
	take(&in.media, "MediaBox")
	take(&in.crop, "CropBox")
	take(&in.rotate, "Rotate")
	return in
}

// pages walks the page tree. A node that holds itself is entered once.
func (f *file) pages() ([]page, error) {
	root := f.catalog()
	if root == nil {
		return nil, &ParseError{Err: ErrNoPages}
	}
	w := treeWalk{file: f, seen: map[int]bool{}}
	if node, ok := root.Find("Pages"); ok {
		w.visit(node, inherited{}, 0)
	}
	if w.over != nil {
		return w.pages, w.over
	}
	if len(w.pages) == 0 {
		return nil, &ParseError{Err: ErrNoPages}
	}
	return w.pages, nil
}

func (f *file) catalog() (d types.Dict) {
	if f.doc.Root == nil {
		return nil
	}
	return f.dict(*f.doc.Root)
}

type treeWalk struct {
	*file
	seen  map[int]bool
	pages []page
	over  error
}

func (w *treeWalk) visit(o types.Object, in inherited, depth int) {
	w.steps.Step()
	n := id(o)
	if n != 0 && w.seen[n] || w.over != nil {
		return
	}
	w.seen[n] = true
	d := w.dict(o)
	if d == nil {
		return
	}
	if depth > w.limits.Depth {
		w.over = &limitError{limitDepth, w.limits.Depth}
		return
	}
	in = in.under(d)
	kids, has := d.Find("Kids")
	if !has {
		if len(w.pages) == w.limits.Pages {
			w.over = &limitError{limitPages, w.limits.Pages}
			return
		}
		w.pages = append(w.pages, w.page(d, in))
		return
	}
	for _, kid := range w.array(kids) {
		w.visit(kid, in, depth+1)
	}
}

// letter is the size that readers take where a file gives none: 8.5 by 11
// inches (common practice; MediaBox is required by 7.7.3.3).
func letter() geometry.Box { return geometry.Box{Max: geometry.Pt(612, 792)} }

func (f *file) page(d types.Dict, in inherited) page {
	p := page{dict: d, resources: f.dict(in.resources), unit: 1, box: letter()}
	if media, ok := f.rectangle(in.media); ok {
		p.box = media
	}
	if crop, ok := f.rectangle(in.crop); ok && crop.Overlaps(p.box) {
		p.box = geometry.Box{
			Min: geometry.Pt(math.Max(crop.Min.X, p.box.Min.X), math.Max(crop.Min.Y, p.box.Min.Y)),
			Max: geometry.Pt(math.Min(crop.Max.X, p.box.Max.X), math.Min(crop.Max.Y, p.box.Max.Y)),
		}
	}
	if u, ok := f.number(d["UserUnit"]); ok && u > 0 && !math.IsInf(u, 0) {
		p.unit = u
	}
	if r, ok := f.number(in.rotate); ok && math.Mod(r, 90) == 0 {
		p.rotate = ((int(math.Mod(r, 360))/90)%4 + 4) % 4
	}
	return p
}

// rectangle reads two opposite corners (7.9.5). One without an area is none.
func (f *file) rectangle(o types.Object) (geometry.Box, bool) {
	v := f.numbers(o)
	if len(v) != 4 {
		return geometry.Box{}, false
	}
	b := geometry.BoxAround(geometry.Pt(v[0], v[1]), geometry.Pt(v[2], v[3]))
	return b, b.Width() > 0 && b.Height() > 0 && finite(b)
}

// shown returns the map from user space to the page as it is shown, in points
// from its lower left corner, and the size of the page.
func (p *page) shown() (geometry.Affine, geometry.Box) {
	w, h := p.box.Width(), p.box.Height()
	m := geometry.Translate(-p.box.Min.X, -p.box.Min.Y)
	switch p.rotate {
	case 1: // clockwise: (x, y) → (y, w − x)
		m = m.Then(geometry.Affine{B: -1, C: 1, F: w})
		w, h = h, w
	case 2:
		m = m.Then(geometry.Affine{A: -1, D: -1, E: w, F: h})
	case 3:
		m = m.Then(geometry.Affine{B: 1, C: -1, E: h})
		w, h = h, w
	}
	return m.Then(geometry.Scale(p.unit, p.unit)), geometry.Box{Max: geometry.Pt(w*p.unit, h*p.unit)}
}

// farthest is the largest coordinate that is taken seriously, in points: a
// kilometre, as in the workshop's table of faults.
const farthest = 1e6 * 72 / 25.4

// sheet reports whether a box has the size of some sheet: its sides between a
// thousandth of a point and the farthest coordinate.
func sheet(b geometry.Box) bool {
	const least = 1e-3
	return finite(b) && b.Width() >= least && b.Height() >= least
}

// finite reports whether all of b lies within the farthest coordinate.
func finite(b geometry.Box) bool {
	return b.Min.Finite() && b.Max.Finite() && max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y) <= farthest
}
