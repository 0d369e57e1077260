package svg

import (
	"cmp"
	"slices"
	"strings"

	"knifedesk/geometry/budget"

	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"
)

// property is one of the style properties that bear on a cut.
type property uint8

const (
	pFill property = iota
	pStroke
	pColor
	pFillOpacity
	pStrokeOpacity
	pFillRule
	pClipRule
	pStrokeWidth
	pStrokeDasharray
	pVisibility
	pMarker
	pMarkerStart
	pMarkerMid
	pMarkerEnd
	pFontSize
	pDisplay // from here on not inherited
	pOpacity
	pClipPath
	pMask
	pFilter
	pOverflow
	pVectorEffect
	pTransform
	pTranslate
	pRotate
	pScale
	pOffset
	pTransformOrigin
	pTransformBox
	pStopColor
	pX
	pY
	pWidth
	pHeight
	pCx
	pCy
	pR
	pRx
	pRy
	pD
	properties
)

// propertyNames returns the properties by their names in CSS.
func propertyNames() map[string]property {
	return map[string]property{
		"fill": pFill, "stroke": pStroke, "color": pColor, "fill-opacity": pFillOpacity, "stroke-opacity": pStrokeOpacity,
		"fill-rule": pFillRule, "clip-rule": pClipRule, "stroke-width": pStrokeWidth, "stroke-dasharray": pStrokeDasharray,
		"visibility": pVisibility, "marker": pMarker, "marker-start": pMarkerStart, "marker-mid": pMarkerMid,
		"marker-end": pMarkerEnd, "font-size": pFontSize, "display": pDisplay, "opacity": pOpacity, "clip-path": pClipPath,
		"translate": pTranslate, "rotate": pRotate, "scale": pScale, "offset": pOffset, "offset-path": pOffset,
		"mask": pMask, "filter": pFilter, "overflow": pOverflow, "vector-effect": pVectorEffect, "transform": pTransform,
		"transform-origin": pTransformOrigin, "transform-box": pTransformBox, "stop-color": pStopColor,
		"x": pX, "y": pY, "width": pWidth, "height": pHeight, "cx": pCx, "cy": pCy, "r": pR, "rx": pRx, "ry": pRy, "d": pD,
	}
}

// styleOnly reports whether a property is none where an attribute has its name:
// rotate and scale mean other things on some elements.
func (p property) styleOnly() bool { return p >= pTranslate && p <= pOffset }

// declaration gives a property a value.
type declaration struct {
	property property
	attr     bool // written as a presentation attribute
	value    string
}

// addDeclaration appends the declaration name: tokens to the list it belongs to.
func (s *sheet) addDeclaration(normal, urgent []declaration, name []byte, tokens []css.Token) ([]declaration, []declaration) {
	p, known := s.properties[string(name)]
	if !known {
		return normal, urgent
	}
	value := joined(tokens)
	if i := strings.LastIndexByte(value, '!'); i >= 0 && strings.EqualFold(strings.TrimSpace(value[i+1:]), "important") {
		return normal, append(urgent, declaration{p, false, strings.TrimSpace(value[:i])})
	}
	return append(normal, declaration{p, false, strings.TrimSpace(value)}), urgent
}

// inlineStyle reads a style attribute.
func (s *sheet) inlineStyle(b *budget.Budget, text string) (normal, urgent []declaration) {
	p := css.NewParser(parse.NewInputString(s.stoppable(b, text)), true)
	for {
		b.Step()
		switch grammar, _, data := p.Next(); grammar {
		case css.ErrorGrammar:
			if !p.HasParseError() {
				return normal, urgent
			}
		case css.DeclarationGrammar:
			normal, urgent = s.addDeclaration(normal, urgent, data, p.Values())
		}
	}
}

// inline is a style attribute once read; files repeat the same text often.
type inline struct{ normal, urgent []declaration }

// cascade finds the style of elements: what is declared for each, by which
// rules, and what that makes of its parent's.
type cascade struct {
	b       *budget.Budget
	sheet   *sheet
	inlines map[string]inline
}

// declarations calls set with all that is declared for e, the weakest first:
// the order of CSS Cascading 4, section 6, with presentation attributes before
// every rule (SVG 2, section 6.6).
func (c *cascade) declarations(e *element, set func(declaration)) {
	style := ""
	for _, a := range e.attrs {
		if a.name == "style" {
			style = a.value
		} else if p, known := c.sheet.properties[a.name]; known && !p.styleOnly() {
			set(declaration{p, true, a.value})
		}
	}
	rules := c.sheet.matching(e)
	slices.SortFunc(rules, func(a, b *rule) int {
		return cmp.Or(cmp.Compare(a.weight, b.weight), cmp.Compare(a.order, b.order))
	})
	in := c.inline(style)
	all := func(list []declaration) {
		if !c.sheet.steps.Spend(len(list)) {
			return
		}
		for _, d := range list {
			set(d)
		}
	}
	for _, rule := range rules {
		all(rule.normal)
	}
	all(in.normal)
	for _, rule := range rules {
		all(rule.urgent)
	}
	all(in.urgent)
}

func (c *cascade) inline(style string) inline {
	if style == "" {
		return inline{}
	}
	in, seen := c.inlines[style]
	if !seen {
		in.normal, in.urgent = c.sheet.inlineStyle(c.b, style)
		c.inlines[style] = in
	}
	return in
}
