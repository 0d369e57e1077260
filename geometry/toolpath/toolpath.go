// Package toolpath expands the passes of a load into every move of the machine.
//
// What is kept of a load is short: a rule a pass and an entry a stroke. Moves
// works the rest out one move at a time, so that what takes the time, proves the
// cut, draws it or writes it to a file reads the same object, and no list of all
// moves is ever held.
//
// Lengths are in mm. The axis is what the machine moves; the tip of a knife
// trails it (see knife).
package toolpath

import (
	"knifedesk/geometry"
	"knifedesk/geometry/knife"
)

// Rule is what a tool does along each line of a pass.
type Rule struct {
	knife.Blade
	DashMM float64 `json:"dash_mm,omitempty"` // of a perforation; 0: the line is run unbroken
	TieMM  float64 `json:"tie_mm,omitempty"`  // left whole between dashes
	Rounds int     `json:"rounds"`            // how often each line is run
	// What the machine adds by itself while it runs a file.
	OffsetByMachine  bool `json:"offset_by_machine"`
	OvercutByMachine bool `json:"overcut_by_machine"`
}

// InFile returns the rule without what the machine adds by itself: what a file
// for it has to hold.
func (r Rule) InFile() Rule {
	if r.OffsetByMachine {
		r.OffsetMM = 0
	}
	if r.OvercutByMachine {
		r.OvercutMM = 0
	}
	return r
}

// Pass is one tool at work on a load.
type Pass struct {
	Rule    Rule
	Changed bool                      // the tool is changed before it
	Lead    *LeadIn                   // cut first, where the heading of the blade is not known
	Lines   int                       // how many are run
	Line    func(i int) geometry.Path // from its start, the way it is run
}

// LeadIn is a straight cut of the axis in waste. It turns a blade that may point
// anywhere into its direction.
type LeadIn struct {
	From geometry.Point `json:"from"`
	To   geometry.Point `json:"to"`
}

// Heading returns the direction in which the blade points after it.
func (l *LeadIn) Heading() geometry.Point { return l.To.Sub(l.From).Unit() }

// LeadInLength is how long a lead-in has to be for a blade of offset mm. Over
// 18 offsets a straight pull leaves tan(θ/2) = e⁻¹⁸·tan(θ₀/2) of its angle θ: all
// but one heading in ten thousand end within a thousandth of the offset.
func LeadInLength(offset float64) float64 { return 18 * offset }

// Kind says what a move does.
type Kind uint8

// The kinds of moves.
const (
	Change  Kind = iota // the tool is changed
	Travel              // lifted, to where the next stroke begins
	Tie                 // lifted, over what a perforation leaves whole
	Turn                // lifted, to where the blade goes down on the same point in another direction
	Lower               // down
	Lead                // a lead-in
	Swivel              // the blade turns about its tip, which stands still
	Cut                 // along the line
	Overcut             // along the line past its closure
	Lift                // up
)

// Down reports whether the tool is down throughout the move.
func (k Kind) Down() bool { return k == Lead || k == Swivel || k == Cut || k == Overcut }

// Move is one move of the axis.
type Move struct {
	Kind Kind
	From geometry.Point
	Axis geometry.Segment // where it runs from there; to the same place where it stands
	// Tip is where the tip is before a move that cuts or turns, and Drawn the
	// piece of the line that it cuts.
	Tip     geometry.Point
	Drawn   geometry.Segment
	Pass    int // from 0
	Line    int // of the pass, from 0; −1: none
	Segment int // of the line, as it is run
	Round   int // from 0: how often the line, or the dash, was run before
	Dash    int // of a perforation, from 0
	// Turned says that the machine has turned the blade into the direction of the line
	// before it is lowered.
	Turned bool
}

// To returns where the axis ends.
func (m *Move) To() geometry.Point { return m.Axis.End }

// CutMM returns how far the tip cuts.
func (m *Move) CutMM() float64 {
	switch m.Kind {
	case Cut, Overcut:
		return m.Drawn.Length(m.Tip)
	case Lead:
		return m.From.Dist(m.To())
	}
	return 0
}
