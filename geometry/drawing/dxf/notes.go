package dxf

import (
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// count counts a case of code, under a name ("" for none).
func (r *reader) count(code drawing.Code, name string) *drawing.Note {
	return named(r.notes.Count(code), name)
}

// named lists a name, if there is one. Notes of this reader always have a list of
// names, if an empty one.
func named(f *drawing.Note, name string) *drawing.Note {
	if f.Names == nil {
		f.Names = []string{}
	}
	f.Name(name)
	return f
}

// note counts a case of code about the entity e that lies in box, in drawing units.
func (r *reader) note(code drawing.Code, name string, e *entity, box geometry.Box) *drawing.Note {
	f := r.count(code, name)
	if f.Wants() {
		f.At(e.place(box))
	}
	return f
}

// noteLine counts a case of code about a line of the file.
func (r *reader) noteLine(code drawing.Code, name string, line int) *drawing.Note {
	f := r.count(code, name)
	if line > 0 && f.Wants() {
		f.At(drawing.Place{Box: geometry.EmptyBox(), Source: fmt.Sprintf("line %d", line)})
	}
	return f
}

// place says where e lies; a box that is beyond numbers is left out.
func (e *entity) place(box geometry.Box) drawing.Place {
	p := drawing.Place{Box: geometry.EmptyBox(), Source: e.name}
	if box.Min.Finite() && box.Max.Finite() {
		p.Box = box
	}
	if e.handle != "" {
		p.Source += " " + e.handle
	}
	if e.handle == "" && e.line > 0 {
		p.Source += fmt.Sprintf(" at line %d", e.line)
	}
	if e.layer != nil {
		p.Layer = e.layer.name
	}
	return p
}
