package svg

import (
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

const svgSpace = "http://www.w3.org/2000/svg"

// element is one element of the SVG namespace.
type element struct {
	name     string
	attrs    []attribute
	children []*element
	parent   *element
	index    int    // among the parent's children
	text     string // of style elements only
	words    bool   // it holds text that is not all spaces
	line     int
	size     int // bytes in its attributes
}

type attribute struct{ name, value string }

// attr returns the value of an attribute and whether it is there.
func (e *element) attr(name string) (string, bool) {
	for _, a := range e.attrs {
		if a.name == name {
			return a.value, true
		}
	}
	return "", false
}

// get returns the value of an attribute without the spaces round it.
func (e *element) get(name string) string {
	v, _ := e.attr(name)
	return strings.TrimSpace(v)
}

// hasWords reports whether there is text in e or in what it holds.
func (e *element) hasWords(b *budget.Budget) bool {
	b.Step()
	if e.words {
		return true
	}
	for _, c := range e.children {
		if c.name != "title" && c.name != "desc" && c.hasWords(b) {
			return true
		}
	}
	return false
}

// source names the element for notes and shapes.
func (e *element) source() drawing.Source {
	return drawing.Source{Kind: e.name, ID: drawing.Shorten(e.get("id")), Line: e.line}
}

// document is a file as a tree.
type document struct {
	root   *element
	byID   map[string]*element
	sheets []*element // style elements, in order
	kinds  map[string]int
}

// href returns the reference of e: href, or the older xlink:href.
func (e *element) href() string {
	if v, ok := e.attr("href"); ok {
		return strings.TrimSpace(v)
	}
	return e.get("xlink:href")
}

// known reports whether there are elements of that name in SVG 2 or in the older
// versions, some of which it dropped.
func known(name string) bool {
	switch name {
	case "a", "altGlyph", "altGlyphDef", "animate", "animateColor", "animateMotion", "animateTransform", "circle",
		"clipPath", "color-profile", "cursor", "defs", "desc", "discard", "ellipse", "feBlend", "feColorMatrix",
		"feComponentTransfer", "feComposite", "feConvolveMatrix", "feDiffuseLighting", "feDisplacementMap",
		"feDistantLight", "feDropShadow", "feFlood", "feFuncA", "feFuncB", "feFuncG", "feFuncR", "feGaussianBlur",
		"feImage", "feMerge", "feMergeNode", "feMorphology", "feOffset", "fePointLight", "feSpecularLighting",
		"feSpotLight", "feTile", "feTurbulence", "filter", "font", "font-face", "foreignObject", "g", "glyph",
		"glyphRef", "hatch", "hatchpath", "hkern", "image", "line", "linearGradient", "marker", "mask", "mesh",
		"meshgradient", "meshpatch", "meshrow", "metadata", "missing-glyph", "mpath", "path", "pattern", "polygon",
		"polyline", "radialGradient", "rect", "script", "set", "solidcolor", "stop", "style", "svg", "switch",
		"symbol", "text", "textPath", "title", "tref", "tspan", "unknown", "use", "view", "vkern":
		return true
	}
	return false
}
