package plan

import (
	"strings"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/weeding"
)

// Choices are what a caller says, by the IDs of the workshop's data. Empty ones
// are filled in when they are resolved into a Request.
type Choices struct {
	Stock      string
	Machine    string
	Convention string
	PriceList  string
	Purpose    weeding.Purpose
	Size       Size
	Copies     int
	Mirror     *bool
	Options    Options
	Replies    ask.Replies
	Turned     []int
	// Films are those of a layered work, of which Film is cut, from 1. Where there are
	// none the rules of the convention may name some; the one of the stock is cut then.
	Films      []FilmChoice
	Film       int
	Meet       artwork.Meeting // of the films; empty: an underlap
	UnderlapMM float64         // 0: by who weeds
}

// FilmChoice is one film of a layered work: a stock, and which shapes are cut from it, by
// layer, by colour, or by both.
type FilmChoice struct {
	Stock  string
	Layer  string
	Colour *drawing.Colour
}

// ChoiceError says which choice cannot be followed, and what there is instead.
type ChoiceError struct {
	Field  string   // the field of the request
	Reason string   // a sentence
	Known  []string // what may be chosen, where that is a list
	Change string   // what to do, where no other choice helps
}

func (e *ChoiceError) Error() string {
	text := e.Field + ": " + e.Reason
	if len(e.Known) > 0 {
		text += " Known here: " + strings.Join(e.Known, ", ") + "."
	}
	if e.Change != "" {
		text += " " + e.Change
	}
	return text
}
