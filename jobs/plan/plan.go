// Package plan holds what is asked for and what becomes of it: the choices of a
// caller, the request that they make with a snapshot of the workshop's data,
// and how a plan stands. All jobs share these words.
package plan

import (
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/calibration"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/share"
	"knifedesk/jobs/size"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Request is everything a plan depends on besides the drawing's bytes: the
// caller's choices and a snapshot of the workshop's data.
type Request struct {
	Purpose weeding.Purpose `json:"purpose"`
	Stock   workshop.Stock  `json:"stock"`
	// Others are the other stocks of its family: one is named where the work does not
	// fit.
	Others     []workshop.Stock    `json:"others,omitempty"`
	Machine    workshop.Machine    `json:"machine"`
	Convention workshop.Convention `json:"convention"`
	Settings   []workshop.Setting  `json:"settings"`
	// Batch is that of the stock that is loaded; empty: not known. Of settings that are
	// not trusted for it a test mark is cut first.
	Batch string `json:"batch,omitempty"`
	// Standings say how the settings stood when the plan was sent, by ID. They are told
	// and no job reads them, as test cuts change nothing of a plan.
	Standings map[string]trial.Standing `json:"standings,omitempty"`
	// Lengths are the marks that were measured last on the stock, held as it is; nil:
	// none were.
	Lengths *trial.Marks         `json:"lengths,omitempty"`
	Sheets  []workshop.NamedSize `json:"sheets,omitempty"`
	// Calibration is what minutes are counted with; nil: the start values.
	Calibration *calibration.Calibration `json:"calibration,omitempty"`
	Prices      workshop.PriceList       `json:"prices"`
	Size        Size                     `json:"size"`
	Copies      int                      `json:"copies"`
	Mirror      *bool                    `json:"mirror,omitempty"`
	Options     Options                  `json:"options"`
	Replies     ask.Replies              `json:"replies,omitempty"`
	Turned      []int                    `json:"turned,omitempty"` // regions turned over
	// DrawnFor is the stock that the drawing was read for, where it is cut again on another:
	// what it is, and the numbers of its pieces, stay as they were. nil: Stock.
	DrawnFor *workshop.Stock `json:"drawn_for,omitempty"`
	// Again is what of the drawing is cut once more, where that is not whole copies alone.
	Again []layout.Again `json:"again,omitempty"`
	// Layering says of which films a layered work is, and which of them the plan cuts;
	// nil: it is of one film. FilmPlans are the plans of all its films, by their number,
	// where they came as one order; no job reads them.
	Layering  *films.Layering `json:"layering,omitempty"`
	FilmPlans []string        `json:"film_plans,omitempty"`
	// Members are the drawings that share loads, where the request is one for several;
	// none of a plan has any.
	Members []share.Member `json:"members,omitempty"`
}

// Drawn returns the stock that the drawing is read for.
func (r *Request) Drawn() workshop.Stock {
	if r.DrawnFor != nil {
		return *r.DrawnFor
	}
	return r.Stock
}

// Size is what the caller declares about the true size.
type Size struct {
	Frame       string            `json:"frame,omitempty"`
	KnownLength *size.KnownLength `json:"known_length,omitempty"`
	Unit        string            `json:"unit,omitempty"`
	Scale       float64           `json:"scale,omitempty"`
}

// Options are switches; the zero value is what most plans want.
type Options struct {
	NoBorder  bool `json:"no_border,omitempty"`
	NoRelief  bool `json:"no_relief,omitempty"`
	NoBridges bool `json:"no_bridges,omitempty"`
	Novice    bool `json:"novice,omitempty"`
	OneTurn   bool `json:"one_turn,omitempty"`
	OnWall    bool `json:"on_wall,omitempty"` // film that goes to a wall
	// PiecesMove says that the pieces of a kit need not keep their places beside each other.
	PiecesMove bool `json:"pieces_move,omitempty"`
	// OneBorder says that a weed border may run round all copies on a sheet or run.
	OneBorder bool `json:"one_border,omitempty"`
	// Nesting is how copies are laid; empty: in rows.
	Nesting layout.Nesting `json:"nesting,omitempty"`
	// Panels says whether work larger than the stock may be made of panels.
	Panels layout.Allowance `json:"panels,omitempty"`
	// Hold is how the stock is held; empty: as usual.
	Hold     workshop.Hold `json:"hold,omitempty"`
	Page     int           `json:"page,omitempty"` // of a PDF file, from 1
	MendsOff []string      `json:"mends_off,omitempty"`
}
