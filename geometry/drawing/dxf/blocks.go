package dxf

import (
	"fmt"
	"math"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// block is a named group of entities, placed by inserts.
type block struct {
	name     string
	base     point
	entities []*entity
	outside  bool // it stands in another file
	active   bool // it is being placed
	flags    int
}

// blockName returns the key of a block: names are the same in any case.
func (r *reader) blockName(raw []byte) string { return strings.ToLower(r.text.decode(raw)) }

func (r *reader) startBlock() {
	r.block = &block{}
	r.record = blockRecord
}

func (r *reader) feedBlock(t *tag) {
	b := r.block
	switch t.code {
	case 2:
		b.name = r.text.decode(t.raw)
	case 10, 20, 30:
		if v, how := t.float(); how != bad {
			*b.base.axis(t.code/10 - 1) = v
		}
	case 70:
		b.flags, _ = t.int()
	}
}

// endBlock makes the block known. Of two with one name the later counts.
func (r *reader) endBlock() {
	b := r.block
	b.outside = b.flags&(4|8) != 0 // external reference, overlay
	r.blocks[strings.ToLower(b.name)] = b
}

// scope is what the inserts about an entity say.
type scope struct {
	placement placement
	placed    bool
	layer     *layer // of the insert: taken by entities on layer 0
	paint     paint  // of the insert: taken by entities painted by block
	depth     int
	scale     float64
	nested    float64 // scale without what turns the unit of a block into that about it
	unit      Units   // of the entities: that of the block, or about it
}

// outer is the scope of what stands in the drawing itself.
func (r *reader) outer(e *entity) *scope {
	return &scope{layer: e.layer, placement: unplaced(), scale: 1, nested: 1, unit: Units(r.header.insUnits)}
}

// inserting puts the contents of blocks where they are inserted.
type inserting struct{ *reader }

// insert places the block that e names, once for each cell of its array.
func (r inserting) insert(e *entity, c *scope) {
	b := r.blocks[e.block]
	switch {
	case b == nil && !c.placed && !r.finishedReading():
		if r.spend(&r.entities, 1, "entities", r.opt.Limits.Entities) {
			r.late = append(r.late, e.clone())
		}
		return
	case b == nil:
		r.note(drawing.MissingReference, e.block, e, e.spot(c))
		return
	case b.outside:
		r.note(drawing.ExternalReference, b.name, e, e.spot(c))
		return
	case b.active:
		r.note(drawing.CircularReference, b.name, e, e.spot(c))
		return
	case len(b.entities) == 0:
		return
	case c.depth >= r.opt.Limits.Depth:
		r.limit("nested inserts", r.opt.Limits.Depth)
		return
	}
	inner := r.insertScope(e, b, c)
	if s := e.scales(); s[0] == 0 || s[1] == 0 {
		r.note(drawing.ZeroLength, e.name, e, e.spot(c))
		return
	}
	if !inner.placement.bounded() {
		r.note(drawing.BadNumber, e.name, e, e.spot(c))
		return
	}
	b.active = true
	r.array(e, b, inner)
	b.active = false
}

// finishedReading reports whether no further blocks can come.
func (r *reader) finishedReading() bool { return r.late == nil && r.record == doneRecord }

// spot returns the point where an insert puts its block.
func (e *entity) spot(c *scope) geometry.Box {
	m := c.placement.turned(e.normal)
	return geometry.BoxAround(m.flat(e.at[0]))
}

// scales returns the factors along the three axes, 1 where none is given.
func (e *entity) scales() [3]float64 {
	s := [3]float64{1, 1, 1}
	for i := range s {
		if e.has(seenNum + 1 + i) {
			s[i] = e.num[1+i]
		}
	}
	return s
}

// insertScope returns the scope of the entities in b: moved so that the
// base point lies at the origin, scaled, turned about the extrusion and moved
// to the insertion point (section "INSERT"). The shift of array cells comes
// between turning and scaling.
func (r inserting) insertScope(e *entity, b *block, c *scope) *scope {
	inner := &scope{
		placed: true, layer: placing(r).effective(e, c), paint: placing(r).paintOf(e, c), depth: c.depth + 1, unit: c.unit,
	}
	object := c.placement.turned(e.normal)
	sin, cos := math.Sincos(e.angle[0] * math.Pi / 180)
	s := e.scales()
	turn := placement{u: point{cos, sin, 0}, v: point{-sin, cos, 0}, w: up(), o: e.at[0]}
	size := placement{u: point{x: s[0]}, v: point{y: s[1]}, w: point{z: s[2]}}
	size.o = size.vector(b.base.mul(-1))
	turned := object.after(&turn)
	inner.placement = turned.after(&size)
	scale := math.Sqrt(math.Abs(s[0] * s[1]))
	inner.scale, inner.nested = c.scale*scale, c.nested*scale
	if u, ok := r.blockUnits[e.block]; ok {
		if inner.unit = u; math.Abs(s[0]) == math.Abs(s[1]) && sameUnit(scale, u, c.unit) {
			inner.nested = c.nested
			return inner
		}
	}
	if scale != 0 && (math.Abs(scale-1) > 1e-9 || math.Abs(s[0]) != math.Abs(s[1])) {
		r.noteScale(e, b, s, c)
	}
	return inner
}

// sameUnit reports whether a scale is what turns one unit into another, as where a
// block that was drawn in inches is put into a drawing in mm.
func sameUnit(scale float64, from, into Units) bool {
	a, okA := from.length()
	b, okB := into.length()
	return okA && okB && math.Abs(scale*b.mm/a.mm-1) <= 1e-6 // written with seven digits
}

// array places the block in every cell of the insert's array.
func (r inserting) array(e *entity, b *block, inner *scope) {
	columns, rows := max(e.whole[0], 1), max(e.whole[1], 1)
	object := inner.placement
	s := e.scales()
	for row := range rows {
		for column := range columns {
			cell := *inner
			dx, dy := float64(column)*e.num[4]/s[0], float64(row)*e.num[5]/s[1]
			cell.placement.o = object.apply(point{x: dx, y: dy})
			for _, part := range b.entities {
				if !r.spend(&r.expanded, 1, "block copies", r.opt.Limits.Expansions) {
					return
				}
				placing(r).place(part, &cell)
			}
		}
	}
}

// noteScale lists an insert that is not at true size. Whether it has to be
// asked about is for the job that knows the scale of the rest.
func (r inserting) noteScale(e *entity, b *block, s [3]float64, c *scope) {
	name := fmt.Sprintf("%s × %.6g", b.name, s[0])
	if s[1] != s[0] {
		name += fmt.Sprintf(" / %.6g", s[1])
	}
	r.note(drawing.NestedScale, name, e, e.spot(c))
}

// placeLate places the inserts whose blocks had not been defined yet.
func (r inserting) placeLate() {
	late := r.late
	r.late, r.record = nil, doneRecord
	for _, e := range late {
		placing(r).place(e, r.outer(e))
	}
}
