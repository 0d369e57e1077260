package pdf

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Annotation flags (12.5.3): those with which an annotation does not show.
const (
	flagHidden = 1 << 1
	flagNoView = 1 << 5
)

// annotations draws the annotations of the page that show something, and
// says so: comments, stamps and form fields are seldom meant to be cut.
func (r *reader) annotations(p *page, base geometry.Affine) {
	for _, o := range r.array(p.dict["Annots"]) {
		r.b.Step()
		d := r.dict(o)
		kind := r.name(d["Subtype"])
		flags, _ := r.number(d["F"])
		appearance := r.appearance(d)
		if kind == "Popup" || int(flags)&(flagHidden|flagNoView) != 0 || appearance == nil || r.stopped {
			continue
		}
		before := len(r.out.Shapes)
		r.annotation(d, appearance, base)
		r.out.Kinds["annotation"]++
		if len(r.out.Shapes) > before {
			r.notes.Add(drawing.AnnotationDrawn, kind, nil)
		}
	}
}

// appearance returns the form that shows an annotation: the normal one, in
// the state that it is in (12.5.5).
func (r *reader) appearance(d types.Dict) types.Object {
	normal := r.dict(d["AP"])["N"]
	if sd, ok := r.get(normal).(types.Dict); ok {
		return sd[r.name(d["AS"])]
	}
	return normal
}

// annotation draws an appearance so that its box, once turned by its matrix,
// fills the rectangle of the annotation (algorithm 8.1 in 12.5.5).
func (r *reader) annotation(d types.Dict, appearance types.Object, base geometry.Affine) {
	form := r.dict(appearance)
	rect, okRect := r.rectangle(d["Rect"])
	box, okBox := r.rectangle(form["BBox"])
	if !okRect || !okBox {
		return
	}
	if v := r.numbers(form["Matrix"]); len(v) == 6 {
		m := geometry.Affine{A: v[0], B: v[1], C: v[2], D: v[3], E: v[4], F: v[5]}
		box = box.Path().Transform(m).Bounds()
	}
	if !(box.Width() > 0 && box.Height() > 0) {
		return
	}
	fit := geometry.Translate(-box.Min.X, -box.Min.Y).
		Then(geometry.Scale(rect.Width()/box.Width(), rect.Height()/box.Height())).
		Then(geometry.Translate(rect.Min.X, rect.Min.Y))
	run := &contentRun{scope: scope{reader: r}, state: startState(fit.Then(base)), kind: "annotation"}
	if oc, ok := d["OC"]; ok {
		run.marks = append(run.marks, r.layers.of(r.file, oc))
	}
	run.form("annotation", appearance, form)
}
