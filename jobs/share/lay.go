package share

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// Lay lays the copies of all members on common loads, each whole; maps are the weeding
// maps of the members, in the order of these.
//
// Film is laid twice, with a weed border round each copy and with one round all on a sheet,
// and what takes fewer sheets, or else less cutting, is taken. A member that fits on no
// sheet is a finding that names it, and the others go on; where none fits nothing is laid.
// A request that makes no sense is a *layout.RequestError. Where ctx ends first, its error
// is returned.
func Lay(ctx context.Context, req Request, maps []*weeding.Map) (*Share, error) {
	if err := req.check(maps); err != nil {
		return nil, err
	}
	twice := req.mayShareBorder(maps)
	first, second := ctx, ctx
	if twice {
		first, second = budget.Part(ctx, 0, 0.5), budget.Part(ctx, 0.5, 1)
	}
	each, err := req.lay(first, maps, false)
	if err != nil {
		return nil, err
	}
	best := each
	if twice {
		one, err := req.lay(second, maps, true)
		if err != nil {
			return nil, err
		}
		if one.better(each) {
			best = one
		}
	}
	return best, nil
}

// check refuses a request with which nothing can be laid.
func (r Request) check(maps []*weeding.Map) error {
	if len(maps) != len(r.Members) || len(maps) == 0 {
		return &layout.RequestError{Field: "members", Reason: "there is not one weeding map for each"}
	}
	for i, m := range r.Members {
		switch {
		case m.Copies < 1 || m.Spares < 0:
			return &layout.RequestError{Field: "members.copies", Reason: m.Code + " has none"}
		case i > 0 && r.Members[i-1].Code >= m.Code:
			return &layout.RequestError{Field: "members", Reason: m.Code + " is not after the one before it"}
		case maps[i].Purpose != maps[0].Purpose || maps[i].Mirrored != maps[0].Mirrored:
			return &layout.RequestError{Field: "members", Reason: m.Code + " is of another purpose, or mirrored unlike the others"}
		}
	}
	return nil
}

// mayShareBorder reports whether a border may run round a load: on film of which some
// member has one.
func (r Request) mayShareBorder(maps []*weeding.Map) bool {
	if r.Layout.Chart.PanelBorder() == 0 || maps[0].Purpose == weeding.Stencil {
		return false
	}
	for _, m := range maps {
		if m.Bordered() {
			return true
		}
	}
	return false
}

// lay lays all with a border round each load, or as the members' own maps have it.
func (r Request) lay(ctx context.Context, maps []*weeding.Map, round bool) (*Share, error) {
	batches, inset := r.batches(maps, round)
	joint, err := layout.Together(ctx, batches, r.Layout, inset)
	if err != nil {
		return nil, err
	}
	s := &Share{Layout: joint.Layout}
	s.Loads = nil
	var lost error
	err = budget.Run(ctx, func(b *budget.Budget) {
		for i := 0; i < len(joint.Loads) && lost == nil; i++ {
			lost = s.add(b, r, maps, joint, i, round)
		}
	})
	if err == nil {
		err = lost
	}
	if err != nil {
		return nil, err
	}
	s.portion(r, joint, batches)
	s.border(maps, round)
	return s, nil
}

// batches are the members' pieces, and what is kept free for a border round all of them.
func (r Request) batches(maps []*weeding.Map, round bool) (all []layout.Batch, inset float64) {
	for i, m := range maps {
		if round {
			m = m.Bare()
		}
		all = append(all, layout.Batch{Piece: layout.PieceOf(m, r.Layout.Stock), Copies: r.Members[i].all()})
	}
	if round {
		inset = r.Layout.Chart.PanelBorder()
	}
	return all, inset
}

// add adds a load of the joint layout with its map.
func (s *Share) add(b *budget.Budget, r Request, maps []*weeding.Map, joint *layout.Joint, i int, round bool) error {
	load := joint.Loads[i]
	back := s.reflection(load.Placements) // from the load to its map
	all := make([]weeding.Laid, len(load.Placements))
	for k, at := range load.Placements {
		all[k] = weeding.Laid{Map: maps[joint.Of[i][k]], Move: at.Transform.Then(back)}
	}
	on, err := r.together(b, &load, all, round)
	if err != nil {
		return err
	}
	s.Maps = append(s.Maps, on.Map)
	load.Map, load.Places = len(s.Maps), make([]layout.MemberPlace, len(all))
	for k, at := range load.Placements {
		m := r.Members[joint.Of[i][k]]
		load.Places[k] = layout.MemberPlace{
			Code: m.Code, Copy: at.Copy, Spare: at.Copy > m.Copies, Sheet: sheetOf(&load, at.Bounds),
			TurnDeg: at.TurnDeg, Transform: at.Transform, Bounds: at.Bounds,
			Strokes: layout.Range(on.Strokes[k]), Regions: layout.Range(on.Regions[k]),
		}
	}
	load.Placements = []layout.Placement{{Copy: load.Number, Transform: back, Bounds: on.Map.Bounds}}
	s.Loads = append(s.Loads, load)
	return nil
}

// reflection turns a load over in its own middle where it is cut mirrored: its map is then
// that of the front.
func (s *Share) reflection(all []layout.Placement) geometry.Affine {
	if !s.Mirrored {
		return geometry.Identity
	}
	content := geometry.EmptyBox()
	for _, at := range all {
		content = content.Union(at.Bounds)
	}
	return geometry.Affine{A: -1, D: 1, E: content.Min.X + content.Max.X}
}

// sheetOf is the sheet of a load on which a box lies, from 1; 0 where there is one.
func sheetOf(load *layout.Load, box geometry.Box) int {
	for i, sheet := range load.Sheets {
		if sheet.Contains(box.Centre()) {
			return i + 1
		}
	}
	return 0
}

// border says which border was drawn.
func (s *Share) border(maps []*weeding.Map, round bool) {
	if round {
		s.Border = BorderLoad
		return
	}
	for _, m := range maps {
		if m.Bordered() {
			s.Border = BorderEach
		}
	}
}

// better reports whether s takes fewer sheets, or else less cutting, than another. What
// leaves out more, or is not laid at all, is no better.
func (s *Share) better(than *Share) bool {
	switch {
	case s.left() != than.left():
		return s.left() < than.left()
	case (len(s.Loads) == 0) != (len(than.Loads) == 0):
		return len(s.Loads) > 0
	case s.Usage.Sheets != than.Usage.Sheets:
		return s.Usage.Sheets < than.Usage.Sheets
	}
	return s.cutMM() < than.cutMM()
}

// left is how many members are left out.
func (s *Share) left() int {
	n := 0
	for _, p := range s.Shares {
		if p.Left {
			n++
		}
	}
	return n
}

// cutMM is the length of all that is cut.
func (s *Share) cutMM() float64 {
	sum := 0.0
	for _, m := range s.Maps {
		for i := range m.Strokes {
			if m.Strokes[i].Operation.Cuts() {
				sum += m.Strokes[i].Path.Length()
			}
		}
	}
	return sum
}

// Whole is what the maps of all loads have in common, without lines or regions: what they
// are for, and whether they are cut mirrored.
func (s *Share) Whole() *weeding.Map {
	if len(s.Maps) == 0 {
		return &weeding.Map{Mirrored: s.Mirrored}
	}
	return &weeding.Map{Purpose: s.Maps[0].Purpose, Mirrored: s.Mirrored, Effort: s.Effort(weeding.Effort{})}
}
