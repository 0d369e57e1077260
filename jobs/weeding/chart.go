package weeding

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// Chart maps what stays and what goes when the artwork is weeded.
//
// The cut strokes are flattened within req.ChordMM and arranged into regions.
// Crossing outlines are joined where that was decided. Every region is read as
// kept or removed, stencil islands are bridged, film gets its weed border and
// relief lines, and the removed regions are put into the order in which to
// peel them. Where two readings are possible, the map follows the likelier one
// and carries the question.
//
// What is wrong with the artwork is a finding in the map. The error is one of
// planar.Arrange, a coordinate that is not finite or beyond the kernel's reach,
// or the cause for which ctx ended.
func Chart(ctx context.Context, a *artwork.Artwork, req Request) (m *Map, err error) {
	stopped := budget.Run(ctx, func(b *budget.Budget) { m, err = chart(b, a, req) })
	if stopped != nil {
		return nil, stopped
	}
	return m, err
}

func chart(b *budget.Budget, a *artwork.Artwork, req Request) (*Map, error) {
	s := newStage(b, a, req)
	if err := s.arrange(); err != nil {
		return nil, err
	}
	s.judge()
	if err := (bridging{s}).bridge(); err != nil {
		return nil, err
	}
	s.list()
	s.turn()
	s.classify()
	s.relieve()
	s.measure()
	s.touch()
	weighing{s}.weigh()
	peeling{s}.order()
	return s.out, nil
}

// stage is the state of one Chart.
type stage struct {
	budget  *budget.Budget
	req     Request
	limits  workshop.Limits
	chord   float64
	strokes []artwork.Stroke // the artwork's, as decided so far
	cells   *cells
	sheet   bool   // the sheet round the artwork is kept: a stencil
	kept    []bool // by face
	base    []base // in the order of their numbers, from 1
	parts   []part // the regions of the map, by number
	out     *Map
}

// base is a region before relief lines split it.
type base struct {
	face  int32
	rings [][]geometry.Point
	class Class
	ties  []artwork.Stroke
	parts [][][]geometry.Point // its rings, or those of its parts
	stuck int                  // parts longer than the hand that could not be split
}

func newStage(b *budget.Budget, a *artwork.Artwork, req Request) *stage {
	s := &stage{
		budget: b, req: req, limits: req.Stock.Limits, chord: req.ChordMM, strokes: a.Strokes,
		out: &Map{Purpose: req.Purpose},
	}
	if s.limits == (workshop.Limits{}) {
		s.limits = workshop.DefaultLimits()
	}
	if s.chord <= 0 {
		s.chord = geometry.DefaultChord
	}
	return s
}

// arrange makes the cells, after joining crossing outlines where decided.
func (s *stage) arrange() (err error) {
	if s.cells, err = arrange(s.budget, s.strokes, s.chord); err != nil {
		return err
	}
	x := crossingsOf(s.budget, s.cells)
	if x.none() {
		return nil
	}
	answer := s.req.Replies[QuestionWeld].Answer
	if s.req.Weld || answer == AnswerWeld {
		s.strokes = weld(s.budget, s.cells, x)
		s.cells, err = arrange(s.budget, s.strokes, s.chord)
		return err
	}
	if answer != AnswerApart {
		return s.askWeld(x)
	}
	return nil
}

func (s *stage) find(f finding.Finding) { s.out.Findings = append(s.out.Findings, f) }

// judge reads every face as kept or removed.
func (s *stage) judge() {
	ink, question, places := reader{s.budget, s.cells}.read(s.req.Replies)
	if question != nil {
		s.find(finding.New(finding.RegionsUnclear, len(places), nil, places...))
		if len(s.out.Questions) == 0 { // one thing at a time: a weld may settle it
			s.out.Questions = append(s.out.Questions, *question)
		}
	}
	s.sheet = s.req.Purpose == Stencil && !s.edgeDrawn()
	s.kept = make([]bool, len(ink))
	for f := range ink {
		s.kept[f] = ink[f] != s.sheet
	}
}

// list numbers the bounded faces in reading order. The surround inside the
// weed border is the last, so that switching the border off moves no number.
func (s *stage) list() {
	var faces []int32
	for f := 1; f < len(s.cells.Faces); f++ {
		faces = append(faces, int32(f))
	}
	for _, f := range s.cells.readingOrder(s.budget, faces) {
		s.base = append(s.base, base{face: f, rings: s.cells.rings(s.budget, f)})
	}
	s.out.Bounds = s.bounds()
	if !s.needsBorder() {
		return
	}
	edge := border(s.out.Bounds, s.limits)
	s.out.Bounds = edge.Path.Bounds()
	corners := s.out.Bounds.Corners()
	rings := [][]geometry.Point{corners[:]}
	for _, hole := range s.cells.Holes(0) {
		s.budget.Spend(len(s.cells.HalfEdges(hole)))
		rings = append(rings, s.cells.Points(hole))
	}
	s.base = append(s.base, base{face: 0, rings: rings})
	s.strokes = append(s.strokes[:len(s.strokes):len(s.strokes)], edge)
}

// bounds returns the box of all strokes, those that do not cut included.
func (s *stage) bounds() geometry.Box {
	b := geometry.EmptyBox()
	for i := range s.strokes {
		s.budget.Spend(1 + len(s.strokes[i].Path.Segments))
		b = b.Union(s.strokes[i].Path.Bounds())
	}
	return b
}

// turn turns over the regions a person named.
func (s *stage) turn() {
	for _, number := range s.req.Turned {
		if number < 1 || number > len(s.base) {
			s.find(finding.New(finding.RegionUnknown, 1, finding.Values{"number": finding.Int(number), "regions": finding.Int(len(s.base))}))
			continue
		}
		f := s.base[number-1].face
		s.kept[f] = !s.kept[f]
	}
}

// classify says what each removed region is.
func (s *stage) classify() {
	for i := range s.base {
		b := &s.base[i]
		switch {
		case s.kept[b.face]:
			b.class = Kept
		case s.cells.depth[b.face] == 0:
			b.class = Surround
		case s.holds(b.face):
			b.class = Ground
		default:
			b.class = Counter
		}
	}
}

// holds reports whether kept film lies in a hole of the face.
func (s *stage) holds(face int32) bool {
	for _, hole := range s.cells.Holes(face) {
		s.budget.Spend(len(s.cells.HalfEdges(hole)))
		for _, h := range s.cells.HalfEdges(hole) {
			if s.kept[s.cells.Face(h.Twin())] {
				return true
			}
		}
	}
	return false
}
