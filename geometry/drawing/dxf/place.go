package dxf

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// attributeHidden is the flag of an ATTRIB that does not show.
const attributeHidden = 1

// placing puts entities that are complete into the drawing.
type placing struct{ *reader }

// place draws e as c puts it, or lists it.
func (r placing) place(e *entity, c *scope) {
	r.b.Spend(1 + len(e.vertices) + len(e.fits) + len(e.knots))
	if r.hidden(e, c) {
		return
	}
	switch e.kind {
	case insertKind:
		inserting(r).insert(e, c)
	case lineKind, arcKind, circleKind, ellipseKind, lwPolylineKind, polylineKind, splineKind:
		r.draw(e, c)
	case quietKind, vertexKind:
	case textKind:
		if e.name != "ATTRIB" || e.whole[0]&attributeHidden == 0 {
			r.noteOn(drawing.LiveText, "", e, c)
		}
	default:
		if !c.placed {
			r.measure(e)
		}
		if code, name := listed(e); code == drawing.HatchListed {
			r.noteOn(code, name, e, c)
		} else {
			r.note(code, name, e, e.boxIn(c))
		}
	}
}

// noteOn notes a case of code on the layer on which e counts.
func (r placing) noteOn(code drawing.Code, name string, e *entity, c *scope) {
	l := r.effective(e, c).name
	if f := named(r.notes.CountOn(code, l), name); f.Wants() {
		at := e.place(e.boxIn(c))
		at.Layer = l
		f.At(at)
	}
}

// listed returns the code of an entity that is not drawn.
func listed(e *entity) (drawing.Code, string) {
	switch e.kind {
	case hatchKind, fillKind:
		return drawing.HatchListed, e.name
	case dimensionKind:
		return drawing.DimensionListed, e.name
	case imageKind:
		return drawing.RasterImage, e.name
	case pointKind:
		return drawing.PointListed, ""
	case endlessKind:
		return drawing.EndlessLine, e.name
	case solidKind:
		return drawing.SolidListed, e.name
	}
	return drawing.UnknownEntity, e.name
}

// boxIn returns the box of e's points as c puts them.
func (e *entity) boxIn(c *scope) geometry.Box {
	m := c.placement
	if e.kind != imageKind && e.kind != dimensionKind && e.kind != pointKind {
		m = m.turned(e.normal)
	}
	b := geometry.EmptyBox()
	for _, corner := range e.box().Corners() {
		b = b.Include(m.flat(point{corner.X, corner.Y, 0}))
	}
	return b
}

// hidden reports whether e is left out for where it lies, and lists it. An
// insert on a frozen layer hides all of its block; on one that is off only
// what lies on such a layer itself.
func (r placing) hidden(e *entity, c *scope) bool {
	l := r.effective(e, c)
	name := l.name
	switch {
	case r.opt.KeepHidden:
		return false
	case l.hides(r.opt) && e.kind != insertKind || l.frozen:
	case e.invisible:
		name = "marked invisible"
	default:
		return false
	}
	if e.kind == insertKind && r.blocks[e.block] == nil || e.kind == quietKind {
		return true
	}
	f := r.count(drawing.HiddenGeometry, name)
	if f.Wants() {
		f.At(e.place(r.outline(e, c)))
	}
	return true
}

// outline returns the box of a shape that is left out.
func (r placing) outline(e *entity, c *scope) geometry.Box {
	if r.traceEntity(e, &c.placement, c.placed) == "" {
		return r.trace.path().Bounds()
	}
	return e.boxIn(c)
}

// effective returns the layer on which e counts: what lies on layer 0 of a
// block lies on the layer of its insert.
func (r placing) effective(e *entity, c *scope) *layer {
	if c.placed && e.layer.name == "0" {
		return c.layer
	}
	return e.layer
}

// paint is how a shape is drawn. The colour of a layer is looked up at the
// end, so that the layer table may come late.
type paint struct {
	layer  *layer
	colour *drawing.Colour // nil: that of from
	from   *layer
	weight int
	dash   *lineType
}

// paintOf resolves what e says of its paint, by layer or by block.
func (r placing) paintOf(e *entity, c *scope) paint {
	l := r.effective(e, c)
	p := paint{layer: l, from: l, weight: e.weight, dash: e.dash}
	number := max(e.colour, -e.colour) // a negative number is a layer's switch; here it is a slip
	switch {
	case e.exact != nil:
		p.colour = e.exact
	case number == byBlock && c.placed:
		p.colour, p.from = c.paint.colour, c.paint.from
	case number == byBlock:
		p.colour = &r.palette[7]
	case number < byLayer:
		p.colour = &r.palette[number]
	}
	if e.weight == weightByBlock {
		p.weight = c.paint.weight
	}
	if e.weight == weightByLayer {
		p.weight = l.weight
	}
	if e.dash == nil {
		p.dash = l.dash
	} else if e.dash.byBlock && c.paint.dash != nil {
		p.dash = c.paint.dash
	}
	return p
}

// draw traces e and keeps its shape.
func (r placing) draw(e *entity, c *scope) {
	fault := r.traceEntity(e, &c.placement, c.placed)
	t := &r.trace
	if !r.spend(&r.segments, max(len(t.segs), len(e.vertices), len(e.knots)), "segments", r.opt.Limits.Segments) {
		return
	}
	if fault == "" && !t.bounded() {
		fault = drawing.BadNumber
	}
	if fault != "" {
		r.note(fault, e.name, e, e.boxIn(c))
		return
	}
	if !c.placed && !r.spend(&r.entities, 1, "entities", r.opt.Limits.Entities) {
		return
	}
	path := r.shapes.keep(t)
	r.noteOddities(e, c, path)
	r.addShape(e, c, path)
}

// noteOddities lists what was drawn but may not be what was meant.
func (r placing) noteOddities(e *entity, c *scope, path geometry.Path) {
	switch e.kind {
	case lwPolylineKind, polylineKind:
		r.noteBulge(e, c)
	case circleKind, arcKind:
		if e.num[0] < 0 {
			r.note(drawing.NegativeRadius, e.name, e, path.Bounds())
		}
	case splineKind:
		if r.trace.coarse {
			r.note(drawing.CurveCoarse, "", e, path.Bounds())
		}
	}
	if e.deep() {
		r.note(drawing.NotFlat, e.name, e, path.Bounds())
	}
}

func (r placing) addShape(e *entity, c *scope, path geometry.Path) {
	s, p := r.shapes.add()
	*p = r.paintOf(e, c)
	s.Paths = r.shapes.one(path)
	s.Source = drawing.Source{Kind: e.name, ID: e.handle, Line: e.line}
	s.Nested = c.nested
	s.Mirrored = c.placed && c.placement.plane(0).Det() < 0
	if w := e.width() * c.scale; w > 0 {
		s.StrokeWidth = w
	}
}

// width returns the greatest width along a polyline.
func (e *entity) width() float64 {
	w := 0.0
	switch e.kind {
	case lwPolylineKind:
		w = e.num[3]
	case polylineKind:
		w = math.Max(e.num[0], e.num[1])
	default:
		return 0
	}
	for i := range e.vertices {
		w = math.Max(w, math.Max(e.vertices[i].w0, e.vertices[i].w1))
	}
	return w
}

// deep reports whether e leaves the plane that is cut: its points differ in
// height, or it is drawn on a tilted plane.
func (e *entity) deep() bool {
	const slack = 1e-6 // of the drawing unit: noise of exporters
	if math.Abs(e.normal.x) > slack || math.Abs(e.normal.y) > slack {
		return e.kind != lineKind && e.kind != splineKind
	}
	switch e.kind {
	case lineKind:
		return math.Abs(e.at[0].z-e.at[1].z) > slack
	case polylineKind, splineKind:
		for i := range e.vertices {
			if math.Abs(e.vertices[i].at.z-e.vertices[0].at.z) > slack {
				return true
			}
		}
	}
	return false
}

// wildBulge is the bulge from which an arc lacks less than a quarter degree
// of the full circle, which nobody draws on purpose.
const wildBulge = 1000

func (r placing) noteBulge(e *entity, c *scope) {
	for i := range e.vertices {
		if math.Abs(e.vertices[i].bulge) > wildBulge {
			v := e.vertices[i].at
			r.note(drawing.WildBulge, "", e, geometry.BoxAround(c.placement.flat(v)))
		}
	}
}
