package svg

import (
	"math"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
)

// moved reports whether one of the single properties moves an element.
func (o *own) moved() bool { return o.moves != [3]string{} }

// chain is the product of maps that place an element, the first of them
// outermost.
type chain struct {
	geometry.Affine
	// plain says that what turns the element over, if anything does, is a plain
	// turn of y. Maps in a row place as groups in one another do, so a turn or a
	// shift beside it says nothing of it.
	plain bool
}

// unmoved is the chain that changes nothing.
func unmoved() chain { return chain{Affine: geometry.Identity} }

// add puts f inside the maps that are there.
func (c *chain) add(f geometry.Affine) { c.put(chain{f, f.A > 0 && f.D < 0 && f.B == 0 && f.C == 0}) }

// put puts the maps of in inside those that are there.
func (c *chain) put(in chain) {
	if in.Det() < 0 {
		c.plain = c.Det() > 0 && in.plain
	}
	c.Affine = in.Then(c.Affine)
}

// transforms returns what moves an element about its origin: translate, rotate,
// scale and transform, the last of these first on a point (CSS Transforms 2,
// section 6). A value that cannot be read is returned as the fault.
func (o *own) transforms(b *budget.Budget, m measure) (total chain, fault string) {
	total = unmoved()
	read := [...]func(words []string, m measure) (geometry.Affine, bool){translateProperty, rotateProperty, scaleProperty}
	for i, value := range o.moves {
		words := strings.Fields(value)
		if len(words) == 0 || value == "none" {
			continue
		}
		f, ok := read[i](words, m)
		if !ok || !sensible(f) {
			return unmoved(), value
		}
		total.add(f)
	}
	if o.transform != nil {
		f, ok := parseTransform(b, o.transform.value, !o.transform.attr, m)
		if !ok || !sensible(f.Affine) {
			return unmoved(), o.transform.value
		}
		total.put(f)
	}
	return total, ""
}

// sensible reports whether a map has numbers that a drawing can be placed by.
func sensible(f geometry.Affine) bool {
	const most = 1e12
	for _, v := range []float64{f.A, f.B, f.C, f.D, f.E, f.F} {
		if !(math.Abs(v) <= most) {
			return false
		}
	}
	return true
}

func scaleProperty(words []string, _ measure) (geometry.Affine, bool) {
	var v [3]float64
	if len(words) > len(v) {
		return geometry.Identity, false
	}
	for i, w := range words {
		l, ok := parseLength(w)
		if !ok || l.unit != "" && l.unit != "%" {
			return geometry.Identity, false
		}
		if l.unit == "%" {
			l.value /= 100
		}
		v[i] = l.value
	}
	if len(words) == 1 {
		v[1] = v[0]
	}
	return geometry.Scale(v[0], v[1]), true
}

// rotateProperty reads an angle; one about an axis that leaves the sheet cannot
// be followed.
func rotateProperty(words []string, m measure) (geometry.Affine, bool) {
	if len(words) == 2 && words[0] == "z" {
		words = words[1:]
	}
	if len(words) != 1 {
		return geometry.Identity, false
	}
	a, ok := cssArgument(words[0], across, false, m)
	return geometry.Rotate(a.value * math.Pi / 180), ok && a.fits("rotate")
}

func translateProperty(words []string, m measure) (geometry.Affine, bool) {
	var v [3]float64
	if len(words) > len(v) {
		return geometry.Identity, false
	}
	for i, w := range words {
		a, ok := cssArgument(w, axis(i&1), false, m)
		if !ok || !a.fits("translate") {
			return geometry.Identity, false
		}
		v[i] = a.value
	}
	return geometry.Translate(v[0], v[1]), true
}
