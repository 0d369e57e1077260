// Package films makes the artwork of one film of a layered work: several films of
// different colours, each cut by itself, that are laid on each other.
//
// What a shape shows, its fill or for want of one its line, says of which film it is.
// All films are resolved as artwork/meaning does a drawing of one, and painted over each
// other as they were drawn. Where two meet, the lower one goes on under the edge of the
// upper by the underlap, is cut away, or goes on wholly. All films bear the same register
// marks in the same places and measure the same, so that they lie right where the marks
// cover each other:
//
//   - +        the mark at the fourth corner is
//     ._____________.            left out: a film that is turned
//     | lower ____  |            round is seen at once
//     |      /    \ |
//     |     | upper||
//     |      \____/ |
//     '-------------'
//     +
package films

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/workshop"
)

// Layering says of what films a work is made, and which of them is cut.
type Layering struct {
	Films      []Film          `json:"films"`
	Cut        int             `json:"cut"` // of Films, from 1
	Meet       artwork.Meeting `json:"meet"`
	UnderlapMM float64         `json:"underlap_mm,omitempty"` // of artwork.Underlap
	// Limits are those by which a hole in a lower film is large enough to be weeded.
	Limits workshop.Limits `json:"limits,omitzero"`
}

// Film is one film.
type Film struct {
	Stock  string          `json:"stock"` // its ID
	Name   string          `json:"name"`
	Family workshop.Family `json:"family"`
	// Rules say which shapes are of it, by layer or by colour.
	Rules []Rule `json:"rules"`
}

// Rule is a layer, a colour, or a layer and a colour, of which shapes are of a film.
type Rule = workshop.Rule

// Request is what the job needs besides the drawing and its size.
type Request struct {
	meaning.Request
	// Layering is the films; nil: the work is of one, and is resolved by the convention.
	Layering *Layering `json:"layering,omitempty"`
}

// The underlap that hands need to hide a shift of one film on the other, in mm (common
// practice, no source).
const (
	UnderlapNovice = 1.0
	UnderlapExpert = 0.5
	UnderlapMost   = 5.0 // what is more is no underlap
)
