package jobs

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
)

// Spoiled is a piece that was cut badly.
type Spoiled struct {
	Copy  int // from 1
	Piece int // its number in the weeding map of the drawing; 0: the whole copy
}

// SpoiledError says which of the pieces said to be spoiled a plan has not.
type SpoiledError struct {
	Spoiled
	NoPiece bool // it is the piece that is not there, and else the copy
}

func (e *SpoiledError) Error() string {
	return fmt.Sprintf("jobs: the plan has no piece %d of copy %d", e.Piece, e.Copy)
}

// wholeCode stands for a whole copy among pieces, which stand by their numbers.
const wholeCode = "whole"

// againOf counts what is to be cut again of a plan: nothing but copies where no piece is
// named by itself, and else each part of the drawing as often as it was spoiled, whole
// copies last. A part is named by its first piece. A *SpoiledError names what the plan
// has not.
func againOf(b *budget.Budget, r *plan.Request, m *weeding.Map, spoiled []Spoiled) (copies int, again []layout.Again, err error) {
	var parts []weeding.Apart
	of := map[int]map[int]bool{} // the copies by part, 0: the whole
	for _, s := range spoiled {
		piece := 0
		if s.Piece > 0 && m.Purpose != weeding.Stencil { // which is one piece with its openings
			if parts == nil {
				parts = m.Apart(b)
			}
			if piece = first(parts, s.Piece); piece == 0 {
				return 0, nil, &SpoiledError{s, true}
			}
		}
		if s.Copy > had(r, piece) {
			return 0, nil, &SpoiledError{s, had(r, piece) == 0}
		}
		if of[piece] == nil {
			of[piece] = map[int]bool{}
		}
		of[piece][s.Copy] = true
	}
	copies, again = counted(of)
	if len(again) == 0 && len(r.Again) == 0 {
		return copies, nil, nil
	}
	if copies > 0 {
		again = append(again, layout.Again{Copies: copies})
	}
	return 1, again, nil
}

// first is the first piece of the part that a piece belongs to; 0: there is none.
func first(parts []weeding.Apart, piece int) int {
	at := partOf(parts, piece)
	if at < 0 {
		return 0
	}
	return parts[at].Regions[0]
}

func partOf(parts []weeding.Apart, piece int) int {
	return slices.IndexFunc(parts, func(p weeding.Apart) bool { return slices.Contains(p.Regions, piece) })
}

// counted counts whole copies, and parts of others, by their pieces.
func counted(of map[int]map[int]bool) (copies int, again []layout.Again) {
	for piece, which := range of {
		n := len(which)
		for c := range which {
			if piece > 0 && of[0][c] {
				n-- // it comes with its copy
			}
		}
		if piece > 0 && n > 0 {
			again = append(again, layout.Again{Piece: piece, Copies: n})
		}
	}
	slices.SortFunc(again, func(a, b layout.Again) int { return cmp.Compare(a.Piece, b.Piece) })
	return len(of[0]), again
}

// had is how many copies of a part a plan has cut.
func had(r *plan.Request, piece int) int {
	if len(r.Again) == 0 {
		return r.Copies
	}
	for _, a := range r.Again {
		if a.Piece == piece {
			return a.Copies
		}
	}
	return 0
}

// layAgain lays the parts of a drawing that are cut again beside each other, each under
// the number of its first piece.
func layAgain(ctx context.Context, q layout.Request, m *weeding.Map) (*layout.Layout, error) {
	r := share.Request{Layout: q}
	var maps []*weeding.Map
	var lost error
	err := budget.Run(ctx, func(b *budget.Budget) { maps, lost = againMaps(b, q, m) })
	if err = cmp.Or(err, lost); err != nil {
		return nil, err
	}
	digits := len(strconv.Itoa(len(m.Regions)))
	for _, a := range q.Again {
		code := wholeCode
		if a.Piece > 0 {
			code = fmt.Sprintf("%0*d", digits, a.Piece)
		}
		r.Members = append(r.Members, share.Member{Code: code, Copies: a.Copies})
	}
	s, err := share.Lay(ctx, r, maps)
	if err != nil {
		return nil, err
	}
	return &s.Layout, nil
}

// againMaps are the maps of what is cut again, in the order of it.
func againMaps(b *budget.Budget, q layout.Request, m *weeding.Map) (maps []*weeding.Map, err error) {
	parts := m.Apart(b)
	for _, a := range q.Again {
		one := m
		if a.Piece > 0 {
			at := partOf(parts, a.Piece)
			if at < 0 {
				return nil, &layout.RequestError{Field: "again", Reason: fmt.Sprintf("the drawing has no piece %d", a.Piece)}
			}
			if one, err = m.Alone(b, parts[at], q.Chart); err != nil {
				return nil, err
			}
		}
		maps = append(maps, one)
	}
	return maps, nil
}
