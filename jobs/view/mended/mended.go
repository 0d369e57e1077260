// Package mended gives a drawing back as a file to carry on from: at true size, after
// all that was mended and decided, on the layers and in the colours of the convention,
// in a frame that carries the size.
package mended

import (
	"cmp"
	"context"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/workshop"
)

// New lays out the mended file of a plan whose artwork is known. Lines that wait for
// an answer are in it as they were drawn; what the machine does not run is on the
// layer for notes; what the file cannot hold is said in it. Formats differ in how they
// put curves together. It fails with the error of ctx, or where the results do not
// belong together.
func New(ctx context.Context, r *view.Results, q *plan.Request, format view.Format) (f *layered.File, err error) {
	stopped := budget.Run(ctx, func(b *budget.Budget) { f, err = made(b, r, q, format) })
	return f, cmp.Or(stopped, err)
}

func made(b *budget.Budget, r *view.Results, q *plan.Request, format view.Format) (*layered.File, error) {
	m := maker{b: b, r: r, q: q, dxf: format == view.DXF, at: map[key]int{}, of: map[workshop.Meaning]int{}, folds: map[workshop.Side]int{}}
	m.begin()
	strokes := Strokes(b, r, q)
	if m.dxf {
		strokes = held(b, strokes, q)
	}
	for i := range strokes {
		m.stroke(&strokes[i])
	}
	aside, err := meaning.AsideOf(b, &r.Drawing.Drawing, r.Size, r.Artwork)
	if err != nil {
		return nil, err
	}
	for i := range aside {
		m.aside(&aside[i])
	}
	return m.file(strokes), nil
}

// maker makes a file.
type maker struct {
	b   *budget.Budget
	r   *view.Results
	q   *plan.Request
	dxf bool
	// unlayered says that the convention has no layer for the frame.
	unlayered bool
	layers    []layered.Layer
	at        map[key]int              // where a layer stands
	of        map[workshop.Meaning]int // where the convention's layer of a meaning stands
	folds     map[workshop.Side]int    // where its layer of folds to one side stands
	open      int                      // lines that wait for an answer
	dropped   int                      // lines for which there is no layer
}

// key is how lines are told apart.
type key struct {
	layer  string
	colour drawing.Colour
}

// begin lays out the layers of the convention, also those that stay empty: somebody
// will draw on them.
func (m *maker) begin() {
	for _, l := range meaning.Layers(&m.q.Convention, m.q.Stock.Family) {
		if at := m.layer(key{l.Name, l.Colour}); l.Fold == "" { // no fold is given a side
			m.of[l.Means] = at
		} else {
			m.folds[l.Fold] = at
		}
	}
	if _, ok := m.of[workshop.MeansFrame]; !ok {
		m.unlayered = true
		m.of[workshop.MeansFrame] = m.layer(m.spare())
	}
}

// layer returns where the layer stands, which is made if there is none. A name stands
// for one colour.
func (m *maker) layer(k key) int {
	if at, known := m.at[k]; known {
		return at
	}
	name := k.layer
	if name == "" {
		name = "0"
	}
	for base, n := name, 2; m.taken(name); n++ {
		name = fmt.Sprintf("%s %d", base, n)
	}
	m.at[k] = len(m.layers)
	m.layers = append(m.layers, layered.Layer{Name: name, Colour: k.colour})
	return m.at[k]
}

func (m *maker) taken(name string) bool {
	for i := range m.layers {
		if m.layers[i].Name == name {
			return true
		}
	}
	return false
}

func (m *maker) add(layer int, p geometry.Path) {
	m.layers[layer].Paths = append(m.layers[layer].Paths, p)
}

// stroke puts a stroke on the layer of what is done along it, and a fold on that of its
// side, where the convention tells the sides apart: by another name it would be no such fold.
func (m *maker) stroke(s *artwork.Stroke) {
	own, means := keyOf(s.Layer, s.Colour), meaningOf(s.Operation)
	at, known := m.of[means]
	if said, side := meaning.Means(&m.q.Convention, own.layer, own.colour); said == means && side != "" {
		at, known = m.folds[side]
	}
	if !known {
		at = m.layer(own)
	}
	m.add(at, s.Path)
}

// aside puts a line that waits for an answer where it was, and others with the notes.
func (m *maker) aside(l *meaning.Aside) {
	own := keyOf(l.Layer, l.Colour)
	if l.Open {
		m.open++
		m.add(m.layer(own), l.Path)
		return
	}
	at, known := m.of[workshop.MeansNothing]
	if !known {
		if said, _ := meaning.Means(&m.q.Convention, own.layer, own.colour); said != workshop.MeansNothing {
			m.dropped++
			return
		}
		at = m.layer(own)
	}
	m.add(at, l.Path)
}

func keyOf(layer string, colour *drawing.Colour) key {
	k := key{layer: layer}
	if colour != nil {
		k.colour = *colour
	}
	return k
}

func meaningOf(o artwork.Operation) workshop.Meaning {
	switch o {
	case artwork.Pen:
		return workshop.MeansPen
	case artwork.Score:
		return workshop.MeansScore
	case artwork.Perforate:
		return workshop.MeansPerforate
	}
	return workshop.MeansCut
}

// besideMM is the paper round a drawing that has no frame.
const besideMM = 10

// file puts the frame round the work and all of it on a page.
func (m *maker) file(strokes []artwork.Stroke) *layered.File {
	page := geometry.EmptyBox()
	for _, l := range m.layers {
		for _, p := range l.Paths {
			page = page.Union(p.BoundsIn(m.b))
		}
	}
	if page.Empty() {
		page = geometry.Box{}
	}
	title := "Mended drawing at true size"
	if f := m.frame(strokes); f.width == 0 {
		page = page.Grow(besideMM)
	} else {
		at := m.of[workshop.MeansFrame]
		title += fmt.Sprintf(", frame %s x %s mm", number.People(f.width), number.People(f.length))
		m.layers[at].Name = f.nameOn(m.layers[at].Name)
		m.layers[at].Paths = []geometry.Path{f.path}
		page = page.Union(f.path.Bounds())
	}
	onto := geometry.Translate(-page.Min.X, -page.Min.Y)
	for _, l := range m.layers {
		for i := range l.Paths {
			m.b.Spend(1 + len(l.Paths[i].Segments))
			l.Paths[i] = rounded(l.Paths[i].Transform(onto))
			if m.dxf {
				l.Paths[i], _ = unmixed(l.Paths[i])
			}
		}
	}
	size := snapped(geometry.Pt(page.Width(), page.Height()))
	return &layered.File{Title: title, Says: m.says(), Width: size.X, Length: size.Y, Layers: m.layers}
}
