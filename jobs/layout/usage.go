package layout

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
)

// leastOffcut is the shorter side from which a remainder is worth keeping, in
// mm (common practice, no source).
const leastOffcut = 50

// measure fills in what the layout takes from the stores.
func (l *Layout) measure(b *budget.Budget, piece Piece, req Request, a area, allowed nest.Turns) {
	s := req.Stock
	copies := float64(req.Copies)
	u := Usage{}
	used := 0.0
	for _, load := range l.Loads {
		u.StockMM2 += load.taken()
		box := geometry.EmptyBox()
		for _, p := range load.Placements {
			b.Step()
			box = box.Union(p.Bounds)
		}
		used += box.Width() * box.Height()
		if a.roll {
			u.RollMM += load.LengthMM
		} else {
			u.Sheets += max(1, len(load.Sheets))
		}
	}
	u.NestWaste = waste(piece.footprint()*copies, used)
	u.ArtWaste = waste(piece.NetMM2*copies, used)
	u.ProcessWaste = waste(piece.NetMM2*copies, u.StockMM2)
	u.wastes(req)
	u.AreaBound = piece.bound(req, a, allowed)
	if needsTape(piece, req) {
		u.tape(b, l.Loads, s)
	}
	u.offcuts(b, func(int) *Piece { return &piece }, l.Loads[len(l.Loads)-1], s.GapMM)
	l.Usage = u
}

// taken is the area of stock in a load, in mm².
func (l Load) taken() float64 {
	if len(l.Sheets) == 0 {
		return l.WidthMM * l.LengthMM
	}
	area := 0.0
	for _, s := range l.Sheets {
		area += s.Width() * s.Height()
	}
	return area
}

// offcuts finds what the shapes on the last sheet, or on the length drawn, leave
// free, where that is worth keeping. It is trimmed by hand, without margins.
// of tells which piece a placement is one of.
func (u *Usage) offcuts(b *budget.Budget, of func(placement int) *Piece, load Load, gap float64) {
	sheet := geometry.Box{Max: geometry.Pt(load.WidthMM, load.LengthMM)}
	if n := len(load.Sheets); n > 0 {
		sheet = load.Sheets[n-1]
	}
	worth := func(box geometry.Box) *geometry.Box {
		if box.Width() < leastOffcut || box.Height() < leastOffcut {
			return nil
		}
		return &box
	}
	taken := taken(b, of, load, sheet)
	u.Offcut = worth(nest.Free(b, sheet, gap, taken))
	u.OffcutFullWidth = worth(nest.FreeAcross(b, sheet, gap, taken))
}

// mostPoints is how many points of outlines are looked at for an offcut. Beyond it
// the boxes of the copies stand for them, which never gives too large a one.
const mostPoints = 2_000_000

// offcutChord is how finely outlines are flattened for an offcut, in mm.
const offcutChord = 0.1

// taken returns the outlines of the copies on a sheet of the load.
func taken(b *budget.Budget, of func(placement int) *Piece, load Load, sheet geometry.Box) []nest.Outline {
	shapes := shapesOf(b, of, len(load.Placements))
	var all []nest.Outline
	for i, at := range load.Placements {
		if !sheet.Overlaps(at.Bounds) {
			continue
		}
		for _, o := range shapes[of(i)] {
			b.Spend(1 + len(o.Points))
			all = append(all, o.Moved(at.Transform))
		}
	}
	return all
}

// shapesOf returns the outlines of the pieces of n placements, or their rectangles where
// there would be too many points.
func shapesOf(b *budget.Budget, of func(placement int) *Piece, n int) map[*Piece][]nest.Outline {
	shapes, points := map[*Piece][]nest.Outline{}, 0
	for i := range n {
		piece := of(i)
		if _, ok := shapes[piece]; !ok {
			for _, path := range piece.outline() {
				shapes[piece] = append(shapes[piece], nest.Outline{Points: path.FlattenIn(b, offcutChord), Closed: path.Closed})
			}
		}
		for _, o := range shapes[piece] {
			points += len(o.Points)
		}
	}
	if points <= mostPoints {
		return shapes
	}
	for piece := range shapes {
		box := piece.Bounds.Corners()
		shapes[piece] = []nest.Outline{{Points: box[:], Closed: true}}
	}
	return shapes
}
