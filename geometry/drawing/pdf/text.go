package pdf

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// Text rendering modes (9.3.6).
const (
	modeInvisible = 3
	modeClip      = 7
)

// textOperator carries out the text operators (9.4).
func (c *contentRun) textOperator(op string) {
	t := &c.state.text
	v := c.number
	switch op {
	case "BT":
		c.text, c.line = geometry.Identity, geometry.Identity
	case "Td":
		c.newLine(v(1), v(0))
	case "TD":
		t.leading = -v(0)
		c.newLine(v(1), v(0))
	case "Tm":
		c.line = c.matrix()
		c.text = c.line
	case "T*":
		c.newLine(0, -t.leading)
	case "Tj", "TJ":
		c.show()
	case "'":
		c.newLine(0, -t.leading)
		c.show()
	case "\"":
		t.wordSpace, t.charSpace = v(2), v(1)
		c.newLine(0, -t.leading)
		c.show()
	default:
		c.textParameter(op)
	}
}

// textParameter carries out the operators that set one parameter (9.3).
func (c *contentRun) textParameter(op string) {
	t := &c.state.text
	v := c.number
	switch op {
	case "Tf":
		t.font, t.face, t.size = c.dict(c.resource("Font", c.name())), nil, v(0)
	case "Tc":
		t.charSpace = v(0)
	case "Tw":
		t.wordSpace = v(0)
	case "Tz":
		t.scale = v(0) / 100
	case "TL":
		t.leading = v(0)
	case "Ts":
		t.rise = v(0)
	case "Tr":
		t.mode = int(v(0))
	}
}

// newLine moves to the start of another line, from that of this one.
func (t *textMatrices) newLine(x, y float64) {
	t.line = geometry.Translate(x, y).Then(t.line)
	t.text = t.line
}

// show draws the strings among the operands; numbers move by thousandths of
// the font size.
func (c *contentRun) show() {
	t := &c.state.text
	if c.file.name(t.font["Subtype"]) != "Type3" {
		c.live()
		return
	}
	if t.face == nil {
		t.face = c.glyphs(t.font)
	}
	for _, o := range c.operands {
		switch o.kind {
		case aNumber:
			c.advance(-o.number / 1000 * t.size * t.scale)
		case aString:
			for i := 0; i < len(o.text) && !c.stopped; i++ {
				c.glyph(t.face, o.text[i])
			}
		}
	}
}

// advance moves on along the line.
func (t *textMatrices) advance(tx float64) {
	t.text = geometry.Translate(tx, 0).Then(t.text)
}

// live notes letters that have no outline in the file's content.
func (c *contentRun) live() {
	c.out.Kinds["text"]++
	t := &c.state.text
	layer, off := c.marks.layer(c.b)
	empty := true
	for _, o := range c.operands {
		empty = empty && (o.kind != aString || o.text == "")
	}
	if off || empty || t.mode == modeInvisible {
		return
	}
	m := c.text.Then(c.state.ctm)
	box := geometry.BoxAround(m.Apply(geometry.Pt(0, t.rise)), m.Apply(geometry.Pt(0, t.rise+t.size)))
	here := place(drawing.Source{Kind: "text"}, layer, box)
	if t.mode == modeClip {
		c.notes.Add(drawing.ClipPathUsed, "text", here)
		return
	}
	c.notes.AddOn(drawing.LiveText, layer, c.file.name(t.font["BaseFont"]), here)
}

// face is a Type 3 font (9.6.5): glyphs that are drawings.
type face struct {
	matrix geometry.Affine
	procs  types.Dict
	names  map[byte]string
	first  int
	widths []float64
	font   types.Dict
}

func (r *reader) glyphs(font types.Dict) *face {
	f := &face{matrix: geometry.Scale(0.001, 0.001), font: font, procs: r.dict(font["CharProcs"]), names: map[byte]string{}}
	if v := r.numbers(font["FontMatrix"]); len(v) == 6 {
		f.matrix = geometry.Affine{A: v[0], B: v[1], C: v[2], D: v[3], E: v[4], F: v[5]}
	}
	first, _ := r.file.number(font["FirstChar"])
	f.first, f.widths = int(first), r.numbers(font["Widths"])
	code := 0
	differences := r.array(r.dict(font["Encoding"])["Differences"])
	r.content += 8 * (len(differences) + len(f.widths)) // so that fonts set over and over count as work
	for _, o := range differences {
		r.b.Step()
		if n, ok := r.file.number(o); ok {
			code = int(n)
			continue
		}
		f.names[byte(code)] = r.file.name(o)
		code++
	}
	return f
}

// glyph draws one glyph and moves on by its width (9.4.4).
func (c *contentRun) glyph(f *face, code byte) {
	t := &c.state.text
	proc := f.procs[f.names[code]]
	n := id(proc)
	_, data, err := c.stream(proc)
	switch {
	case t.mode == modeInvisible:
	case n != 0 && c.inside[-n]:
		c.notes.Add(drawing.CircularReference, "glyph "+f.names[code], nil)
	case proc != nil && c.usable("glyph "+f.names[code], err):
		run := c.child(data, c.dict(f.font["Resources"]), "glyph")
		size := geometry.Affine{A: t.size * t.scale, D: t.size, F: t.rise}
		run.state.ctm = f.matrix.Then(size).Then(c.text).Then(c.state.ctm)
		c.inside[-n] = true
		c.run(run)
		delete(c.inside, -n)
	}
	width := 0.0
	if i := int(code) - f.first; i >= 0 && i < len(f.widths) {
		width = f.matrix.ApplyVector(geometry.Pt(f.widths[i], 0)).X
	}
	tx := width*t.size + t.charSpace
	if code == ' ' {
		tx += t.wordSpace
	}
	c.advance(tx * t.scale)
}
