package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/workshop"
)

// tapeGrip is how far transfer tape reaches past each end of a strip, in mm, so
// that there is something to hold it by (common practice, no source).
const tapeGrip = 10

// needsTape reports whether the copies are carried on transfer tape. One kept
// piece is peeled off by hand like any sticker; on a wall tape keeps it straight
// and flat (common practice, no source).
func needsTape(piece Piece, req Request) bool {
	return req.Stock.TapeTack != "" && (!piece.Single || req.OnWall)
}

// tapeOverlap is how far strips of tape overlap over work that is wider than the
// tape, in mm: edge to edge the work would part along the seam (common practice, no
// source).
const tapeOverlap = 10

// tape counts the transfer tape of all loads. It runs along the longer sides of
// the copies, as wide as the shorter, and in one piece over those that lie in
// line: they are cut apart with it. Where copies in line lie farther apart than
// two grips, two pieces of tape take less. Work wider than the tape takes strips
// beside each other.
func (u *Usage) tape(b *budget.Budget, loads []Load, s workshop.Stock) {
	u.TapeTack = s.TapeTack
	for _, load := range loads {
		all := make([]taped, len(load.Placements))
		for i, p := range load.Placements {
			all[i] = tapedOf(p)
		}
		slices.SortFunc(all, func(p, q taped) int {
			b.Step()
			return cmp.Or(cmp.Compare(p.line, q.line), cmp.Compare(p.from, q.from))
		})
		for i := 0; i < len(all); {
			from, to, width := all[i].from, all[i].to, all[i].width
			line := all[i].line
			for i++; i < len(all) && all[i].line == line && all[i].from-to <= 2*tapeGrip; i++ {
				to = math.Max(to, all[i].to)
			}
			strips := 1
			if s.TapeWidthMM > 0 {
				strips = nest.Panels(width, s.TapeWidthMM, tapeOverlap)
			}
			length := to - from + 2*tapeGrip
			u.TapePieces++
			u.TapeStrips += strips
			u.TapeM += length * float64(strips) / 1000
			u.TapeMM2 += length * (width + float64(strips-1)*tapeOverlap)
		}
	}
}

// taped is a copy as the tape runs over it, in mm.
type taped struct {
	line     float64 // where its strip lies; those along y lie below nought
	from, to float64 // along the strip
	width    float64 // of the strip
}

func tapedOf(p Placement) taped {
	b := p.Bounds
	if b.Width() >= b.Height() {
		return taped{line: b.Min.Y, from: b.Min.X, to: b.Max.X, width: b.Height()}
	}
	return taped{line: -1 - b.Min.X, from: b.Min.Y, to: b.Max.Y, width: b.Width()}
}
