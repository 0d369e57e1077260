package toolpath

import (
	"iter"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/knife"
)

// Moves lists every move of the passes of a load in their order. The axis is at rest
// first, and the heading of the blade is not known then and after each change of the
// tool; otherwise a stroke begins with the heading that the one before has left.
func Moves(b *budget.Budget, rest geometry.Point, passes []Pass) iter.Seq[Move] {
	return func(yield func(Move) bool) {
		w := &Walk{At: rest}
		for i := range passes {
			for m := range w.Pass(b, i, &passes[i]) {
				if !yield(m) {
					return
				}
			}
		}
	}
}

// Walk is where the machine is between two passes.
type Walk struct {
	At      geometry.Point // of the axis
	Heading geometry.Point // of the blade; zero: not known
}

// Pass lists the moves of a pass, which has a number on its load, and leaves the
// walk behind it.
func (w *Walk) Pass(b *budget.Budget, number int, p *Pass) iter.Seq[Move] {
	return func(yield func(Move) bool) {
		r := runner{Walk: w, b: b, rule: p.Rule, yield: yield}
		r.now.Pass, r.now.Line = number, -1
		r.begin(p)
		for i := 0; i < p.Lines && !r.stopped; i++ {
			r.now.Line = i
			r.line(p.Line(i))
		}
	}
}

// runner hands out the moves of one pass.
type runner struct {
	*Walk
	b       *budget.Budget
	rule    Rule
	now     Move
	yield   func(Move) bool
	stopped bool // nobody listens any longer
}

// move hands out a move of the axis from where it is.
func (r *runner) move(k Kind, axis geometry.Segment) {
	r.b.Step()
	r.now.Kind, r.now.From, r.now.Axis = k, r.At, axis
	r.At = axis.End
	r.stopped = r.stopped || !r.yield(r.now)
}

// stand is a move that leaves the axis where it is.
func (r *runner) stand(k Kind) { r.move(k, geometry.LineTo(r.At)) }

// begin changes the tool and turns the blade where that has to be.
func (r *runner) begin(p *Pass) {
	if p.Changed {
		r.stand(Change)
		r.Heading = geometry.Point{}
	}
	if p.Lead == nil || p.Rule.OffsetMM <= 0 || r.Heading != (geometry.Point{}) {
		return
	}
	r.move(Travel, geometry.LineTo(p.Lead.From))
	r.stand(Lower)
	r.move(Lead, geometry.LineTo(p.Lead.To))
	r.stand(Lift)
	r.Heading = p.Lead.Heading()
}

// line runs a line: a closed one round after round without a lift, an open one
// or a dash again from its start.
func (r *runner) line(line geometry.Path) {
	r.now.Dash = 0
	knife.Dashes(r.b, line, r.rule.DashMM, r.rule.TieMM, func(segment int, cut geometry.Path) {
		rounds := max(1, r.rule.Rounds)
		for round := 0; round < rounds && !r.stopped; round++ {
			r.stroke(cut, segment, round, rounds)
			if cut.Closed {
				break
			}
		}
		r.now.Dash++
	})
}

// stroke runs one line or dash from lowering to lifting.
func (r *runner) stroke(cut geometry.Path, segment, round, rounds int) {
	r.now.Segment, r.now.Round, r.now.Tip = segment, round, cut.Start
	r.now.Drawn = geometry.LineTo(cut.Start)
	over := Travel
	if r.now.Dash > 0 && round == 0 {
		over = Tie
	}
	if r.now.Turned = r.rule.LiftBelowDeg > 0; r.now.Turned {
		r.Heading = geometry.Point{}
	}
	r.move(over, geometry.LineTo(r.rule.Start(cut, r.Heading)))
	r.stand(Lower)
	_, r.Heading = r.rule.Follow(r.b, cut, r.Heading, rounds, func(p knife.Piece) {
		r.now.Segment, r.now.Drawn = segment+p.Segment, p.Drawn
		if cut.Closed {
			r.now.Round = p.Round
		}
		r.piece(p)
		r.now.Tip = p.Drawn.End
	})
	r.now.Drawn = geometry.LineTo(r.now.Tip)
	r.stand(Lift)
}

// piece is one piece of the way of the axis. Where the blade is lifted to be turned,
// that is three moves.
func (r *runner) piece(p knife.Piece) {
	if !p.Lifted {
		r.move(kindOf(p), p.Axis)
		return
	}
	r.stand(Lift)
	r.move(Turn, p.Axis)
	r.stand(Lower)
}

func kindOf(p knife.Piece) Kind {
	switch {
	case p.Turns:
		return Swivel
	case p.Past:
		return Overcut
	}
	return Cut
}
