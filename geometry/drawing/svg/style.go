package svg

import (
	"strings"

	"knifedesk/geometry/drawing"
)

// paintKind says what a shape is painted with.
type paintKind uint8

const (
	paintNone paintKind = iota
	paintColour
	paintCurrent // the value of the property color
	paintServer  // a gradient or pattern
)

// paint is the value of fill or stroke.
type paint struct {
	kind   paintKind
	colour rgba
	server string // id of the gradient or pattern
}

// inherited are the properties that pass from an element to its children.
type inherited struct {
	fill, stroke               paint
	color                      rgba
	fillOpacity, strokeOpacity float64
	fillRule, clipRule         drawing.FillRule
	strokeWidth                length
	dashed                     bool
	dashDot                    bool // its dashes are of two lengths
	hidden                     bool // visibility
	markers                    [3]bool
	font                       float64 // size in user units
}

// own are the properties of one element that its children do not inherit.
type own struct {
	gone        bool // display: none
	opacity     float64
	clipPath    string // id, empty for none
	clipShape   bool   // a shape of CSS clips
	mask        bool
	filter      bool
	overflow    string
	fixedStroke bool // vector-effect: non-scaling-stroke
	transform   *declaration
	moves       [3]string // translate, rotate and scale of CSS Transforms 2, section 5
	offset      bool      // a path of CSS moves it
	origin, box string
	stop        paint
	geometry    [properties - pX]string // empty where not set
}

// initial are the initial values: CSS Cascading 4 and SVG 2, chapter 13.
func initial() inherited {
	black := rgba{alpha: 1}
	return inherited{
		fill: paint{kind: paintColour, colour: black}, color: black,
		fillOpacity: 1, strokeOpacity: 1, fillRule: drawing.NonZero, clipRule: drawing.NonZero,
		strokeWidth: length{1, ""}, font: 16,
	}
}

// styleOf computes the style of e under its parent's.
func (c *cascade) styleOf(e *element, parent inherited, m measure) (inherited, own) {
	in := parent
	o := own{opacity: 1}
	c.declarations(e, func(d declaration) {
		switch {
		case d.property >= pX:
			o.geometry[d.property-pX] = d.value
		case d.property >= pDisplay:
			o.set(d)
		default:
			in.set(d, parent, m)
		}
	})
	return in, o
}

// set gives an inherited property its declared value. A value that cannot be
// read leaves the one before it, as CSS has it.
func (in *inherited) set(d declaration, parent inherited, m measure) {
	v := strings.TrimSpace(d.value)
	low := strings.ToLower(v)
	if whole, ok := wideKeyword(low, parent); ok {
		in.copy(d.property, whole)
		return
	}
	switch d.property {
	case pFill:
		setPaint(&in.fill, v)
	case pStroke:
		setPaint(&in.stroke, v)
	case pColor:
		if c, ok := parseColour(v); ok {
			in.color = c
		}
	case pFillOpacity:
		setOpacity(&in.fillOpacity, v)
	case pStrokeOpacity:
		setOpacity(&in.strokeOpacity, v)
	case pFillRule:
		setRule(&in.fillRule, low)
	case pClipRule:
		setRule(&in.clipRule, low)
	case pStrokeWidth:
		if l, ok := parseLength(v); ok && l.value >= 0 {
			in.strokeWidth = l
		}
	case pStrokeDasharray:
		in.dashed, in.dashDot = dashes(low)
	case pVisibility:
		in.hidden = low == "hidden" || low == "collapse"
	case pMarker:
		is := strings.HasPrefix(low, "url(")
		in.markers = [3]bool{is, is, is}
	case pMarkerStart, pMarkerMid, pMarkerEnd:
		in.markers[d.property-pMarkerStart] = strings.HasPrefix(low, "url(")
	case pFontSize:
		in.setFont(low, parent.font, m)
	}
}

// wideKeyword returns the style that a CSS-wide keyword takes the value from.
func wideKeyword(low string, parent inherited) (inherited, bool) {
	switch low {
	case "inherit", "unset", "revert":
		return parent, true
	case "initial":
		return initial(), true
	}
	return inherited{}, false
}

// copy takes one property over from another style.
func (in *inherited) copy(p property, from inherited) {
	switch p {
	case pFill:
		in.fill = from.fill
	case pStroke:
		in.stroke = from.stroke
	case pColor:
		in.color = from.color
	case pFillOpacity:
		in.fillOpacity = from.fillOpacity
	case pStrokeOpacity:
		in.strokeOpacity = from.strokeOpacity
	case pFillRule:
		in.fillRule = from.fillRule
	case pClipRule:
		in.clipRule = from.clipRule
	case pStrokeWidth:
		in.strokeWidth = from.strokeWidth
	case pStrokeDasharray:
		in.dashed, in.dashDot = from.dashed, from.dashDot
	case pVisibility:
		in.hidden = from.hidden
	case pMarker:
		in.markers = from.markers
	case pMarkerStart, pMarkerMid, pMarkerEnd:
		in.markers[p-pMarkerStart] = from.markers[p-pMarkerStart]
	case pFontSize:
		in.font = from.font
	}
}

// setPaint reads a paint: none, a colour, or a server with something to fall
// back on (SVG 2, section 13.2).
func setPaint(p *paint, v string) {
	low := strings.ToLower(v)
	switch {
	case low == "none":
		*p = paint{}
	case low == "currentcolor":
		*p = paint{kind: paintCurrent}
	case strings.HasPrefix(low, "context-"): // only a marker has a context
		*p = paint{}
	case strings.HasPrefix(low, "url("):
		end := strings.IndexByte(v, ')')
		if end < 0 {
			return
		}
		server := paint{kind: paintServer, server: reference(v[4:end])}
		if c, ok := parseColour(v[end+1:]); ok {
			server.colour = c
		}
		*p = server
	default:
		if c, ok := parseColour(v); ok {
			*p = paint{kind: paintColour, colour: c}
		}
	}
}

// reference returns the id in the text between the brackets of url().
func reference(v string) string {
	id, local := strings.CutPrefix(unquote(strings.TrimSpace(v)), "#")
	if !local {
		return ""
	}
	return id
}

func setOpacity(v *float64, s string) {
	if l, ok := parseLength(s); ok && (l.unit == "" || l.unit == "%") {
		if l.unit == "%" {
			l.value /= 100
		}
		*v = unit(l.value)
	}
}

func setRule(r *drawing.FillRule, low string) {
	if low == string(drawing.NonZero) || low == string(drawing.EvenOdd) {
		*r = drawing.FillRule(low)
	}
}

// dashes reports whether a dash pattern leaves gaps, and whether its dashes are of two
// lengths: one with a length that is negative, or with nothing but zeros, is drawn as a
// whole line.
func dashes(low string) (dashed, dashDot bool) {
	sum := 0.0
	var pattern []float64
	for w := range strings.FieldsFuncSeq(low, func(r rune) bool { return r == ',' || r == ' ' || r == '\t' || r == '\n' || r == '\r' }) {
		l, ok := parseLength(w)
		if !ok || l.value < 0 {
			return false, false
		}
		sum += l.value
		pattern = append(pattern, l.value)
	}
	return sum > 0, sum > 0 && drawing.DashDot(drawing.DashesOf(pattern))
}

func (in *inherited) setFont(low string, parent float64, m measure) {
	sizes := map[string]float64{ // CSS Fonts 4, section 2.5
		"xx-small": 9, "x-small": 10, "small": 13, "medium": 16, "large": 18, "x-large": 24, "xx-large": 32,
		"larger": parent * 1.2, "smaller": parent / 1.2,
	}
	if px, ok := sizes[low]; ok {
		in.font = px
		return
	}
	l, ok := parseLength(low)
	if !ok || l.value < 0 {
		return
	}
	m.font = parent
	if l.unit == "%" {
		l = length{l.value / 100, "em"}
	}
	in.font = m.px(l, along)
}

// set gives a property that is not inherited its declared value.
func (o *own) set(d declaration) {
	v := strings.TrimSpace(d.value)
	low := strings.ToLower(v)
	switch d.property {
	case pDisplay:
		o.gone = low == "none"
	case pOpacity:
		setOpacity(&o.opacity, v)
	case pClipPath:
		o.clipPath, o.clipShape = "", strings.Contains(low, "(") && !strings.HasPrefix(low, "url(")
		if end := strings.IndexByte(v, ')'); strings.HasPrefix(low, "url(") && end > 0 {
			o.clipPath = reference(v[4:end])
		}
	case pMask:
		o.mask = strings.HasPrefix(low, "url(")
	case pFilter:
		o.filter = low != "none" && low != ""
	case pOverflow:
		o.overflow = low
	case pVectorEffect:
		o.fixedStroke = strings.Contains(low, "non-scaling-stroke")
	case pTransform:
		o.transform = &declaration{d.property, d.attr, v}
	case pTranslate, pRotate, pScale:
		o.moves[d.property-pTranslate] = low
	case pOffset:
		o.offset = low != "none" && low != "auto" && low != ""
	case pTransformOrigin:
		o.origin = low
	case pTransformBox:
		o.box = low
	case pStopColor:
		setPaint(&o.stop, v)
	}
}

// value returns the declared value of a geometry property, empty for none.
func (o *own) value(p property) string { return o.geometry[p-pX] }
