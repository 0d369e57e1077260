package weeding

import (
	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
)

// Bare returns the map without its weed border, what lies between that and the outermost
// outlines, and all relief lines: what a copy takes of a load that has one border round
// all that lies on it.
func (m *Map) Bare() *Map {
	bare := *m
	bare.Strokes, bare.Regions, bare.Steps = nil, nil, nil
	bare.Bounds = geometry.EmptyBox()
	for _, s := range m.Strokes {
		if s.Added != artwork.Border && s.Added != artwork.Relief {
			bare.Strokes = append(bare.Strokes, s)
			bare.Bounds = bare.Bounds.Union(s.Path.Bounds())
		}
	}
	for _, r := range m.Regions {
		if r.Class != Surround {
			bare.Regions = append(bare.Regions, r)
		}
	}
	return &bare
}

// Bordered reports whether the map has a weed border round a surround that is peeled.
func (m *Map) Bordered() bool {
	for i := range m.Regions {
		if m.Regions[i].Class == Surround {
			return true
		}
	}
	return false
}

// Round maps copies that lie beside each other with one weed border round all of them,
// and relief lines from one to the next: nothing that was added to their own maps is
// taken over. What each copy keeps is what its map keeps. Nothing is found or asked that
// their maps did not tell already. The error is one of planar.Arrange.
func Round(b *budget.Budget, all []Laid, req Request) (*Load, error) {
	req.Turned, req.Purpose, req.Border = nil, all[0].Map.Purpose, true
	l := &Load{}
	r, copyOf, err := l.readBare(b, all, newTerms(b, req))
	if err != nil {
		return nil, err
	}
	w := bridged{reading: r}.number().split().measure().weigh()
	owner := make([]int, 1, len(w.parts)+1)
	for i := range w.parts {
		owner = append(owner, copyOf[w.parts[i].base.face])
	}
	w.work = w.together(all)
	l.Map = w.steps()
	l.Map.Copies, l.Map.Risk, l.Map.Findings, l.Map.Questions = len(all), "", nil, nil
	for _, one := range all {
		l.risk(one.Map.Risk)
	}
	l.spread()
	l.order(b, all, owner)
	return l, nil
}

// RoundGroups maps copies that lie beside each other with one weed border round each group
// of them, as Round does it; groups list each copy once, by its index. The borders of two
// groups must not meet.
func RoundGroups(b *budget.Budget, all []Laid, groups [][]int, req Request) (*Load, error) {
	if len(groups) == 1 {
		return Round(b, all, req)
	}
	parts, on := make([]Laid, len(groups)), make([]*Load, len(groups))
	for g, group := range groups {
		members := make([]Laid, len(group))
		for j, k := range group {
			members[j] = all[k]
		}
		var err error
		if on[g], err = Round(b, members, req); err != nil {
			return nil, err
		}
		parts[g] = Laid{on[g].Map, geometry.Identity}
	}
	whole := Beside(b, parts)
	l := &Load{Map: whole.Map, Strokes: make([]Numbers, len(all)), Regions: make([]Numbers, len(all))}
	l.Map.Copies = len(all)
	for g, group := range groups {
		for j, k := range group {
			l.Strokes[k] = on[g].Strokes[j].after(whole.Strokes[g].From)
			l.Regions[k] = on[g].Regions[j].after(whole.Regions[g].From - 1)
		}
	}
	return l, nil
}

// after returns numbers that follow so many others.
func (n Numbers) after(others int) Numbers { return Numbers{n.From + others, n.To + others} }

// readBare arranges the bare copies on the load, and reads of each face whose copy it is,
// or -1, and whether it stays.
func (l *Load) readBare(b *budget.Budget, all []Laid, t terms) (reading, []int, error) {
	strokes, copyOfStroke := l.bareStrokes(b, all)
	r := reading{arranged: arranged{terms: t, strokes: strokes}}
	var err error
	if r.cells, err = arrange(b, strokes, t.chord); err != nil {
		return r, nil, err
	}
	keeps := map[*Map]Keeps{}
	r.kept = make([]bool, len(r.cells.Faces))
	copyOf := make([]int, len(r.kept))
	copyOf[0] = -1
	for f := int32(1); f < int32(len(r.kept)); f++ {
		edge := r.cells.HalfEdges(r.cells.Faces[f].Outer)[0].Edge()
		k := copyOfStroke[r.cells.stroke[r.cells.Sources(edge)[0]]]
		one := all[k]
		if _, ok := keeps[one.Map]; !ok {
			keeps[one.Map] = one.Map.Keeps(b)
		}
		back, _ := one.Move.Inverse()
		copyOf[f], r.kept[f] = k, keeps[one.Map].At(b, back.Apply(r.cells.deepWithin(b, f)))
	}
	return r, copyOf, nil
}

// bareStrokes returns the strokes of the bare copies on the load, and whose each is.
func (l *Load) bareStrokes(b *budget.Budget, all []Laid) (strokes []artwork.Stroke, copyOf []int) {
	for k, one := range all {
		from := len(strokes)
		for _, s := range one.Map.Strokes {
			if s.Added == artwork.Border || s.Added == artwork.Relief {
				continue
			}
			s.Path = reflection{b, one.Move}.path(s.Path)
			strokes, copyOf = append(strokes, s), append(copyOf, k)
		}
		l.Strokes = append(l.Strokes, Numbers{from, len(strokes)})
	}
	return strokes, copyOf
}

// together is the effort of copies without their own surrounds and with one round all.
func (t *terms) together(all []Laid) Effort {
	efforts := []Effort{t.times().Weigh(Effort{Grounds: 1}, t.req.Novice)}
	for _, one := range all {
		e := one.Map.Effort
		if one.Map.Bordered() && e.Grounds > 0 {
			e.Grounds--
		}
		efforts = append(efforts, t.times().Weigh(e, t.req.Novice))
	}
	return Sum(efforts)
}

// spread makes the seconds of the steps sum to the effort of all copies, whose difficulty
// is not that of the hardest.
func (l *Load) spread() {
	sum := 0.0
	for _, s := range l.Map.Steps {
		sum += s.Seconds
	}
	if sum <= 0 {
		return
	}
	for i := range l.Map.Steps {
		l.Map.Steps[i].Seconds *= l.Map.Effort.CopyS / sum
	}
}
