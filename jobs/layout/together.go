package layout

import (
	"context"
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/workshop"
)

// Batch is copies of one piece that are laid together with those of others.
type Batch struct {
	Piece  Piece
	Copies int
}

// Joint is where the copies of several pieces lie on common loads.
type Joint struct {
	// Layout has a placement for each copy, with its number within its batch.
	Layout
	Of   [][]int // the batch of each placement, by load
	Left []int   // batches that fit on no sheet, and lie on none
	area area
}

// Together lays the copies of several pieces out on common sheets, or on runs of a roll:
// on as few as it finds a way to, by their rectangles, or by their true shapes where that
// is asked for and saves enough. The copies of a piece lie on one load where that costs
// nothing, and copies are turned alike unless turning some saves as much. inset is what
// stays free within the usable area all round, in mm.
//
// A batch that fits in no turn is left out. A roll that is too short is a finding and
// leaves the layout without loads. A request that makes no sense is a *RequestError.
// Where ctx ends first, its error is returned.
func Together(ctx context.Context, batches []Batch, req Request, inset float64) (j *Joint, err error) {
	for _, one := range batches {
		of := req
		of.Copies = one.Copies
		if err := check(one.Piece, of); err != nil {
			return nil, err
		}
	}
	stopped := budget.Run(ctx, func(b *budget.Budget) { j = together(b, batches, req, inset) })
	if stopped != nil {
		return nil, stopped
	}
	return j, nil
}

func together(b *budget.Budget, batches []Batch, req Request, inset float64) *Joint {
	j := &Joint{}
	j.mirror(req)
	var piles [2]pile // usual margins, and nearer to the edges
	piles[0].area = within(req)
	piles[0].area.box = piles[0].area.box.Grow(-inset)
	for i, one := range batches {
		b.Step()
		if !take(&piles, i, one, req, inset) {
			j.Left = append(j.Left, i)
		}
	}
	for i := range piles {
		if len(piles[i].pieces) > 0 {
			j.Findings = append(j.Findings, piles[i].area.notes...)
			j.fill(b, batches, req, &piles[i])
		}
	}
	if len(j.Loads) == 0 || !j.area.roll || j.holds(req) {
		j.account(b, batches, req)
	}
	return j
}

// take adds a batch to the pile of those that keep the usual margins, or of those that
// come nearer to the edges. It reports whether it fits at all.
func take(piles *[2]pile, batch int, one Batch, req Request, inset float64) bool {
	on := &piles[0]
	if !on.area.holds(one.Piece.Bounds) {
		a := new(Layout).usable(one.Piece, req)
		if a.box = a.box.Grow(-inset); a.box != on.area.box {
			on = &piles[1]
			on.area = a
		}
	}
	turns := one.Piece.turns(req, on.area)
	if !turns.Straight && !turns.Quarter {
		return false
	}
	on.add(batch, one, turns)
	return true
}

// turns says in which turns a piece fits, as for a piece alone, but that one that would
// have to be turned across the grain does not fit: nobody can be asked for each.
func (p Piece) turns(req Request, a area) nest.Turns {
	b := p.Bounds
	can := nest.Turns{Straight: a.takes(b.Width(), b.Height()), Quarter: a.takes(b.Height(), b.Width())}
	switch worse := p.TurnedMM - p.AcrossMM; {
	case worse > sameAcross:
		can.Quarter = false
	case worse < -sameAcross && can.Quarter:
		can.Straight = false
	}
	return can
}

// fill puts the copies of a pile on loads.
func (j *Joint) fill(b *budget.Budget, batches []Batch, req Request, p *pile) {
	j.area = p.area
	sheets, most := p.sheets(b, req, p.area), p.area.sheetsAtOnce(req)
	copies := make([]int, len(batches))
	for first := 0; first < len(sheets); first += most.column * most.row {
		on := sheets[first:min(len(sheets), first+most.column*most.row)]
		load, origins := j.area.empty(len(on), on[0].lengthMM, most, req.Stock)
		load.Number = len(j.Loads) + 1
		var of []int
		for i, sheet := range on {
			for k, at := range sheet.spots {
				b.Step()
				batch := sheet.of[k]
				copies[batch]++
				load.Placements = append(load.Placements, placed(batches[batch].Piece, origins[i], at, copies[batch], j.Mirrored))
				of = append(of, batch)
			}
		}
		j.Loads, j.Of = append(j.Loads, load), append(j.Of, of)
	}
}

// holds reports whether the roll holds the loads, or says that it does not.
func (j *Joint) holds(req Request) bool {
	s, copies := req.Stock, 0
	need, fit, left := 0.0, 0, s.LengthMM
	for _, load := range j.Loads {
		need += load.LengthMM
		copies += len(load.Placements)
		if load.LengthMM <= left {
			fit += len(load.Placements)
		} else {
			fit += load.before(left - s.TailMM)
		}
		left = math.Max(0, left-load.LengthMM)
	}
	if s.LengthMM == 0 || need <= s.LengthMM || s.Form != workshop.Roll {
		return true
	}
	j.tooShort(s, need, copies, fit)
	j.Of = nil
	return false
}
