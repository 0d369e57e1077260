package dxf

import (
	"fmt"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// entityReader puts the values of entities together.
type entityReader struct{ *reader }

// startEntity begins the entity that t names.
func (r entityReader) startEntity(t *tag) {
	k := r.countKind(t.raw)
	if r.poly {
		if k.kind == vertexKind {
			r.corner.reset()
			r.corner.kind = vertexKind
			r.record = vertexRecord
			return
		}
		r.endPolyline()
	}
	r.recognised = r.recognised || k.kind != unknownKind
	r.e.reset()
	r.e.kind, r.e.name, r.e.line = k.kind, k.name, t.line
	if k.name == "DIMENSION" {
		r.e.dimension = &dimension{}
	}
	r.record = entityRecord
}

// feedEntity gives a group to an entity. Groups of 1000 and more belong to
// other programs, as do those within the braces of group 102; but dimensions
// keep there what they have in another way than their style.
func (r entityReader) feedEntity(e *entity, t *tag) {
	code := t.code
	switch {
	case e.over:
	case code >= 1000:
		e.dimension.own(t)
	case code == 102:
		if len(t.raw) > 0 && t.raw[0] == '{' {
			e.groups++
		} else if e.groups > 0 {
			e.groups--
		}
	case e.groups > 0:
	case code >= 10 && code < 60 || code >= 210 && code <= 230:
		r.feedNumber(e, t)
	case code >= 60 && code < 80 || code >= 90 && code < 100:
		if v, ok := t.int(); ok {
			e.integer(code, v)
		} else if code == 70 || code == 90 {
			e.spoil(t.line)
		}
	default:
		r.feedName(e, t)
	}
}

func (r entityReader) feedNumber(e *entity, t *tag) {
	v, how := t.float()
	switch how {
	case comma:
		r.noteLine(drawing.DecimalComma, "", t.line)
	case bad:
		e.spoil(t.line)
		return
	}
	e.number(t.code, v)
}

// spoil marks e as holding a value that cannot be read.
func (e *entity) spoil(line int) {
	if !e.bad {
		e.bad, e.badAt = true, line
	}
}

func (r entityReader) feedName(e *entity, t *tag) {
	switch t.code {
	case 1, 3:
		if d := e.dimension; d != nil && t.code == 1 {
			d.words = r.text.decode(t.raw)
		} else if d != nil {
			d.style = strings.ToLower(r.text.decode(t.raw))
		}
	case 8:
		e.layer = r.layerNamed(t.raw)
	case 5:
		e.handle = r.handles.keep(t.raw)
	case 2:
		if e.kind == insertKind {
			e.block = r.blockName(t.raw)
		}
	case 6:
		e.dash = r.lineTypeNamed(t.raw)
	case 101:
		e.over = true
	case 370:
		if v, ok := t.int(); ok {
			e.weight = v
		}
	case 420:
		if v, ok := t.int(); ok {
			e.exact = trueColour(v)
		}
	}
}

// endEntity places the entity that was read, or keeps it in its block.
func (r entityReader) endEntity(whole bool) {
	e := &r.e
	if e.layer == nil {
		e.layer = r.layerNamed([]byte("0"))
	}
	switch {
	case e.bad:
		r.dropBad(e)
	case !whole || !e.sound():
		r.note(drawing.EntityBroken, e.name, e, e.box())
	case e.kind == polylineKind:
		r.poly = true
	default:
		r.keep(e)
	}
}

func (r entityReader) dropBad(e *entity) {
	f := r.count(drawing.BadNumber, e.name)
	if !f.Wants() {
		return
	}
	p := e.place(e.box())
	if e.badAt > 0 {
		p.Source += fmt.Sprintf(", line %d", e.badAt)
	}
	f.At(p)
}

func (r entityReader) endVertex(whole bool) {
	c := &r.corner
	switch {
	case c.bad:
		r.e.spoil(c.badAt)
	case !whole || !c.sound():
		r.e.spoil(r.tag.line)
	default:
		r.e.vertices = append(r.e.vertices, vertex{
			at: c.at[0], bulge: c.num[2], w0: c.num[0], w1: c.num[1], flags: c.whole[0],
		})
	}
}

// endPolyline finishes the POLYLINE whose vertices have ended.
func (r entityReader) endPolyline() {
	r.poly = false
	if r.e.bad {
		r.dropBad(&r.e)
		return
	}
	r.keep(&r.e)
}

// dropPolyline gives up a POLYLINE whose end is lost.
func (r entityReader) dropPolyline() {
	r.poly = false
	r.note(drawing.EntityBroken, r.e.name, &r.e, r.e.box())
}

// keep places e in the drawing, or stores it in the block being defined.
func (r *reader) keep(e *entity) {
	if e.paper {
		r.note(drawing.PaperSpace, "", e, geometry.EmptyBox())
		return
	}
	if r.block != nil {
		if e.kind == quietKind || r.block.outside {
			return
		}
		if r.spend(&r.entities, 1, "entities", r.opt.Limits.Entities) {
			r.block.entities = append(r.block.entities, e.clone())
		}
		return
	}
	placing{r}.place(e, r.outer(e))
}

// spend adds n to what was used up and reports whether the limit allows it.
func (r *reader) spend(used *int, n int, name string, limit int) bool {
	*used += n
	if *used > limit {
		r.limit(name, limit)
	}
	return !r.stopped
}
