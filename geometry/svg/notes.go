package svg

import (
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/finding"
)

// Names of the limits as the finding limit_reached shows them.
const (
	limitBytes      = "bytes"
	limitUnpacked   = "unpacked bytes"
	limitAttributes = "attributes"
	limitRepeats    = "bytes read again through references"
	limitTag        = "attributes in one tag"
	limitElements   = "elements"
	limitDepth      = "levels of nesting"
	limitUses       = "elements drawn through references"
	limitSegments   = "segments"
	limitEntityText = "bytes of entity text"
	limitStyleSteps = "steps of style rules"
)

// maxNames bounds the names that one finding lists.
const maxNames = 8

// notes collect what is to be said about a file, one finding a code.
type notes struct {
	order  []finding.Code
	byCode map[finding.Code]*note
}

type note struct {
	count  int
	places []finding.Place
	names  []string
	values map[string]any
	weight finding.Severity // empty: that of the catalogue
}

// add counts one more case of code. The name (an element, a value, a layer)
// is listed once; the place may be missing.
func (n *notes) add(code finding.Code, name string, place *finding.Place) *note {
	c := n.byCode[code]
	if c == nil {
		if n.byCode == nil {
			n.byCode = map[finding.Code]*note{}
		}
		c = &note{values: map[string]any{}}
		n.byCode[code] = c
		n.order = append(n.order, code)
	}
	c.count++
	if place != nil && len(c.places) < finding.MaxPlaces {
		c.places = append(c.places, *place)
	}
	c.list(clip(name))
	return c
}

func (c *note) list(name string) {
	if name == "" || len(c.names) > maxNames {
		return
	}
	for _, have := range c.names {
		if have == name {
			return
		}
	}
	if len(c.names) == maxNames {
		name = "…"
	}
	c.names = append(c.names, name)
}

// limit notes that a limit stopped the reading.
func (n *notes) limit(name string, allowed int) {
	c := n.add(finding.LimitReached, "", nil)
	if c.count > 1 {
		c.count = 1
		return // the first limit reached is the cause
	}
	c.values["limit"], c.values["allowed"] = name, allowed
}

func (n *notes) findings() []finding.Finding {
	var all []finding.Finding
	for _, code := range n.order {
		c := n.byCode[code]
		if len(c.names) > 0 {
			c.values["names"] = strings.Join(c.names, ", ")
		}
		f := finding.New(code, c.count, c.values, c.places...)
		if c.weight != "" {
			f = f.As(c.weight)
		}
		all = append(all, f)
	}
	return all
}

// clip shortens a text from the file for people to read.
func clip(s string) string {
	const most = 60
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// place says where the element e lies, in drawing units.
func place(e *element, layer string, box geometry.Box) *finding.Place {
	return &finding.Place{Box: box, Layer: layer, Source: e.source().String()}
}
