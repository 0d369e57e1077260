package irregular

import (
	"math"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/separate"
	"knifedesk/geometry/planar"
)

// Nest lays the pieces out, and tells its budget how far it is. It refuses a problem with ErrSize, with a
// *PieceError, or with an error of the planar kernel.
func Nest(b *budget.Budget, p Problem, opt Options) (Layout, error) {
	if !p.chooses() {
		s, err := prepare(b, p, true)
		if err != nil {
			return Layout{}, err
		}
		return s.solve(b, opt, opt.Effort.work())
	}
	alike, err := prepare(b, p, false)
	if err != nil {
		return Layout{}, err
	}
	mixed, err := prepare(b, p, true)
	if err != nil {
		return Layout{}, err
	}
	work := opt.Effort.work() / 2
	first, err := alike.solve(b.Part(0, 0.5), opt, work)
	if err != nil {
		return Layout{}, err
	}
	first.LeastSheets, first.LeastMM = mixed.bound()
	if first.Sheets == first.LeastSheets && first.LengthMM-first.LeastMM <= p.WorthMM {
		return first, nil
	}
	opt.Start = first.Placements
	second, err := mixed.solve(b.Part(0.5, 1), opt, work)
	if err != nil {
		return Layout{}, err
	}
	if saved := first.total() - second.total(); first.Sheets == second.Sheets && (saved <= 0 || saved < p.WorthMM) {
		return first, nil
	}
	return second, nil
}

// chooses reports whether turns differ in cost, or are only mixed where that is
// worth it, so that a layout with the cheapest turn of each piece is tried
// first.
func (p *Problem) chooses() bool {
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		for k := range piece.Turns {
			if p.WorthMM > 0 && k > 0 || piece.turn(k).CostMM != piece.turn(0).CostMM {
				return true
			}
		}
	}
	return false
}

// solve searches with so much work for each stream.
func (s *stock) solve(b *budget.Budget, opt Options, work int) (Layout, error) {
	best := s.begin(b, opt)
	if len(best.Placements) == 0 {
		if s.moving == 0 {
			return best, nil
		}
		return best, ErrNoRoom
	}
	if s.moving > most {
		return best, nil
	}
	found := s.search(b, opt.Seed, best, work)
	for _, t := range found {
		if l, ok := s.finish(b, t.room, t.best); ok && l.better(&best) {
			best = l
		}
	}
	return best, nil
}

// least returns the fewest sheets and, with so many, the shortest last one, in
// steps, that hold all pieces: by area, grown by half the clearance, and by the
// length of each piece alone.
func (s *stock) least() (sheets int, last float64) {
	half := s.problem.ClearanceMM/2 - s.problem.EdgeMM
	width := s.problem.Sheet.WidthMM + 2*half
	tallest := 0.0
	for i := range s.moving {
		h := math.Inf(1)
		for _, o := range s.items[i].Turns {
			h = min(h, o.Tall)
		}
		tallest = max(tallest, h)
	}
	area := s.area / width // as length in mm
	if s.problem.Sheet.LengthMM == 0 {
		return 1, max(tallest, math.Floor((area-2*half)*planar.PerMM)-2*s.inset)
	}
	full := s.problem.Sheet.LengthMM + 2*half
	sheets = max(1, int(math.Ceil(area/full-1e-9)))
	last = (area - float64(float64(sheets-1)*full) - 2*half) * planar.PerMM
	if sheets == 1 {
		return 1, max(tallest, math.Floor(last)-2*s.inset)
	}
	return sheets, max(0, math.Floor(last)-2*s.inset)
}

// bound returns what least does, the length in mm from the start of the sheet.
func (s *stock) bound() (sheets int, mm float64) {
	sheets, last := s.least()
	return sheets, (last + 2*s.inset) / planar.PerMM
}

// search runs streams from a layout, and returns them with the best one first.
func (s *stock) search(b *budget.Budget, seed uint64, start Layout, work int) []*stream {
	room, places := s.places(start)
	sheets, last := s.least()
	all := make([]*stream, streams)
	for i := range all {
		random := separate.Random(seed*streams + uint64(i))
		all[i] = newStream(s, room, places, random.Next())
	}
	enough := func() bool {
		t := all[0]
		return t.room.Sheets == sheets && t.room.Last <= last+max(1, s.problem.WorthMM*planar.PerMM)
	}
	for r := 1; r <= rounds && !enough(); r++ {
		budget.Each(b, processors(), streams, func(b *budget.Budget, i int) {
			all[i].run(b, last, work/rounds*exploring, work/rounds*rounds, work/rounds*r)
		})
		meet(all)
		b.Tell(float64(r) / rounds)
	}
	return all
}
