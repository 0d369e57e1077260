package pdf

import (
	"errors"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// object draws an external object (8.8): a form is content of its own, an
// image cannot be cut.
func (c *contentRun) object(name string) {
	ref := c.resource("XObject", name)
	d := c.dict(ref)
	switch c.file.name(d["Subtype"]) {
	case "Image":
		c.image("image " + name)
	case "Form":
		c.form(name, ref, d)
	default:
		c.notes.Add(drawing.MissingReference, name, nil)
	}
}

// form draws a form inside its box (8.10).
func (c *contentRun) form(name string, ref types.Object, d types.Dict) {
	n := id(ref)
	if n != 0 && c.inside[n] {
		c.notes.Add(drawing.CircularReference, "form "+name, nil)
		return
	}
	c.out.Kinds["form"]++
	_, data, err := c.stream(ref)
	if !c.usable("form "+name, err) {
		return
	}
	kind := c.kind
	if kind == "path" {
		kind = "form"
	}
	run := c.child(data, c.dict(d["Resources"]), kind)
	if v := c.numbers(d["Matrix"]); len(v) == 6 {
		m := geometry.Affine{A: v[0], B: v[1], C: v[2], D: v[3], E: v[4], F: v[5]}
		run.state.ctm = m.Then(run.state.ctm)
	}
	if box, ok := c.rectangle(d["BBox"]); ok {
		outline := box.Path().Transform(run.state.ctm)
		run.clipRegions(drawing.Clip{
			Regions: []drawing.Region{{Paths: []geometry.Path{outline}, FillRule: drawing.NonZero}},
			Source:  drawing.Source{Kind: "form", ID: name},
		})
	}
	if oc, ok := d["OC"]; ok {
		run.marks = append(run.marks, c.layers.of(c.file, oc))
	}
	c.inside[n] = true
	c.run(run)
	delete(c.inside, n)
}

// usable notes a stream that could not be unpacked wholly and reports whether
// to go on.
func (r *reader) usable(name string, err error) bool {
	var over *limitError
	switch {
	case errors.As(err, &over):
		r.stop(over.name, over.allowed)
		return false
	case errors.Is(err, errNoStream):
		r.notes.Add(drawing.MissingReference, name, nil)
		return false
	case err != nil:
		r.notes.Add(drawing.ContentBroken, name, nil)
	}
	return true
}

// image notes a picture, which fills the unit square of user space (8.9.3).
func (c *contentRun) image(name string) {
	c.out.Kinds["image"]++
	layer, off := c.marks.layer(c.b)
	if off {
		return
	}
	box := geometry.Box{Max: geometry.Pt(1, 1)}.Path().Transform(c.state.ctm).Bounds()
	kind, rest, _ := strings.Cut(name, " ")
	c.notes.Add(drawing.RasterImage, name, place(drawing.Source{Kind: kind, ID: rest}, layer, box))
}

// shading notes a shading that fills the clip (8.7.4.2).
func (c *contentRun) shading() {
	c.out.Kinds["shading"]++
	layer, off := c.marks.layer(c.b)
	if !off {
		c.notes.Add(drawing.PaintServerUsed, "shading "+c.name(), place(drawing.Source{Kind: "shading"}, layer, geometry.EmptyBox()))
	}
}

// inlineImage passes over an image inside the content (8.9.7).
func (c *contentRun) inlineImage() {
	values := map[string]token{}
	key := ""
	for {
		t := c.lexer.next()
		if t.kind == endOfContent || t.kind == anOperator && t.text == "ID" {
			break
		}
		switch {
		case key == "" && t.kind == aName:
			key = t.text
		case key != "":
			values[key] = t
			key = ""
		}
	}
	c.lexer.skipImage(imageLength(values))
	c.image("inline_image")
}

// imageLength returns the bytes of an inline image without a filter, -1 where
// the dictionary does not tell.
func imageLength(values map[string]token) int {
	get := func(long, short string) (token, bool) {
		t, ok := values[short]
		if !ok {
			t, ok = values[long]
		}
		return t, ok
	}
	w, okW := get("Width", "W")
	h, okH := get("Height", "H")
	if _, packed := get("Filter", "F"); packed || !okW || !okH {
		return -1
	}
	bits, ok := get("BitsPerComponent", "BPC")
	if mask, is := get("ImageMask", "IM"); !ok || is && mask.text == "true" {
		bits.number = 1
	}
	components := 1.0
	if cs, ok := get("ColorSpace", "CS"); ok {
		switch cs.text {
		case "RGB", "DeviceRGB":
			components = 3
		case "CMYK", "DeviceCMYK":
			components = 4
		}
	}
	row := (w.number*bits.number*components + 7) / 8
	const most = 1 << 16 // inline images are small: 8.9.7 advises 4 KB
	if n := float64(int(min(row, most))) * h.number; n >= 0 && n < most {
		return int(n)
	}
	return -1
}
