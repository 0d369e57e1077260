package irregular

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest/irregular/internal/outline"
	"knifedesk/geometry/nest/irregular/internal/separate"
	"knifedesk/geometry/nest/irregular/internal/table"
	"knifedesk/geometry/planar"
)

// Outlines with more corners than simple are drawn with fewer, as long as they
// grow by no more than this share of their area.
const (
	simple    = 40
	simplerBy = 0.002
)

// largest is the largest measure in mm, so that products of two fit 64 bits.
const largest = 50e3

// stock is a problem in the terms of the search: lengths in steps of the grid.
// The room begins inset from the corner of the sheet.
type stock struct {
	problem Problem
	items   []separate.Item  // one for each copy, then zones
	owner   []int            // the piece of each copy
	turns   [][]int          // of each piece: for each turn of its items, the index among its turns
	zones   []separate.Place // of the zones, on the first sheet
	moving  int
	shapes  []table.Shape // of all turns and zones, each once
	tables  *table.Store
	room    separate.Room
	grown   float64 // by how much outlines are larger than the pieces
	inset   float64
	give    float64
	area    float64 // that copies take at least, in mm²
}

// steps returns a length in whole steps.
func steps(mm float64) float64 { return math.Floor(float64(mm*planar.PerMM) + 0.5) }

// prepare makes items of a problem, with all turns or only the cheapest of each
// piece.
func prepare(b *budget.Budget, p Problem, free bool) (*stock, error) {
	for _, v := range []float64{p.Sheet.WidthMM, p.Sheet.LengthMM, p.ClearanceMM, p.EdgeMM} {
		if !(v >= 0 && v < largest) {
			return nil, ErrSize
		}
	}
	s := &stock{problem: p}
	if p.ClearanceMM > 0 {
		s.grown = math.Ceil(float64(p.ClearanceMM/2*planar.PerMM) - 1e-6)
	}
	s.inset = steps(p.EdgeMM) - s.grown
	s.room = separate.Room{Sheets: 1, Width: steps(p.Sheet.WidthMM) - 2*s.inset}
	if p.Sheet.LengthMM > 0 {
		s.room.Length = steps(p.Sheet.LengthMM) - 2*s.inset
	}
	s.give = max(2, min(10, math.Floor(s.room.Width*1e-5)))
	for i, piece := range p.Pieces {
		if err := s.addPiece(b, i, piece, free); err != nil {
			return nil, &PieceError{i, err}
		}
	}
	s.moving = len(s.items)
	for _, zone := range p.Sheet.Zones {
		if err := s.addZone(b, zone); err != nil {
			return nil, err
		}
	}
	s.tables = table.NewStore(s.shapes, 2*s.give)
	return s, nil
}

// shape is a piece as grown by half the clearance.
type shape struct {
	rings [][]outline.Point
	poles []outline.Pole
	bare  [][]outline.Point // as it is
	area  float64           // mm²
}

// grow makes a shape of an area.
func (s *stock) grow(b *budget.Budget, area planar.Polygons, hull, odd bool) (shape, error) {
	bare, err := planar.Union(b, area.Region())
	if err != nil {
		return shape{}, err
	}
	if len(bare) == 0 {
		return shape{}, ErrEmpty
	}
	one := shape{bare: onGrid(bare)}
	if hull {
		one.bare = [][]outline.Point{outline.Hull(one.bare)}
		bare = offGrid(one.bare)
	}
	least, most := bare, bare
	switch {
	case s.grown > 0:
		// Chords of the arcs round corners lie within them; corners that are cut off
		// square at the distance lie without.
		by := s.problem.ClearanceMM / 2
		if least, err = (planar.Offset{By: by}).Of(b, bare.Region()); err == nil {
			by = s.grown / planar.PerMM
			most, err = planar.Offset{By: by, Join: planar.Mitre, MitreLimit: 1}.Of(b, bare.Region())
		}
	case odd: // corners are rounded to the grid after the turn
		most, err = planar.Offset{By: 2.0 / planar.PerMM, Join: planar.Mitre}.Of(b, bare.Region())
	}
	if err != nil {
		return shape{}, err
	}
	one.area = least.Area()
	one.rings = outline.Simplify(onGrid(most), simple, simplerBy)
	one.poles = outline.Poles(one.rings)
	return one, nil
}

// turned returns the outline of a shape in a turn.
func (s *stock) turned(one *shape, degrees float64) *outline.Outline {
	cos, sin := cosSin(degrees)
	low, high := outline.Box(turnedRings(one.bare, cos, sin))
	g := int64(s.grown)
	low, high = outline.Point{X: low.X - g, Y: low.Y - g}, outline.Point{X: high.X + g, Y: high.Y + g}
	return outline.New(turnedRings(one.rings, cos, sin), turnedPoles(one.poles, cos, sin), low, high, s.give)
}

// addPiece makes items of the copies of a piece.
func (s *stock) addPiece(b *budget.Budget, index int, piece Piece, free bool) error {
	turns := cheapest(piece)
	odd := slices.ContainsFunc(turns, func(t int) bool { return math.Mod(piece.turn(t).Degrees, 90) != 0 })
	one, err := s.grow(b, piece.Area, piece.Hull, odd)
	if err != nil {
		return err
	}
	s.area += float64(float64(piece.Demand) * one.area)
	item := separate.Item{Kind: index}
	var kept []int
	for _, t := range turns {
		o := s.turned(&one, piece.turn(t).Degrees)
		fits := o.W <= s.room.Width && (s.room.Length == 0 || o.H <= s.room.Length)
		same := slices.ContainsFunc(item.Turns, func(q *outline.Outline) bool { return q.Same(o) })
		if !fits || same || !free && len(kept) > 0 {
			continue
		}
		item.Turns = append(item.Turns, o)
		s.shapes = append(s.shapes, s.inTables(o, index, piece.turn(t).Degrees))
		kept = append(kept, t)
	}
	if len(kept) == 0 {
		return ErrTooWide
	}
	s.turns = append(s.turns, kept)
	for range piece.Demand {
		s.items = append(s.items, item)
		s.owner = append(s.owner, index)
	}
	return nil
}

// inTables returns the outline of a piece in a turn as it has tables: those turned by
// quarters share them.
func (s *stock) inTables(o *outline.Outline, piece int, degrees float64) table.Shape {
	quarters := degrees / 90
	if quarters != math.Floor(quarters) {
		return table.Shape{Outline: o, Piece: -1 - len(s.shapes)}
	}
	return table.Shape{Outline: o, Piece: piece, Quarter: int(math.Mod(math.Mod(quarters, 4)+4, 4))}
}

// cheapest returns the indices of the turns of a piece, the cheapest first.
func cheapest(p Piece) []int {
	order := make([]int, max(1, len(p.Turns)))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(p.turn(i).CostMM, p.turn(k).CostMM) })
	return order
}

// turn returns one of the turns of a piece.
func (p *Piece) turn(i int) Turn {
	if len(p.Turns) == 0 {
		return Turn{}
	}
	return p.Turns[i]
}

// addZone makes an item of a zone.
func (s *stock) addZone(b *budget.Budget, zone planar.Polygon) error {
	one, err := s.grow(b, planar.Polygons{zone}, false, false)
	if err != nil {
		return err
	}
	o := s.turned(&one, 0)
	s.items = append(s.items, separate.Item{Kind: -1, Turns: []*outline.Outline{o}})
	s.shapes = append(s.shapes, table.Shape{Outline: o, Piece: -1 - len(s.shapes)})
	s.zones = append(s.zones, separate.Place{X: float64(o.At.X) - s.inset, Y: float64(o.At.Y) - s.inset})
	return nil
}
