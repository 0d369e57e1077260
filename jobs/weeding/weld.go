package weeding

import (
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// ID of the question about crossing outlines, and of its answers.
const (
	QuestionWeld = Name + "/weld"
	AnswerWeld   = "weld"
	AnswerApart  = "as_drawn"
)

// askWeld asks whether crossing outlines are to be joined, and says what each
// answer makes of the drawing.
func (s *arranged) askWeld(x crossings) error {
	joined, err := arrange(s.budget, weld(s.budget, s.cells, x), s.chord)
	if err != nil {
		return err
	}
	places := x.places(s.budget, s.cells)
	s.find(finding.New(finding.OutlinesCross, len(places), nil, places...))
	answer := func(id, label, why string, c *cells) ask.Answer {
		r := reader{s.budget, c}
		in, _, _ := r.read(s.req.Replies)
		return r.answer(id, label, in, why)
	}
	s.ask(s.finished(ask.Question{
		ID: QuestionWeld, Code: finding.OutlinesCross, Places: places,
		Text: "Some outlines run over each other. Join them into one outline?",
		Answers: []ask.Answer{
			answer(AnswerWeld, "Join them: cut only round the outside of the overlapping shapes", "Overlapping letters and shapes then hold together.", joined),
			answer(AnswerApart, "Cut every line as it is drawn", "Each overlap is then cut out by itself.", s.cells),
		},
	}))
	return nil
}

// welder joins outlines that cross.
type welder struct {
	budget *budget.Budget
	c      *cells
	x      crossings
	closed []int32                  // closed cut strokes
	holeOf map[int32]int32          // hole: the solid that holds it
	solid  map[int32]bool           // unfilled strokes that are no holes
	joined map[int32]int32          // crossing strokes: smallest stroke of their group
	inside map[int32]int32          // closed stroke: a face that it runs round
	ink    []bool                   // by face
	like   map[int32]artwork.Stroke // by group: what its outlines are like
	on     []int32                  // the closed strokes along the edge that is looked at
}

// weld returns the strokes of c with all crossing outlines replaced by the outline
// of their union. Outlines that stay as they are keep their curves; joined
// ones are straight pieces within the chord tolerance of the map.
//
// An unfilled outline inside an even number of others is a solid, one inside
// an odd number a hole of the innermost solid round it; a face is inside the
// union when it is inside a solid and outside its holes, or inside a filled
// shape by its rule.
func weld(b *budget.Budget, c *cells, x crossings) []artwork.Stroke {
	w := welder{budget: b, c: c, x: x, holeOf: map[int32]int32{}, solid: map[int32]bool{}, joined: map[int32]int32{}, inside: map[int32]int32{}}
	w.group()
	w.sort()
	w.fill()
	return w.strokes()
}

// group joins the strokes that cross into groups named by their smallest.
func (w *welder) group() {
	var find func(s int32) int32
	find = func(s int32) int32 {
		w.budget.Step()
		if p, ok := w.joined[s]; ok && p != s {
			return find(p)
		}
		return s
	}
	for _, s := range w.x.self {
		w.joined[s] = s
	}
	for _, p := range w.x.pairs {
		a, b := find(p[0]), find(p[1])
		w.joined[max(a, b)], w.joined[min(a, b)] = min(a, b), min(a, b)
	}
	for s, first := range w.x.first {
		if _, crossed := w.joined[first]; crossed && s != first {
			w.joined[s] = first
		}
	}
	for s := range w.joined {
		w.joined[s] = find(s)
	}
}

// sort tells the unfilled solids and holes apart.
func (w *welder) sort() {
	parents := map[int32][]int32{}
	for edge := range w.c.Edges {
		w.on = w.c.closedOn(w.budget, int32(edge), w.on[:0])
		for _, s := range w.on {
			if _, known := parents[s]; !known {
				parents[s] = w.parents(int32(edge), s)
				w.closed = append(w.closed, s)
				if w.inside[s] = w.c.Edges[edge].Left; w.c.turns(w.inside[s], s) == 0 {
					w.inside[s] = w.c.Edges[edge].Right
				}
			}
		}
	}
	slices.Sort(w.closed)
	for _, s := range w.closed {
		if w.c.strokes[s].Fill == "" && len(parents[s])%2 == 0 {
			w.solid[s] = true
		}
	}
	for _, s := range w.closed {
		if w.solid[s] || w.c.strokes[s].Fill != "" {
			continue
		}
		w.budget.Spend(len(parents[s]))
		inner := int32(-1)
		for _, p := range parents[s] {
			if w.solid[p] && (inner < 0 || len(parents[p]) > len(parents[inner])) {
				inner = p
			}
		}
		if inner >= 0 {
			w.holeOf[s] = inner
		}
	}
}

// parents returns the unfilled strokes that hold s, which runs along edge,
// and do not cross it.
func (w *welder) parents(edge, s int32) []int32 {
	e := w.c.Edges[edge]
	var parents []int32
	for in := range w.c.round(w.budget, e.Left) {
		p := in.stroke
		if p == s || w.c.strokes[p].Fill != "" || w.c.turns(e.Right, p) == 0 {
			continue
		}
		if !w.x.cross(p, s) {
			parents = append(parents, p)
		}
	}
	return parents
}

// fill decides for every face whether it belongs to the union.
func (w *welder) fill() {
	w.ink = reader{w.budget, w.c}.byFill()
	for f := range w.ink {
		round := w.c.round(w.budget, int32(f))
		if w.ink[f] {
			continue
		}
		open := map[int32]bool{} // solids with a hole round the face
		for in := range round {
			if solid, ok := w.holeOf[in.stroke]; ok {
				open[solid] = true
			}
		}
		for in := range round {
			if w.solid[in.stroke] && !open[in.stroke] {
				w.ink[f] = true
			}
		}
	}
}

// strokes returns all strokes after the weld, the joined ones at the place of
// the smallest stroke of their group.
func (w *welder) strokes() []artwork.Stroke {
	w.like = w.kinds()
	lost := w.lost()
	outlines := w.outlines()
	var out []artwork.Stroke
	for i := range w.c.strokes {
		s := int32(i)
		group, joins := w.joined[s]
		if !joins && !lost[s] {
			out = append(out, w.adopted(s))
		}
		if joins && group == s {
			out = append(out, outlines[s]...)
		}
	}
	return out
}

// adopted returns a stroke that crosses no other. A filled one that a joined
// outline of its own shape holds, as a letter its counter, goes over to the
// joined shape: by itself it would be filled.
func (w *welder) adopted(s int32) artwork.Stroke {
	own := w.c.strokes[s]
	if own.Fill == "" {
		return own
	}
	for in := range w.c.round(w.budget, w.inside[s]) {
		if group, joins := w.joined[in.stroke]; joins && w.c.strokes[in.stroke].Shape == own.Shape {
			like := w.like[group]
			own.Shape, own.Fill = like.Shape, like.Fill
			return own
		}
	}
	return own
}

// lost finds the closed strokes that lie in a crossing one and bound nothing
// after the weld, because other shapes cover them.
func (w *welder) lost() map[int32]bool {
	lost := map[int32]bool{}
	for edge, e := range w.c.Edges {
		w.on = w.c.closedOn(w.budget, int32(edge), w.on[:0])
		for _, s := range w.on {
			if w.ink[e.Left] != w.ink[e.Right] {
				lost[s] = false
			} else if _, known := lost[s]; !known {
				lost[s] = w.covered(e.Left)
			}
		}
	}
	return lost
}

// covered reports whether a crossing stroke runs round the face.
func (w *welder) covered(face int32) bool {
	for in := range w.c.round(w.budget, face) {
		if _, joins := w.joined[in.stroke]; joins {
			return true
		}
	}
	return false
}

// outlines returns the outlines of the union by group.
func (w *welder) outlines() map[int32][]artwork.Stroke {
	t := newTracer(w.budget, w.c)
	for edge, e := range w.c.Edges {
		if w.ink[e.Left] == w.ink[e.Right] {
			continue
		}
		if _, joins := w.groupOn(int32(edge)); joins {
			h := planar.HalfEdge(2 * edge)
			if w.ink[e.Right] {
				h = h.Twin()
			}
			t.add(h)
		}
	}
	outlines := map[int32][]artwork.Stroke{}
	for _, loop := range t.loops() {
		g, _ := w.groupOn(loop[0].Edge())
		s := w.like[g]
		s.Path, s.Sources = w.c.path(w.budget, loop), w.sources(g, loop)
		outlines[g] = append(outlines[g], s)
	}
	return outlines
}

// groupOn returns the group of the first crossing stroke along an edge, and whether there
// is one.
func (w *welder) groupOn(edge int32) (group int32, joins bool) {
	w.on = w.c.closedOn(w.budget, edge, w.on[:0])
	for _, s := range w.on {
		if group, joins = w.joined[s]; joins {
			return group, true
		}
	}
	return 0, false
}

// kinds returns by group a stroke with its properties: those of its first stroke, and
// a fill where all of them are filled.
func (w *welder) kinds() map[int32]artwork.Stroke {
	kinds := map[int32]artwork.Stroke{}
	for _, i := range w.closed {
		g, joins := w.joined[i]
		if !joins {
			continue
		}
		w.budget.Step()
		like, known := kinds[g]
		if !known {
			like = w.c.strokes[g]
			like.Sources, like.Fill = nil, drawing.EvenOdd
		}
		if w.c.strokes[i].Fill == "" {
			like.Fill = ""
		}
		kinds[g] = like
	}
	return kinds
}

// sources returns where the strokes of a group that run along a loop come from, in the
// order of the strokes, and no more of them than a finding has places. What lies within
// the union is told with none of its outlines.
func (w *welder) sources(group int32, loop []planar.HalfEdge) []drawing.Source {
	var along []int32
	last := int32(-1)
	for _, h := range loop {
		for _, s := range w.c.closedOn(w.budget, h.Edge(), nil) {
			if g, joins := w.joined[s]; joins && g == group && s != last {
				along, last = append(along, s), s
			}
		}
	}
	slices.Sort(along)
	var sources []drawing.Source
	for _, s := range slices.Compact(along) {
		if sources = append(sources, w.c.strokes[s].Sources...); len(sources) >= finding.MaxPlaces {
			return sources[:finding.MaxPlaces:finding.MaxPlaces]
		}
	}
	return sources
}
