package pdf

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// state is the graphics state (8.4), as far as it bears on a cut.
type state struct {
	ctm          geometry.Affine // user space to the page as shown
	stroke, fill ink
	width        float64
	dashed       bool
	dashDot      bool  // its dashes are of two lengths
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

// textMatrices are those of a text object (9.4.1): where the next glyph stands,
// and where the line began.
type textMatrices struct{ text, line geometry.Affine }

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

// marks are the levels that are open, the outermost first.
type marks []marked

// scope is where a content stream finds what it names: in the resources of the
// page, form or font that it belongs to.
type scope struct {
	*reader
	resources types.Dict
}

// contentRun interprets one content stream: that of a page, a form or a glyph.
type contentRun struct {
	scope
	lexer lexer
	state state
	saved []state
	marks marks
	operands
	path pathBuilder
	clip string // "W" or "W*" until the next painting operator
	textMatrices
	depth int    // of forms
	kind  string // what the shapes come from: path, form or glyph
	plain bool   // colours are ignored: a glyph that is a stencil
}

// child returns a run of the content of a form or glyph inside this one.
func (c *contentRun) child(data []byte, resources types.Dict, kind string) *contentRun {
	if resources == nil {
		resources = c.resources // as old files have it
	}
	return &contentRun{
		scope: scope{c.reader, resources}, lexer: lexer{b: c.b, data: data}, state: c.state,
		marks: append(marks{}, c.marks...), depth: c.depth + 1, kind: kind, plain: c.plain,
	}
}

// layer returns the innermost layer and whether any that is open is off.
func (all marks) layer(b *budget.Budget) (name string, off bool) {
	b.Spend(len(all))
	for _, m := range all {
		if m.layer != "" {
			name = m.layer
		}
		off = off || m.off
	}
	return name, off
}

// setDash sets a dash pattern: without a length above 0 the line is whole.
func (s *state) setDash(pattern []float64) {
	s.dashed = slices.ContainsFunc(pattern, func(v float64) bool { return v > 0 })
	s.dashDot = s.dashed && drawing.DashDot(drawing.DashesOf(pattern))
}
