package dxf

import (
	"strings"

	"knifedesk/geometry/drawing"
)

// layer is an entry of the layer table, or a layer that entities name without
// one.
type layer struct {
	name                string
	colour              *drawing.Colour
	off, frozen, locked bool
	weight              int
	dash                *lineType
}

// lineType says whether a type of line has gaps. Its own name may say that it
// is the one of the layer or of the insert.
type lineType struct {
	dashed  bool
	dashDot bool // its dashes are of two lengths
	byBlock bool
}

// Values of group 370 below 0.
const (
	weightByLayer = -1
	weightByBlock = -2
)

// layerNamed returns the layer of that name in any case, new where it is the
// first to ask.
func (r *reader) layerNamed(raw []byte) *layer {
	if l := r.layers[string(raw)]; l != nil {
		return l
	}
	name := r.text.decode(raw)
	fold := "=" + strings.ToLower(name) // cannot be mistaken for raw bytes of its own
	l := r.folded[fold]
	if l == nil {
		l = &layer{name: name, colour: &r.palette[7], weight: weightByLayer, dash: &lineType{}}
		r.folded[fold] = l
		r.layerOrder = append(r.layerOrder, l)
	}
	r.layers[string(raw)] = l
	return l
}

// lineTypeNamed returns the line type of that name, nil for that of the layer.
func (r *reader) lineTypeNamed(raw []byte) *lineType {
	name := strings.ToLower(string(raw))
	if name == "bylayer" || name == "" {
		return nil
	}
	t := r.lineTypes[name]
	if t == nil {
		t = &lineType{byBlock: name == "byblock"}
		r.lineTypes[name] = t
	}
	return t
}

// row is an entry of the table of layers, line types or blocks being read.
type row struct {
	name   []byte
	layer  layer
	colour int
	parts  int       // dashes and gaps of a line type
	dashes []float64 // of a line type
	flags  int       // group 70: of a layer, or the unit of a block
	factor float64   // DIMLFAC of a style of dimensions
}

// tableReader reads the rows of the tables of layers, line types and blocks.
type tableReader struct{ *reader }

func (r tableReader) startRow() {
	r.row = row{name: r.row.name[:0], dashes: r.row.dashes[:0], layer: layer{weight: weightByLayer}, colour: 7}
}

func (r tableReader) feedRow(t *tag) {
	switch t.code {
	case 2:
		r.row.name = append(r.row.name[:0], t.raw...)
	case 6:
		r.row.layer.dash = r.lineTypeNamed(t.raw)
	case 49: // a gap is below 0, a dot 0
		if v, ok := t.float(); ok != bad && v >= 0 {
			r.row.dashes = append(r.row.dashes, v)
		}
	case factorVariable:
		if v, how := t.float(); how != bad {
			r.row.factor = v
		}
	case 420:
		if v, ok := t.int(); ok {
			r.row.layer.colour = trueColour(v)
		}
	case 62, 70, 73, 370:
		v, ok := t.int()
		if !ok {
			return
		}
		switch t.code {
		case 62:
			r.row.colour = v
		case 70:
			r.row.flags = v
		case 73:
			r.row.parts = v
		case 370:
			r.row.layer.weight = v
		}
	}
}

func (r tableReader) endLayer() {
	l := r.layerNamed(r.row.name)
	from := r.row.layer
	l.off = r.row.colour < 0
	l.frozen, l.locked, l.weight = r.row.flags&1 != 0, r.row.flags&4 != 0, from.weight
	l.colour = from.colour
	if l.colour == nil {
		l.colour = &r.palette[7]
		if n := max(r.row.colour, -r.row.colour); n > 0 && n < byLayer {
			l.colour = &r.palette[n]
		}
	}
	if from.dash != nil {
		l.dash = from.dash
	}
}

func (r tableReader) endLineType() {
	if t := r.lineTypeNamed(r.row.name); t != nil {
		t.dashed = r.row.parts > 0
		t.dashDot = t.dashed && drawing.DashDot(r.row.dashes)
	}
}

// endBlockRow keeps the unit in which a block was drawn (section "BLOCK_RECORD",
// group 70: block insertion units).
func (r tableReader) endBlockRow() {
	if u := Units(r.row.flags); u != Unitless {
		r.blockUnits[r.blockName(r.row.name)] = u
	}
}

// hides reports whether shapes on l are left out.
func (l *layer) hides(opt Options) bool {
	return !opt.KeepHidden && (l.off || l.frozen)
}
