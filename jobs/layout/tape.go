package layout

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry"
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

// tape counts the transfer tape of all loads. It runs in one piece over the copies
// that lie in line, which are cut apart with it: along their longer sides, as wide as
// the shorter, or the other way where that takes fewer strips of a width in which tape is
// sold, that of the film (common practice, no source). Where copies in line lie
// farther apart than two grips, two pieces of tape take less. Work wider than the tape
// takes strips beside each other.
func (u *Usage) tape(b *budget.Budget, loads []Load, s workshop.Stock) {
	u.TapeTack = s.TapeTack
	for _, load := range loads {
		used := laid(b, load.Placements, s.TapeWidthMM, along)
		if other := laid(b, load.Placements, s.TapeWidthMM, across); other.strips < used.strips && other.wide <= s.WidthMM {
			used = other
		}
		u.TapePieces += used.pieces
		u.TapeStrips += used.strips
		u.TapeM += used.m
		u.TapeMM2 += used.mm2
	}
}

// tapeUse is the tape over the copies of one load.
type tapeUse struct {
	pieces, strips int
	m, mm2         float64
	wide           float64 // the widest piece, in mm
}

// laid lays tape of a width, 0 for any, over copies.
func laid(b *budget.Budget, placements []Placement, wide float64, way func(geometry.Box) taped) tapeUse {
	all := make([]taped, len(placements))
	for i, p := range placements {
		all[i] = way(p.Bounds)
	}
	slices.SortFunc(all, func(p, q taped) int {
		b.Step()
		return cmp.Or(cmp.Compare(p.line, q.line), cmp.Compare(p.from, q.from))
	})
	var use tapeUse
	for i := 0; i < len(all); {
		from, to, width := all[i].from, all[i].to, all[i].width
		line := all[i].line
		for i++; i < len(all) && all[i].line == line && all[i].from-to <= 2*tapeGrip; i++ {
			to, width = math.Max(to, all[i].to), math.Max(width, all[i].width)
		}
		strips := 1
		if wide > 0 {
			strips = nest.Panels(width, wide, tapeOverlap)
		}
		length := to - from + 2*tapeGrip
		use.wide = math.Max(use.wide, width)
		use.pieces++
		use.strips += strips
		use.m += length * float64(strips) / 1000
		use.mm2 += length * (width + float64(strips-1)*tapeOverlap)
	}
	return use
}

// taped is a copy as the tape runs over it, in mm.
type taped struct {
	line     float64 // where its strip lies; those along y lie below nought
	from, to float64 // along the strip
	width    float64 // of the strip
}

// along runs the tape along the longer sides of a copy.
func along(b geometry.Box) taped {
	if b.Width() >= b.Height() {
		return rightward(b)
	}
	return forward(b)
}

// across runs the tape along the shorter sides of a copy.
func across(b geometry.Box) taped {
	if b.Width() >= b.Height() {
		return forward(b)
	}
	return rightward(b)
}

func rightward(b geometry.Box) taped {
	return taped{line: b.Min.Y, from: b.Min.X, to: b.Max.X, width: b.Height()}
}

func forward(b geometry.Box) taped {
	return taped{line: -1 - b.Min.X, from: b.Min.Y, to: b.Max.Y, width: b.Width()}
}
