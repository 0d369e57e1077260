package pdf

import (
	"knifedesk/geometry"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// state is the graphics state (8.4), as far as it bears on a cut.
type state struct {
	ctm          geometry.Affine // user space to the page as shown
	stroke, fill ink
	width        float64
	dashed       bool
	masked       bool  // a soft mask is in force
	clips        []int // in the ClipSet
	text         textState
}

// ink is a colour with the space it is in.
type ink struct {
	space   *space
	values  []float64
	pattern bool
	alpha   float64
}

// textState are the text parameters (9.3).
type textState struct {
	charSpace, wordSpace, scale, leading, rise, size float64
	font                                             types.Dict
	face                                             *face // of a Type 3 font, once used
	mode                                             int
}

func startState(ctm geometry.Affine) state {
	black := ink{space: device(1), values: []float64{0}, alpha: 1}
	return state{ctm: ctm, stroke: black, fill: black, width: 1, text: textState{scale: 1}}
}

// marked is one level of marked content (14.6), or of optional content round
// a form.
type marked struct {
	layer string // name of the optional content group, empty for none
	off   bool
}

// contentRun interprets one content stream: that of a page, a form or a glyph.
type contentRun struct {
	*reader
	lexer     lexer
	resources types.Dict
	state     state
	saved     []state
	marks     []marked
	operands  []token
	path      pathBuilder
	clip      string // "W" or "W*" until the next painting operator
	text      geometry.Affine
	line      geometry.Affine
	depth     int    // of forms
	kind      string // what the shapes come from: path, form or glyph
	plain     bool   // colours are ignored: a glyph that is a stencil
}

// child returns a run of the content of a form or glyph inside this one.
func (c *contentRun) child(data []byte, resources types.Dict, kind string) *contentRun {
	if resources == nil {
		resources = c.resources // as old files have it
	}
	return &contentRun{
		reader: c.reader, lexer: lexer{b: c.b, data: data}, resources: resources, state: c.state,
		marks: append([]marked{}, c.marks...), depth: c.depth + 1, kind: kind, plain: c.plain,
	}
}

// layer returns the innermost layer and whether any that is open is off.
func (c *contentRun) layer() (name string, off bool) {
	c.b.Spend(len(c.marks))
	for _, m := range c.marks {
		if m.layer != "" {
			name = m.layer
		}
		off = off || m.off
	}
	return name, off
}
