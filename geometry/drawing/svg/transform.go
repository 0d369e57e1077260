package svg

import (
	"math"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// parseTransform reads a list of transform functions. In a style sheet (css)
// arguments carry units and are parted by commas (CSS Transforms 1, section
// 9); the attribute has plain numbers (section 7). It reports whether the
// whole list could be read.
func parseTransform(b *budget.Budget, s string, css bool, m measure) (chain, bool) {
	total := unmoved()
	rest := strings.TrimSpace(s)
	if rest == "" || strings.EqualFold(rest, "none") {
		return total, true
	}
	for rest != "" {
		b.Step()
		name, args, after, ok := nextFunction(rest)
		if !ok {
			return unmoved(), false
		}
		f, ok := transformFunction(b, name, args, css, m)
		if !ok {
			return unmoved(), false
		}
		total.add(f)
		rest = strings.TrimLeft(after, " \t\r\n\f")
		if !css && total.Affine != geometry.Identity {
			rest = strings.TrimLeft(rest, ", \t\r\n\f")
		}
	}
	return total, true
}

// nextFunction splits off one function such as rotate(45 10 10).
func nextFunction(s string) (name, args, rest string, ok bool) {
	open := strings.IndexByte(s, '(')
	end := strings.IndexByte(s, ')')
	if open <= 0 || end < open {
		return "", "", "", false
	}
	return strings.TrimSpace(s[:open]), s[open+1 : end], s[end+1:], true
}

// argument is one argument of a transform function: a plain number, a length
// or an angle.
type argument struct {
	value float64
	unit  string // "" for a plain number, "deg" for any angle, "px" for any length
}

// call is a transform function by its name and the number of its arguments.
type call struct {
	name string
	n    int
}

func transformFunction(b *budget.Budget, name, text string, css bool, m measure) (geometry.Affine, bool) {
	args, ok := arguments(b, name, text, css, m)
	if !ok {
		return geometry.Identity, false
	}
	if css {
		name = strings.ToLower(name)
	}
	v := func(i int) float64 { return args[i].value }
	switch (call{name, len(args)}) {
	case call{"matrix", 6}:
		return geometry.Affine{A: v(0), B: v(1), C: v(2), D: v(3), E: v(4), F: v(5)}, true
	case call{"translate", 1}:
		return geometry.Translate(v(0), 0), true
	case call{"translate", 2}:
		return geometry.Translate(v(0), v(1)), true
	case call{"scale", 1}:
		return geometry.Scale(v(0), v(0)), true
	case call{"scale", 2}:
		return geometry.Scale(v(0), v(1)), true
	case call{"rotate", 1}:
		return geometry.Rotate(v(0) * math.Pi / 180), true
	case call{"rotate", 3}: // about a point, in attributes alone
		return about(geometry.Rotate(v(0)*math.Pi/180), geometry.Pt(v(1), v(2))), !css
	case call{"skewX", 1}, call{"skewx", 1}:
		return geometry.Affine{A: 1, C: math.Tan(v(0) * math.Pi / 180), D: 1}, true
	case call{"skewY", 1}, call{"skewy", 1}:
		return geometry.Affine{A: 1, B: math.Tan(v(0) * math.Pi / 180), D: 1}, true
	}
	if css {
		return cssFunction(name, args)
	}
	return geometry.Identity, false
}

// cssFunction reads the functions that only style sheets have.
func cssFunction(name string, args []argument) (geometry.Affine, bool) {
	switch (call{name, len(args)}) {
	case call{"translatex", 1}:
		return geometry.Translate(args[0].value, 0), true
	case call{"translatey", 1}:
		return geometry.Translate(0, args[0].value), true
	case call{"scalex", 1}:
		return geometry.Scale(args[0].value, 1), true
	case call{"scaley", 1}:
		return geometry.Scale(1, args[0].value), true
	case call{"skew", 1}:
		return geometry.Affine{A: 1, C: math.Tan(args[0].value * math.Pi / 180), D: 1}, true
	case call{"skew", 2}:
		return geometry.Affine{A: 1, B: math.Tan(args[1].value * math.Pi / 180), C: math.Tan(args[0].value * math.Pi / 180), D: 1}, true
	}
	return geometry.Identity, false
}

// about returns f with the point p as its origin.
func about(f geometry.Affine, p geometry.Point) geometry.Affine {
	return geometry.Translate(-p.X, -p.Y).Then(f).Then(geometry.Translate(p.X, p.Y))
}

// about returns the maps of c with the point p as their origin.
func (c chain) about(p geometry.Point) chain { return chain{about(c.Affine, p), c.plain} }

func arguments(b *budget.Budget, name, text string, css bool, m measure) ([]argument, bool) {
	if !css {
		vs, whole := numbers(b, text)
		args := make([]argument, len(vs))
		for i, v := range vs {
			args[i].value = v
		}
		return args, whole
	}
	var args []argument
	for i, word := range strings.Split(text, ",") {
		a, ok := cssArgument(strings.TrimSpace(word), axis(i&1), strings.EqualFold(name, "translatey"), m)
		if !ok || !a.fits(strings.ToLower(name)) {
			return nil, false
		}
		args = append(args, a)
	}
	return args, true
}

func cssArgument(word string, a axis, vertical bool, m measure) (argument, bool) {
	v, end, ok := number(word, 0)
	if !ok {
		return argument{}, false
	}
	unit := strings.ToLower(word[end:])
	if k, angle := degrees(unit); angle {
		return argument{v * k, "deg"}, true
	}
	if unit == "" {
		return argument{v, ""}, true
	}
	l, ok := parseLength(word)
	if vertical {
		a = along
	}
	return argument{m.px(l, a), "px"}, ok
}

// fits reports whether the argument has the unit that the function asks for.
// A zero may stand without one.
func (a argument) fits(function string) bool {
	want := ""
	switch {
	case strings.HasPrefix(function, "translate"):
		want = "px"
	case strings.HasPrefix(function, "rotate"), strings.HasPrefix(function, "skew"):
		want = "deg"
	}
	return a.unit == want || a.unit == "" && a.value == 0
}

// parseOrigin reads a transform-origin in a reference box.
func parseOrigin(s string, box geometry.Box, m measure) (geometry.Point, bool) {
	words := strings.Fields(strings.ToLower(s))
	if len(words) == 0 || len(words) > 3 { // a third one is the depth
		return geometry.Point{}, false
	}
	if len(words) == 1 {
		words = append(words, "center")
	}
	x, y := words[0], words[1]
	if x == "top" || x == "bottom" || y == "left" || y == "right" {
		x, y = y, x
	}
	m.view = viewport{w: box.Width(), h: box.Height(), known: m.view.known}
	px, okX := offset(x, "left", "right", across, m)
	py, okY := offset(y, "top", "bottom", along, m)
	return box.Min.Add(geometry.Pt(px, py)), okX && okY
}

func offset(word, low, high string, a axis, m measure) (float64, bool) {
	switch word {
	case low:
		return 0, true
	case "center":
		return m.px(length{50, "%"}, a), true
	case high:
		return m.px(length{100, "%"}, a), true
	}
	l, ok := parseLength(word)
	return m.px(l, a), ok
}
