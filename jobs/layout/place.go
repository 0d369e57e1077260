package layout

import (
	"context"
	"fmt"
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// maxCopies bounds the copies of one request.
const maxCopies = 100_000

// RequestError says which part of a piece or request makes no sense.
type RequestError struct {
	Field  string // as in the JSON of Piece, Request or Stock
	Reason string
}

// Error names the field and what is wrong with it.
func (e *RequestError) Error() string { return "layout: " + e.Field + ": " + e.Reason }

// Place lays the copies of piece out on the stock by their bounding boxes: the
// least number of sheets, or the least length of roll with the leads and tails
// of all runs, and then the least length of the last sheet, so that a large
// offcut is left. Copies are turned by 0° or 90°, mixed on one sheet where that
// saves something. Where nesting is asked for they lie by their true shapes, if
// that takes less. A piece that does not fit, or a roll that is too short, is a
// finding and leaves the layout without loads; a request that makes no sense is
// a *RequestError. Where ctx ends first, its error is returned.
func Place(ctx context.Context, piece Piece, req Request) (*Layout, error) {
	if err := check(piece, req); err != nil {
		return nil, err
	}
	l := &Layout{}
	var lost error
	err := budget.Run(ctx, func(b *budget.Budget) { lost = l.place(b, piece, req) })
	if err == nil {
		err = lost
	}
	if err != nil {
		return nil, err
	}
	return l, nil
}

// place fills the layout in. Its error is a fault of the program.
func (l *Layout) place(b *budget.Budget, piece Piece, req Request) error {
	l.mirror(req)
	area := l.usable(piece, req)
	allowed := l.turns(piece, req, area)
	if !allowed.Straight && !allowed.Quarter {
		if len(l.Questions) > 0 {
			return nil
		}
		return l.inPanels(b, piece, req, area)
	}
	size := piece.size()
	plan, ok := area.equal(b, size, req.Stock, req.Copies, allowed)
	if !ok {
		return fmt.Errorf("layout: a piece of %g by %g mm fits and could not be placed", size.WidthMM, size.LengthMM)
	}
	sheets := inRows(plan)
	if req.Nesting.Asked() != "" {
		sheets = l.nest(b, piece, req, area, allowed, sheets)
	}
	l.load(b, piece, req, area, sheets)
	if area.roll && !l.enough(b, piece, req, area, allowed) {
		return nil
	}
	l.measure(b, piece, req, area, allowed)
	l.Savings = savings(b, l, piece, req, area)
	return nil
}

func check(piece Piece, req Request) error {
	s := req.Stock
	fields := []struct {
		name string
		mm   float64
		ok   bool
	}{
		{"piece.bounds.width", piece.Bounds.Width(), !piece.Bounds.Empty() && piece.Bounds.Min.Finite()},
		{"piece.bounds.height", piece.Bounds.Height(), piece.Bounds.Max.Finite()},
		{"stock.width_mm", s.WidthMM, s.WidthMM > 0},
		{"stock.usable_width_mm", s.UsableWidthMM, s.UsableWidthMM > 0 && s.UsableWidthMM <= s.WidthMM},
		{"stock.length_mm", s.LengthMM, s.LengthMM > 2*s.MarginMM || s.Form == workshop.Roll},
		{"stock.margin_mm", s.MarginMM, s.MarginMM >= 0},
		{"stock.gap_mm", s.GapMM, s.GapMM >= 0},
		{"stock.lead_mm", s.LeadMM, s.LeadMM >= 0},
		{"stock.tail_mm", s.TailMM, s.TailMM >= 0},
	}
	for _, f := range fields {
		if !f.ok || math.IsNaN(f.mm) || f.mm < 0 || f.mm > 1e6 {
			return &RequestError{f.name, fmt.Sprintf("%g mm is out of range", f.mm)}
		}
	}
	if !req.Nesting.Known() {
		return &RequestError{"nesting", fmt.Sprintf("%q is not known", req.Nesting)}
	}
	if req.Copies < 1 || req.Copies > maxCopies {
		return &RequestError{"copies", fmt.Sprintf("%d is not between 1 and %d", req.Copies, maxCopies)}
	}
	return nil
}

// sameAcross is the length of folds in mm by which one turn has to be better
// before the grain decides between the two.
const sameAcross = 0.5

// turns decides how the piece may lie, if in any way. Folds that would crack cost more than any stock: where both turns
// fit, all copies lie in the one with less of them across the grain.
func (l *Layout) turns(piece Piece, req Request, a area) nest.Turns {
	b := piece.Bounds
	can := nest.Turns{Straight: a.takes(b.Width(), b.Height()), Quarter: a.takes(b.Height(), b.Width())}
	switch worse := piece.TurnedMM - piece.AcrossMM; {
	case math.Abs(worse) <= sameAcross:
	case can.Straight && can.Quarter:
		can.Straight, can.Quarter = worse > 0, worse < 0
	case can.Quarter && worse > 0:
		can.Quarter = l.acrossGrain(req.Replies)
		if len(l.Questions) > 0 {
			return nest.Turns{}
		}
	}
	can.Mixed = can.Straight && can.Quarter && !req.OneTurn
	return can
}

// acrossGrain asks whether a piece that fits only across the grain may lie so.
func (l *Layout) acrossGrain(replies ask.Replies) bool {
	const id, turn, keep = Name + "/grain", "turn", "keep"
	switch replies[id].Answer {
	case turn:
		return true
	case keep:
		return false
	}
	l.Findings = append(l.Findings, finding.New(finding.FitsAcrossGrain, 1, nil))
	l.Questions = append(l.Questions, ask.Question{
		ID: id, Code: finding.FitsAcrossGrain,
		Text: "The piece fits only if it is turned across the grain. May it be turned?",
		Answers: []ask.Answer{
			{ID: keep, Label: "Keep it along the grain", Evidence: "Folds crack less along the grain. The piece then needs larger stock or panels."},
			{ID: turn, Label: "Turn it by 90°", Evidence: "It fits as one piece. Folds may crack: score them twice and fold slowly."},
		},
	})
	return false
}

// mirror decides whether copies are turned over: the caller's word, or else
// the stock's rule. Artwork that is drawn mirrored already was turned back
// before it came here.
func (l *Layout) mirror(req Request) {
	l.Mirrored = req.Stock.CutMirrored(req.Mirror)
	if req.Stock.CutMirrored(nil) && !l.Mirrored {
		l.Findings = append(l.Findings, finding.New(finding.MirrorAgainstRule, 1, finding.Values{"stock": finding.Text(req.Stock.Name)}))
	}
}
