package dxf

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// entity collects the groups of one entity, whatever their order.
type entity struct {
	kind      kind
	name      string
	handle    string
	line      int
	layer     *layer
	paper     bool // drawn on the print layout
	invisible bool
	colour    int             // colour number, byLayer where none is given
	exact     *drawing.Colour // true colour, which goes before the number
	weight    int             // 1/100 mm; negative: by layer, by block, default
	dash      *lineType       // nil: by layer
	normal    point           // extrusion
	height    float64         // elevation of an LWPOLYLINE
	at        [4]point        // groups 10–13 with 20–23 and 30–33
	num       [10]float64     // groups 40–49
	angle     [4]float64      // groups 50–53
	whole     [8]int          // groups 70–77
	count     int             // group 90
	block     string          // block of an INSERT
	vertices  []vertex
	fits      []point
	knots     []float64
	weights   []float64
	extent    geometry.Box // of a HATCH, in its own plane
	hatch     hatchState
	dimension *dimension // nil but for a DIMENSION

	seen   uint64 // which of at, num, angle and whole were given
	groups int    // depth within the braces of group 102
	ys     int    // how many y of vertices were given
	over   bool   // an embedded object follows, whose groups mean other things
	badAt  int    // line of the first number that is none
	bad    bool
}

// vertex is a corner of a polyline or a control point of a spline.
type vertex struct {
	at     point
	bulge  float64
	w0, w1 float64 // widths of the segment after it
	flags  int
}

// reset empties e for the next entity and keeps its memory.
func (e *entity) reset() {
	*e = entity{
		colour: byLayer, weight: weightByLayer, normal: up(), count: -1, extent: geometry.EmptyBox(),
		vertices: e.vertices[:0], fits: e.fits[:0], knots: e.knots[:0], weights: e.weights[:0],
	}
}

// Bits of seen, and how many there are of each.
const (
	seenPoint  = 0 // 4 × x, 4 × y, 4 × z
	seenNum    = 12
	seenAngle  = 22
	seenWhole  = 26
	seenHeight = 34
)

func (e *entity) has(bit int) bool { return e.seen>>bit&1 != 0 }

// hasPoint reports whether both x and y of point i were given.
func (e *entity) hasPoint(i int) bool { return e.has(seenPoint+i) && e.has(seenPoint+4+i) }

// number takes a group of the codes 10 to 59 or 210 to 230.
func (e *entity) number(code int, v float64) {
	switch e.kind {
	case lwPolylineKind:
		if e.cornerNumber(code, v) {
			return
		}
	case splineKind:
		if e.splineNumber(code, v) {
			return
		}
	case hatchKind:
		e.hatchNumber(code, v)
		return
	}
	if e.dimension != nil && code < 40 && code%10 == 4 {
		e.dimension.point(code, v)
		return
	}
	switch {
	case code == 38:
		e.height = v
		e.seen |= 1 << seenHeight
	case code < 40:
		i, axis := code%10, code/10-1
		if i > 3 {
			return
		}
		*e.at[i].axis(axis) = v
		e.seen |= 1 << (seenPoint + 4*axis + i)
	case code < 50:
		e.num[code-40] = v
		e.seen |= 1 << (seenNum + code - 40)
	case code < 54:
		e.angle[code-50] = v
		e.seen |= 1 << (seenAngle + code - 50)
	case code == 210 || code == 220 || code == 230:
		*e.normal.axis(code/10 - 21) = v
	}
}

func (p *point) axis(i int) *float64 {
	switch i {
	case 0:
		return &p.x
	case 1:
		return &p.y
	}
	return &p.z
}

// cornerNumber takes the groups that an LWPOLYLINE repeats for each corner.
func (e *entity) cornerNumber(code int, v float64) bool {
	if code == 10 {
		e.vertices = append(e.vertices, vertex{at: point{x: v}})
		return true
	}
	n := len(e.vertices)
	if n == 0 {
		return false
	}
	last := &e.vertices[n-1]
	switch code {
	case 20:
		last.at.y = v
		e.ys++
	case 40:
		last.w0 = v
	case 41:
		last.w1 = v
	case 42:
		last.bulge = v
	default:
		return false
	}
	return true
}

// splineNumber takes the groups that a SPLINE repeats.
func (e *entity) splineNumber(code int, v float64) bool {
	switch code {
	case 10:
		e.vertices = append(e.vertices, vertex{at: point{x: v}})
	case 11:
		e.fits = append(e.fits, point{x: v})
	case 20:
		if n := len(e.vertices); n > 0 {
			e.vertices[n-1].at.y = v
			e.ys++
		}
	case 30:
		if n := len(e.vertices); n > 0 {
			e.vertices[n-1].at.z = v
		}
	case 21, 31:
		if n := len(e.fits); n > 0 {
			*e.fits[n-1].axis(code/10 - 1) = v
		}
	case 40:
		e.knots = append(e.knots, v)
	case 41:
		e.weights = append(e.weights, v)
	default:
		return false
	}
	return true
}

// integer takes a group of the codes 60 to 79 or 90 to 99.
func (e *entity) integer(code, v int) {
	switch {
	case code == 60:
		e.invisible = v&1 != 0
	case code == 62:
		e.colour = v
	case code == 67:
		e.paper = v == 1
	case code >= 70 && code < 78:
		e.whole[code-70] = v
		e.seen |= 1 << (seenWhole + code - 70)
	case code == 90:
		e.count = v
	}
	if e.kind == hatchKind {
		e.hatchInteger(code, v)
	}
}

// sound reports whether e has the coordinates without which it is nothing. The
// format has no default for them, and 0 would be a guess.
func (e *entity) sound() bool {
	switch e.kind {
	case lineKind:
		return e.hasPoint(0) && e.hasPoint(1)
	case circleKind:
		return e.hasPoint(0) && e.has(seenNum)
	case arcKind:
		return e.hasPoint(0) && e.has(seenNum) && e.has(seenAngle) && e.has(seenAngle+1)
	case ellipseKind:
		return e.hasPoint(0) && e.hasPoint(1) && e.has(seenNum)
	case lwPolylineKind, splineKind:
		return e.ys == len(e.vertices)
	case vertexKind, insertKind:
		return e.hasPoint(0)
	}
	return true
}

// complete reports whether e is sound and has all it should have by its own
// counts, so that it can be kept although what follows it is lost.
func (e *entity) complete() bool {
	switch e.kind {
	case ellipseKind:
		return e.sound() && e.has(seenNum+1) && e.has(seenNum+2)
	case lwPolylineKind:
		return e.sound() && len(e.vertices) == e.count
	case splineKind:
		return e.sound() && e.has(seenWhole+2) && e.has(seenWhole+3) && len(e.knots) == e.whole[2] &&
			len(e.vertices) == e.whole[3] && e.whole[4] == 0
	case polylineKind, insertKind, vertexKind:
		return false
	}
	return e.sound()
}

// clone returns a copy of e that shares nothing with it.
func (e *entity) clone() *entity {
	c := *e
	c.vertices = append([]vertex(nil), e.vertices...)
	c.fits = append([]point(nil), e.fits...)
	c.knots = append([]float64(nil), e.knots...)
	c.weights = append([]float64(nil), e.weights...)
	return &c
}

// box returns roughly where e lies, for notes about entities that are not
// traced: the box of those of its points that are positions, in its own plane.
func (e *entity) box() geometry.Box {
	b := e.extent
	for i := range e.positions() {
		if e.hasPoint(i) {
			b = b.Include(geometry.Point{X: e.at[i].x, Y: e.at[i].y})
		}
	}
	for _, v := range e.vertices {
		b = b.Include(geometry.Point{X: v.at.x, Y: v.at.y})
	}
	switch {
	case b.Empty():
		return b
	case e.kind == textKind: // a letter, where the text begins
		b = b.Include(b.Max.Add(geometry.Point{X: math.Abs(e.num[0]), Y: math.Abs(e.num[0])}))
	case e.kind == imageKind: // edges of one pixel in 11 and 12, their number in 13
		u, v := e.at[1].mul(e.at[3].x), e.at[2].mul(e.at[3].y)
		b = b.Include(b.Min.Add(geometry.Point{X: u.x + v.x, Y: u.y + v.y}))
	}
	return b
}

// positions returns how many of the points of e, from the first, are positions
// and not directions or sizes.
func (e *entity) positions() int {
	switch e.kind {
	case lineKind:
		return 2
	case fillKind, solidKind, dimensionKind:
		return 4
	}
	return 1
}
