package svg

import (
	"math"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// outline returns the paths of a shape in its own user units, nothing for any
// other element.
func (f *figure) outline() []geometry.Path {
	switch f.e.name {
	case "path":
		return f.pathOutline()
	case "rect":
		return f.rectOutline()
	case "circle":
		radius := f.coordinate(pR, diagonal)
		return f.ellipse(radius, radius)
	case "ellipse":
		rx, okX := f.optional(pRx, across)
		ry, okY := f.optional(pRy, along)
		rx, ry = autoRadii(rx, okX, ry, okY)
		return f.ellipse(rx, ry)
	case "line":
		return f.lineOutline()
	case "polyline", "polygon":
		return f.polyOutline()
	}
	return nil
}

func (f *figure) pathOutline() []geometry.Path {
	data := f.o.value(pD)
	if data == "none" {
		return nil
	}
	if inner, css := cssPath(data); css {
		data = inner
	}
	paths, err := geometry.ParsePathDataUpTo(f.b, data, f.most)
	if err != nil {
		f.notes.Add(drawing.PathDataBroken, err.Error(), place(f.e, f.at.layer.name, f.shown(paths)))
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
func (f *figure) shown(paths []geometry.Path) geometry.Box {
	b := geometry.EmptyBox()
	for _, p := range paths {
		f.b.Spend(1 + len(p.Segments))
		b = b.Union(p.Bounds().Path().Transform(f.at.ctm.Then(f.flip)).Bounds())
	}
	return b
}

// rectOutline draws a rectangle from its top left corner along the top, as
// SVG 2, section 10.2, has it.
func (f *figure) rectOutline() []geometry.Path {
	x, y := f.coordinate(pX, across), f.coordinate(pY, along)
	w, h := f.coordinate(pWidth, across), f.coordinate(pHeight, along)
	if !(w > 0 && h > 0) {
		return nil
	}
	rx, okX := f.optional(pRx, across)
	ry, okY := f.optional(pRy, along)
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

func (f *figure) ellipse(rx, ry float64) []geometry.Path {
	if !(rx > 0 && ry > 0) {
		return nil
	}
	c := geometry.Pt(f.coordinate(pCx, across), f.coordinate(pCy, along))
	if rx == ry {
		return []geometry.Path{geometry.Circle(c, rx)}
	}
	p := geometry.Path{Start: geometry.Pt(c.X+rx, c.Y), Closed: true}
	p.Segments = geometry.EllipseArc(c, geometry.Pt(rx, 0), geometry.Pt(0, ry), 0, 2*math.Pi)
	p.Segments[len(p.Segments)-1].End = p.Start
	return []geometry.Path{p}
}

func (f *figure) lineOutline() []geometry.Path {
	side := func(name string, a axis) float64 {
		text := f.e.get(name)
		l, ok := parseLength(text)
		if !ok && text != "" {
			f.notes.Add(drawing.ValueUnreadable, text, place(f.e, f.at.layer.name, geometry.EmptyBox()))
		}
		return f.at.m.px(l, a)
	}
	from := geometry.Pt(side("x1", across), side("y1", along))
	to := geometry.Pt(side("x2", across), side("y2", along))
	return []geometry.Path{geometry.Polyline(from, to)}
}

// polyOutline draws the points up to the first that cannot be read; an odd
// number at the end is dropped.
func (f *figure) polyOutline() []geometry.Path {
	v, whole := numbers(f.b, f.e.get("points"))
	var pts []geometry.Point
	for i := 0; i+1 < len(v); i += 2 {
		pts = append(pts, geometry.Pt(v[i], v[i+1]))
	}
	if !whole || len(v)%2 == 1 {
		f.notes.Add(drawing.PathDataBroken, f.e.name+" points", place(f.e, f.at.layer.name, f.shown([]geometry.Path{geometry.Polyline(pts...)})))
	}
	if len(pts) < 2 {
		return nil
	}
	if f.e.name == "polygon" {
		return []geometry.Path{geometry.Polygon(pts...)}
	}
	return []geometry.Path{geometry.Polyline(pts...)}
}
