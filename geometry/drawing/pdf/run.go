package pdf

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// maxOperands bounds what stands before an operator.
const maxOperands = 1 << 16

// run interprets a content stream to its end.
func (r *reader) run(c *contentRun) {
	if r.content += len(c.lexer.data); r.content > r.opt.Limits.Content {
		r.stop(limitContent, r.opt.Limits.Content)
		return
	}
	if r.runs++; r.runs > r.opt.Limits.Forms {
		r.stop(limitForms, r.opt.Limits.Forms)
		return
	}
	if c.depth > r.opt.Limits.Depth {
		r.stop(limitDepth, r.opt.Limits.Depth)
		return
	}
	for !r.stopped {
		t := c.lexer.next()
		switch t.kind {
		case endOfContent:
			c.unfinished()
			return
		case anOperator:
			c.operator(t.text)
			c.operands = c.operands[:0]
		default:
			if len(c.operands) == maxOperands {
				r.stop(limitOperands, maxOperands)
				return
			}
			c.operands = append(c.operands, t)
		}
	}
}

// operands are what stands before an operator.
type operands []token

// number returns operand i counted from the last, which is 0.
func (o operands) number(i int) float64 {
	if j := len(o) - 1 - i; j >= 0 {
		return o[j].number
	}
	return 0
}

// name returns the last operand that is a name.
func (o operands) name() string {
	for i := len(o) - 1; i >= 0; i-- {
		if o[i].kind == aName {
			return o[i].text
		}
	}
	return ""
}

// has reports whether there are n operands.
func (o operands) has(n int) bool { return len(o) >= n }

// numeric reports whether the last n operands are numbers.
func (o operands) numeric(n int) bool {
	if len(o) < n {
		return false
	}
	for _, t := range o[len(o)-n:] {
		if t.kind != aNumber {
			return false
		}
	}
	return true
}

// unfinished notes content that ends within an operator or a path: a part is
// likely to be missing.
func (c *contentRun) unfinished() {
	if len(c.operands) > 0 || len(c.path.take()) > 0 {
		c.notes.Add(drawing.ValueUnreadable, "the content ends early", nil)
	}
}

// operator carries out one operator (annex A). One that lacks operands, or has
// something else where numbers belong, is passed over and noted.
func (c *contentRun) operator(op string) {
	n := operandCount(op)
	if !c.has(n) || takesNumbers(op) && !c.numeric(n) {
		c.notes.Add(drawing.ValueUnreadable, "operator "+op, nil)
		return
	}
	switch op {
	case "m", "l", "c", "v", "y", "h", "re":
		c.construct(op)
	case "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n":
		c.paint(op)
	case "W", "W*":
		c.clip = op
	case "q", "Q", "cm", "w", "d", "gs":
		c.setState(op)
	case "CS", "cs", "SC", "SCN", "sc", "scn", "G", "g", "RG", "rg", "K", "k":
		c.setColour(op)
	case "Do":
		c.object(c.name())
	case "BI":
		c.inlineImage()
	case "sh":
		c.shading()
	case "BMC", "BDC", "EMC":
		c.mark(op)
	case "BT", "ET", "Tf", "Tc", "Tw", "Tz", "TL", "Ts", "Tr", "Td", "TD", "Tm", "T*", "Tj", "TJ", "'", "\"":
		c.textOperator(op)
	case "d1":
		c.plain = true
	case "d0", "J", "j", "M", "ri", "i", "MP", "DP", "BX", "EX":
		// nothing that bears on a cut
	default:
		c.notes.Add(drawing.UnknownElement, "operator "+op, nil)
	}
}

// takesNumbers reports whether all operands that an operator needs are numbers.
func takesNumbers(op string) bool {
	switch op {
	case "Do", "gs", "Tf":
		return false
	}
	return true
}

// operandCount returns how many operands an operator needs at least.
func operandCount(op string) int {
	switch op {
	case "w", "g", "G", "Tc", "Tw", "Tz", "TL", "Ts", "Tr", "Do", "gs":
		return 1
	case "m", "l", "Td", "TD", "Tf":
		return 2
	case "rg", "RG":
		return 3
	case "v", "y", "re", "k", "K":
		return 4
	case "c", "cm", "Tm":
		return 6
	}
	return 0
}

func (c *contentRun) construct(op string) {
	v, m, b := c.number, c.state.ctm, &c.path
	before := b.count
	switch op {
	case "m":
		b.moveTo(geometry.Pt(v(1), v(0)), m)
	case "l":
		b.lineTo(geometry.Pt(v(1), v(0)), m)
	case "c":
		b.curveTo(geometry.Pt(v(5), v(4)), geometry.Pt(v(3), v(2)), geometry.Pt(v(1), v(0)), m)
	case "v":
		b.curveTo(b.at, geometry.Pt(v(3), v(2)), geometry.Pt(v(1), v(0)), m)
	case "y":
		end := geometry.Pt(v(1), v(0))
		b.curveTo(geometry.Pt(v(3), v(2)), end, end, m)
	case "h":
		b.closePath()
	case "re":
		b.rectangle(v(3), v(2), v(1), v(0), m)
	}
	if c.segments += b.count - before; c.segments > c.opt.Limits.Segments {
		c.stop(limitSegments, c.opt.Limits.Segments)
	}
}

func (c *contentRun) setState(op string) {
	s := &c.state
	switch op {
	case "q":
		if len(c.saved) >= 4*c.opt.Limits.Depth {
			c.stop(limitDepth, c.opt.Limits.Depth)
			return
		}
		c.saved = append(c.saved, *s)
	case "Q":
		if n := len(c.saved); n > 0 {
			*s, c.saved = c.saved[n-1], c.saved[:n-1]
		}
	case "cm":
		s.ctm = c.matrix().Then(s.ctm)
	case "w":
		s.width = c.number(0)
	case "d":
		var pattern []float64
		for _, t := range c.operands[:max(len(c.operands)-1, 0)] {
			if t.kind == aNumber {
				pattern = append(pattern, t.number)
			}
		}
		s.setDash(pattern)
	case "gs":
		c.parameters(c.dict(c.resource("ExtGState", c.name())))
	}
}

// matrix returns the six last operands.
func (o operands) matrix() geometry.Affine {
	return geometry.Affine{A: o.number(5), B: o.number(4), C: o.number(3), D: o.number(2), E: o.number(1), F: o.number(0)}
}

// parameters sets what a graphics state dictionary holds (8.4.5).
func (c *contentRun) parameters(d types.Dict) {
	s := &c.state
	for key, set := range map[string]*float64{"LW": &s.width, "CA": &s.stroke.alpha, "ca": &s.fill.alpha} {
		if v, ok := c.file.number(d[key]); ok {
			*set = v
		}
	}
	if dash := c.array(d["D"]); len(dash) > 0 {
		s.setDash(c.numbers(dash[0]))
	}
	if mask, ok := d["SMask"]; ok {
		s.masked = c.file.name(mask) != "None"
	}
}

// resource returns a named resource of a kind (7.8.3), nil for none.
func (s scope) resource(kind, name string) types.Object {
	return s.dict(s.resources[kind])[name]
}

// paint ends the current path: it is stroked, filled, both or neither, and
// then clips if W came before (8.5.3 and 8.5.4).
func (c *contentRun) paint(op string) {
	if op == "s" || op == "b" || op == "b*" {
		c.path.closePath()
	}
	paths := c.path.take()
	stroked := op != "n" && op != "f" && op != "F" && op != "f*"
	filled := op != "n" && op != "S" && op != "s"
	rule := drawing.NonZero
	if op == "f*" || op == "B*" || op == "b*" {
		rule = drawing.EvenOdd
	}
	if len(paths) > 0 && (stroked || filled || c.clip == "") {
		c.emit(paths, stroked, filled, rule)
	}
	if c.clip != "" {
		c.clipTo(paths)
		c.clip = ""
	}
}

// clipTo cuts what follows off at the paths. No path at all leaves nothing.
func (c *contentRun) clipTo(paths []geometry.Path) {
	rule := drawing.NonZero
	if c.clip == "W*" {
		rule = drawing.EvenOdd
	}
	regions := []drawing.Region{{Paths: paths, FillRule: rule}}
	c.clipRegions(drawing.Clip{Regions: regions, Source: drawing.Source{Kind: "clip"}})
}

func (c *contentRun) clipRegions(clip drawing.Clip) {
	clips := c.state.clips
	regions, ok := drawing.Windowed(clip.Regions, farthest)
	if !ok {
		c.notes.Add(drawing.OutOfRange, clip.Source.String(), place(clip.Source, "", drawing.Reach(regions[0].Paths, farthest)))
		return
	}
	clip.Regions = regions
	if len(clips) >= maxClips {
		c.stop(limitDepth, c.opt.Limits.Depth)
		return
	}
	c.state.clips = append(clips[:len(clips):len(clips)], c.clips.Add(clip))
}

// maxClips bounds the clips in force at once.
const maxClips = 256
