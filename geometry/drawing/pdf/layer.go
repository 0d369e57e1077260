package pdf

import (
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// layers are the optional content groups of a file (8.11), as its default
// configuration shows them.
type layers struct {
	list []drawing.Layer
	byID map[int]int // place in list by object number
}

// readLayers reads the groups and which of them are off (8.11.4.3).
func (f *file) readLayers() layers {
	l := layers{byID: map[int]int{}}
	properties := f.dict(f.catalog()["OCProperties"])
	if properties == nil {
		return l
	}
	config := f.dict(properties["D"])
	base := f.name(config["BaseState"]) == "OFF"
	for _, group := range f.array(properties["OCGs"]) {
		f.steps.Step()
		n := id(group)
		if _, twice := l.byID[n]; twice || n == 0 {
			continue
		}
		l.byID[n] = len(l.list)
		l.list = append(l.list, drawing.Layer{Name: f.text(f.dict(group)["Name"]), Off: base})
	}
	set := func(key string, change func(*drawing.Layer)) {
		for _, group := range f.array(config[key]) {
			f.steps.Step()
			if i, ok := l.byID[id(group)]; ok {
				change(&l.list[i])
			}
		}
	}
	set("ON", func(g *drawing.Layer) { g.Off = false })
	set("OFF", func(g *drawing.Layer) { g.Off = true })
	return l
}

// of returns what a group, or a membership dictionary that combines several,
// says of the content it marks (8.11.2.2). Visibility expressions are left to
// the policy that has to stand beside them.
func (l *layers) of(f *file, o types.Object) marked {
	if i, ok := l.byID[id(o)]; ok {
		return marked{layer: l.list[i].Name, off: l.list[i].Off}
	}
	d := f.dict(o)
	if f.name(d["Type"]) != "OCMD" {
		return marked{}
	}
	groups := f.array(d["OCGs"])
	if groups == nil && d["OCGs"] != nil {
		groups = types.Array{d["OCGs"]}
	}
	on, all := 0, 0
	m := marked{}
	for _, g := range groups {
		f.steps.Step()
		i, ok := l.byID[id(g)]
		if !ok {
			continue
		}
		if m.layer == "" {
			m.layer = l.list[i].Name
		}
		all++
		if !l.list[i].Off {
			on++
		}
	}
	if all > 0 {
		m.off = !policy(f.name(d["P"]), on, all)
	}
	return m
}

// policy reports whether content shows of which on of all groups are on.
func policy(p string, on, all int) bool {
	switch p {
	case "AllOn":
		return on == all
	case "AnyOff":
		return on < all
	case "AllOff":
		return on == 0
	}
	return on > 0 // AnyOn
}

// mark begins and ends marked content (14.6).
func (c *contentRun) mark(op string) {
	const deepest = 1024
	switch {
	case op == "EMC":
		if n := len(c.marks); n > 0 {
			c.marks = c.marks[:n-1]
		}
	case len(c.marks) >= deepest:
		c.stop(limitDepth, c.opt.Limits.Depth)
	case op == "BDC" && len(c.operands) == 2 && c.operands[0].text == "OC":
		c.marks = append(c.marks, c.layers.of(c.file, c.resource("Properties", c.name())))
	default:
		c.marks = append(c.marks, marked{})
	}
}
