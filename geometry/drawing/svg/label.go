package svg

import (
	"strings"

	"knifedesk/geometry/drawing"
)

// label is the name of a layer and how much speaks for it.
type label struct {
	name string
	rank int // 1: an id that a program made up, 2: an id, 3: a label
}

// label takes the name of a group for the layer of what is in it. A label
// that the group carries in some program's namespace counts more than an id;
// of two alike the nearer counts. Ids inside references name no layer.
func (c *canvas) label(e *element, at *spot) {
	own := label{}
	for _, name := range []string{"label", "data-name"} {
		if v := e.get(name); v != "" {
			own = label{v, 3}
			break
		}
	}
	if id := e.get("id"); own.rank == 0 && id != "" && !at.used {
		own = label{id, 2}
		if madeUp(id) {
			own.rank = 1
		}
	}
	if own.rank == 0 || own.rank < at.layer.rank {
		return
	}
	at.layer = own
	if own.rank > 1 {
		c.layer(own.name, e, at.gone)
	}
}

// madeUp reports whether an id is one that programs number groups by: g12,
// group-3.
func madeUp(id string) bool {
	rest := strings.ToLower(id)
	for _, word := range []string{"group", "g", "svg"} {
		if after, ok := strings.CutPrefix(rest, word); ok {
			return strings.Trim(after, "-_0123456789") == ""
		}
	}
	return strings.Trim(rest, "-_0123456789") == ""
}

func (c *canvas) layer(name string, e *element, off bool) {
	i, known := c.layers[name]
	if !known {
		i = len(c.out.Layers)
		c.layers[name] = i
		c.out.Layers = append(c.out.Layers, drawing.Layer{Name: name, Off: off})
	}
	l := &c.out.Layers[i]
	l.Off = l.Off && off
	l.Locked = l.Locked || e.get("insensitive") == "true"
}
