package svg

import (
	"math"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// outline returns the paths of a shape in its own user units, nothing for any
// other element.
func (r *reader) outline(e *element, o *own, at spot) []geometry.Path {
	switch e.name {
	case "path":
		return r.pathOutline(e, o, at)
	case "rect":
		return r.rectOutline(e, o, at)
	case "circle":
		radius := r.coordinate(e, o, pR, diagonal, at)
		return r.ellipse(e, o, radius, radius, at)
	case "ellipse":
		rx, okX := r.optional(e, o, pRx, across, at)
		ry, okY := r.optional(e, o, pRy, along, at)
		rx, ry = autoRadii(rx, okX, ry, okY)
		return r.ellipse(e, o, rx, ry, at)
	case "line":
		return r.lineOutline(e, at)
	case "polyline", "polygon":
		return r.polyOutline(e, at)
	}
	return nil
}

func (r *reader) pathOutline(e *element, o *own, at spot) []geometry.Path {
	data := o.value(pD)
	if data == "none" {
		return nil
	}
	if inner, css := cssPath(data); css {
		data = inner
	}
	paths, err := geometry.ParsePathDataUpTo(r.b, data, r.opt.Limits.Segments-r.segments+1)
	if err != nil {
		r.notes.Add(drawing.PathDataBroken, err.Error(), place(e, at.layer.name, r.shown(paths, at)))
	}
	return paths
}

// cssPath returns the data in the path() of a style sheet.
func cssPath(value string) (data string, ok bool) {
	inner, ok := strings.CutPrefix(strings.TrimSpace(value), "path(")
	if !ok {
		return value, false
	}
	return unquote(strings.TrimSpace(strings.TrimSuffix(inner, ")"))), true
}

// shown returns where paths in user units lie in the drawing.
func (r *reader) shown(paths []geometry.Path, at spot) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range paths {
		r.b.Spend(1 + len(p.Segments))
		b = b.Union(p.Bounds().Path().Transform(at.ctm.Then(r.flip)).Bounds())
	}
	return b
}

// rectOutline draws a rectangle from its top left corner along the top, as
// SVG 2, section 10.2, has it.
func (r *reader) rectOutline(e *element, o *own, at spot) []geometry.Path {
	x, y := r.coordinate(e, o, pX, across, at), r.coordinate(e, o, pY, along, at)
	w, h := r.coordinate(e, o, pWidth, across, at), r.coordinate(e, o, pHeight, along, at)
	if !(w > 0 && h > 0) {
		return nil
	}
	rx, okX := r.optional(e, o, pRx, across, at)
	ry, okY := r.optional(e, o, pRy, along, at)
	rx, ry = autoRadii(rx, okX, ry, okY)
	rx, ry = math.Min(rx, w/2), math.Min(ry, h/2)
	if !(rx > 0 && ry > 0) {
		return []geometry.Path{geometry.Polygon(geometry.Pt(x, y), geometry.Pt(x+w, y), geometry.Pt(x+w, y+h), geometry.Pt(x, y+h))}
	}
	p := geometry.Path{Start: geometry.Pt(x+rx, y)}
	side := func(lineTo, arcTo geometry.Point) {
		if p.End() != lineTo {
			p.Segments = append(p.Segments, geometry.LineTo(lineTo))
		}
		p.Segments = append(p.Segments, geometry.EndpointArc(lineTo, arcTo, rx, ry, 0, false, true)...)
	}
	side(geometry.Pt(x+w-rx, y), geometry.Pt(x+w, y+ry))
	side(geometry.Pt(x+w, y+h-ry), geometry.Pt(x+w-rx, y+h))
	side(geometry.Pt(x+rx, y+h), geometry.Pt(x, y+h-ry))
	side(geometry.Pt(x, y+ry), geometry.Pt(x+rx, y))
	p.Close()
	return []geometry.Path{p}
}

// autoRadii lets a radius that is not set, or is negative, follow the other:
// SVG 2, section 7.4.
func autoRadii(rx float64, okX bool, ry float64, okY bool) (float64, float64) {
	okX, okY = okX && rx >= 0, okY && ry >= 0
	switch {
	case okX && !okY:
		ry = rx
	case okY && !okX:
		rx = ry
	case !okX && !okY:
		return 0, 0
	}
	return rx, ry
}

func (r *reader) ellipse(e *element, o *own, rx, ry float64, at spot) []geometry.Path {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	c := geometry.Pt(r.coordinate(e, o, pCx, across, at), r.coordinate(e, o, pCy, along, at))
	if rx == ry {
		return []geometry.Path{geometry.Circle(c, rx)}
	}
	p := geometry.Path{Start: geometry.Pt(c.X+rx, c.Y), Closed: true}
	p.Segments = geometry.EllipseArc(c, geometry.Pt(rx, 0), geometry.Pt(0, ry), 0, 2*math.Pi)
	p.Segments[len(p.Segments)-1].End = p.Start
	return []geometry.Path{p}
}

func (r *reader) lineOutline(e *element, at spot) []geometry.Path {
	side := func(name string, a axis) float64 {
		text := e.get(name)
		l, ok := parseLength(text)
		if !ok && text != "" {
			r.notes.Add(drawing.ValueUnreadable, text, place(e, at.layer.name, geometry.EmptyBox()))
		}
		return at.m.px(l, a)
	}
	from := geometry.Pt(side("x1", across), side("y1", along))
	to := geometry.Pt(side("x2", across), side("y2", along))
	return []geometry.Path{geometry.Polyline(from, to)}
}

// polyOutline draws the points up to the first that cannot be read; an odd
// number at the end is dropped.
func (r *reader) polyOutline(e *element, at spot) []geometry.Path {
	v, whole := numbers(r.b, e.get("points"))
	var pts []geometry.Point
	for i := 0; i+1 < len(v); i += 2 {
		pts = append(pts, geometry.Pt(v[i], v[i+1]))
	}
	if !whole || len(v)%2 == 1 {
		r.notes.Add(drawing.PathDataBroken, e.name+" points", place(e, at.layer.name, r.shown([]geometry.Path{geometry.Polyline(pts...)}, at)))
	}
	if len(pts) < 2 {
		return nil
	}
	if e.name == "polygon" {
		return []geometry.Path{geometry.Polygon(pts...)}
	}
	return []geometry.Path{geometry.Polyline(pts...)}
}
