package svg

import (
	"fmt"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// canvas is the drawing that is being made and how the file lies in it.
type canvas struct {
	notes     *drawing.Notes
	out       *drawing.Drawing
	flip      geometry.Affine // pixels with y down to pixels with y up
	rootScale float64         // pixels in a user unit of the outermost svg
	layers    map[string]int  // place in out.Layers
	flips     int             // shapes that a plain turn of y has turned over
}

// add puts a shape into the drawing.
func (c *canvas) add(s drawing.Shape, flipped bool) {
	c.out.Shapes = append(c.out.Shapes, s)
	if flipped && s.Mirrored {
		c.flips++
	}
}

// settleFlips takes a turn of y that all shapes share for what it is: the file
// counts y upwards, and nothing in it is mirrored against the rest.
func (c *canvas) settleFlips() {
	if c.flips < len(c.out.Shapes) {
		return
	}
	for i := range c.out.Shapes {
		c.out.Shapes[i].Mirrored = false
	}
}

// rootSize settles the size of the outermost viewport in pixels and with it
// the page and the line that y is turned about. A side that is missing follows
// from the view box; where there is none either, percentages take the 300 by
// 150 of CSS 2.2, section 10.3.2, and known is false.
func (c *canvas) rootSize(o *own, box geometry.Box, boxed bool, m measure) (w, h float64, known bool) {
	w, okW := c.rootSide(o, pWidth, m)
	h, okH := c.rootSide(o, pHeight, m)
	if boxed {
		switch {
		case okW && !okH:
			h = w * box.Height() / box.Width()
		case okH && !okW:
			w = h * box.Width() / box.Height()
		case !okW && !okH:
			w, h = box.Width(), box.Height()
		}
		okW, okH = true, true
	}
	if boxed && (!within(w) || !within(h)) {
		c.notes.Add(drawing.ValueUnreadable, "size of the page", nil)
		w, h, okW = 300, 150, false
	}
	c.flip = geometry.Affine{A: 1, D: -1, F: h}
	if okW && okH {
		c.out.Page = &geometry.Box{Max: geometry.Pt(w, h)}
		return w, h, true
	}
	if !okW {
		w = 300
	}
	if !okH {
		h = 150
	}
	return w, h, false
}

// rootSide returns the width or height of the file in pixels and notes what
// the file says of its unit. Percentages of nothing count as missing.
func (c *canvas) rootSide(o *own, p property, m measure) (float64, bool) {
	text := strings.TrimSpace(o.value(p))
	name := map[property]string{pWidth: "width", pHeight: "height"}[p]
	l, ok := parseLength(text)
	px := 0.0
	if ok = ok && l.unit != "%" && !strings.HasPrefix(l.unit, "v"); ok { // a part of the window has no size, and none is missed
		px = m.px(l, across)
	}
	if ok && !within(px) && l.value != 0 {
		c.notes.Add(drawing.ValueUnreadable, fmt.Sprintf("%s=%q", name, text), nil)
		ok = false
	}
	if !ok || !(l.value > 0) {
		if c.out.Unit.Source == "" {
			c.out.Unit.Source = "no " + name
		}
		return 0, false
	}
	if u := &c.out.Unit; !u.Declared && (u.Source == "" || l.physical()) {
		u.Source = fmt.Sprintf("%s=%q", name, text)
	}
	c.out.Unit.Declared = c.out.Unit.Declared || l.physical()
	return px, true
}

// nested returns the scale of the places inside the file; rounding errors of
// float64 count as none.
func (c *canvas) nested(ctm geometry.Affine) float64 {
	k := ctm.MeanScale() / c.rootScale
	const slack = 1e-9
	if k > 1-slack && k < 1+slack {
		return 1
	}
	return k
}
