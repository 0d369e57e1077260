package pdf

import (
	"math"

	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// family is a kind of colour space (8.6).
type family uint8

const (
	gray family = iota
	rgb
	cmyk
	lab
	indexed
	tint // Separation and DeviceN
	pattern
	nothing // the colorant None, which paints nothing
)

// space is a colour space.
type space struct {
	family family
	n      int          // components
	base   *space       // of an indexed space and of a pattern, alternate of a tint
	table  []byte       // of an indexed space
	tint   types.Object // function of a tint
	white  [3]float64   // of Lab
	bounds []float64    // range of a and b in Lab
}

// device returns the device space with so many components, nil where there is
// none.
func device(components int) *space {
	switch components {
	case 1:
		return &space{family: gray, n: 1}
	case 3:
		return &space{family: rgb, n: 3}
	case 4:
		return &space{family: cmyk, n: 4}
	}
	return nil
}

// spaceOf reads a colour space, nil where it makes no sense.
func (in scope) spaceOf(o types.Object, depth int) *space {
	const deepest = 8
	if depth > deepest {
		return nil
	}
	n := id(o)
	if s, seen := in.spaces[n]; seen && n != 0 {
		return s
	}
	var s *space
	switch v := in.get(o).(type) {
	case types.Name:
		s = in.namedSpace(string(v), depth)
	case types.Array:
		if len(v) > 0 {
			s = in.arraySpace(v, depth)
		}
	}
	if n != 0 {
		in.spaces[n] = s
	}
	return s
}

func (in scope) namedSpace(name string, depth int) *space {
	switch name {
	case "DeviceGray", "G", "CalGray":
		return device(1)
	case "DeviceRGB", "RGB", "CalRGB":
		return device(3)
	case "DeviceCMYK", "CMYK":
		return device(4)
	case "Pattern":
		return &space{family: pattern}
	}
	if o := in.resource("ColorSpace", name); o != nil {
		return in.spaceOf(o, depth+1)
	}
	return nil
}

func (in scope) arraySpace(a types.Array, depth int) *space {
	at := func(i int) types.Object {
		if i < len(a) {
			return a[i]
		}
		return nil
	}
	switch kind := in.file.name(a[0]); kind {
	case "ICCBased": // the device space with as many components stands for the profile
		n, _ := in.file.number(in.dict(at(1))["N"])
		return device(int(n))
	case "Lab":
		d := in.dict(at(1))
		s := &space{family: lab, n: 3, white: [3]float64{0.9505, 1, 1.089}, bounds: in.numbers(d["Range"])}
		if w := in.numbers(d["WhitePoint"]); len(w) == 3 {
			copy(s.white[:], w)
		}
		return s
	case "Indexed", "I":
		return in.indexedSpace(at(1), at(3), depth)
	case "Separation", "DeviceN":
		names := in.array(at(1))
		if kind == "Separation" {
			names = types.Array{at(1)}
		}
		s := &space{family: tint, n: len(names), base: in.spaceOf(at(2), depth+1), tint: at(3)}
		if kind == "Separation" && in.file.name(at(1)) == "None" {
			s.family = nothing
		}
		return s
	case "Pattern":
		return &space{family: pattern, base: in.spaceOf(at(1), depth+1)}
	default:
		return in.namedSpace(kind, depth)
	}
}

func (in scope) indexedSpace(base, table types.Object, depth int) *space {
	s := &space{family: indexed, n: 1, base: in.spaceOf(base, depth+1)}
	switch v := in.get(table).(type) {
	case types.StringLiteral:
		s.table, _ = types.Unescape(string(v))
	case types.HexLiteral:
		s.table, _ = v.Bytes()
	case types.StreamDict:
		_, s.table, _ = in.stream(table)
	}
	return s
}

// start returns the values that a space begins with (8.6.8, CS).
func (s *space) start() []float64 {
	v := make([]float64, s.n)
	switch s.family {
	case cmyk:
		v[3] = 1
	case tint:
		for i := range v {
			v[i] = 1
		}
	}
	return v
}

// converter turns colours into RGB, and evaluates the functions that the file
// has for that.
type converter struct{ *reader }

// colour returns what an ink looks like, nil for nothing.
func (c converter) colour(i ink) *drawing.Colour {
	if i.alpha <= 0 || i.space == nil || i.space.family == nothing {
		return nil
	}
	if i.pattern {
		return drawing.RGB(128, 128, 128) // stands for all of the pattern
	}
	col, ok := c.convert(i.space, i.values)
	if !ok {
		return drawing.RGB(0, 0, 0)
	}
	return &col
}

// convert turns values of a space into RGB: 10.3 for the device spaces.
func (c converter) convert(s *space, v []float64) (drawing.Colour, bool) {
	if s == nil || len(v) < s.n {
		return drawing.Colour{}, false
	}
	switch s.family {
	case gray:
		return toRGB(v[0], v[0], v[0]), true
	case rgb:
		return toRGB(v[0], v[1], v[2]), true
	case cmyk:
		return toRGB(1-math.Min(1, v[0]+v[3]), 1-math.Min(1, v[1]+v[3]), 1-math.Min(1, v[2]+v[3])), true
	case lab:
		return s.fromLab(v), true
	case indexed:
		return c.fromTable(s, v[0])
	case tint:
		out := c.evaluate(s.tint, v, 0)
		return c.convert(s.base, out)
	}
	return drawing.Colour{}, false
}

func (s *space) fromLab(v []float64) drawing.Colour {
	a, b := v[1], v[2]
	if len(s.bounds) == 4 {
		a = math.Max(s.bounds[0], math.Min(s.bounds[1], a))
		b = math.Max(s.bounds[2], math.Min(s.bounds[3], b))
	}
	return drawing.FromLab(v[0], a, b, s.white)
}

func (c converter) fromTable(s *space, v float64) (drawing.Colour, bool) {
	if s.base == nil || s.base.n == 0 || len(s.table) < s.base.n {
		return drawing.Colour{}, false
	}
	last := len(s.table)/s.base.n - 1
	i := int(math.Max(0, math.Min(float64(last), v)))
	values := make([]float64, s.base.n)
	for k := range values {
		values[k] = float64(s.table[i*s.base.n+k]) / 255
	}
	if s.base.family == lab {
		values[0] *= 100
		values[1] = values[1]*255 - 128
		values[2] = values[2]*255 - 128
	}
	return c.convert(s.base, values)
}

func toRGB(r, g, b float64) drawing.Colour {
	byteOf := func(v float64) uint8 { return uint8(math.Max(0, math.Min(1, v))*255 + 0.5) }
	return drawing.Colour{R: byteOf(r), G: byteOf(g), B: byteOf(b)}
}

// setColour carries out the colour operators (8.6.8).
func (c *contentRun) setColour(op string) {
	if c.plain {
		return
	}
	target := &c.state.fill
	if op[0] < 'a' {
		target = &c.state.stroke
	}
	switch op {
	case "G", "g", "RG", "rg", "K", "k":
		target.space, target.pattern = device(operandCount(op)), false
		target.values = c.values(target.space.n)
	case "CS", "cs":
		target.space = c.namedSpace(c.name(), 0)
		if target.space == nil {
			target.space = device(1)
		}
		target.values = target.space.start()
		target.pattern = target.space.family == pattern
	default:
		target.pattern = target.space != nil && target.space.family == pattern
		if n := target.space.n; !target.pattern && len(c.operands) >= n {
			target.values = c.values(n)
		}
	}
}

// values returns the last n operands.
func (o operands) values(n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = o.number(n - 1 - i)
	}
	return v
}
