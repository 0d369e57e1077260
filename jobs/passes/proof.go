package passes

import (
	"fmt"
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/toolpath"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/layout"
)

// MadeError says that what is run is not what was laid out: a fault of the
// program, with which no plan is ready.
type MadeError struct {
	Load, Copy int
	OffMM      float64 // how far the edges of what is run lie from where they belong
	Reason     string
}

// Error names the copy and what is wrong with it.
func (e *MadeError) Error() string {
	return fmt.Sprintf("passes: load %d, copy %d: %s, by %g mm", e.Load, e.Copy, e.Reason, e.OffMM)
}

// madeMM is how far what is run may lie from where it was laid: rounding, no more.
const madeMM = 1e-5

// Prove holds that the passes of each load run every copy at the size and in the
// place that the layout gives it: no copy is scaled or sheared, and all strokes
// of a copy, as a file to cut from holds them, have the box of the artwork laid
// there, turned or mirrored as it is. Overcut and repeats do not count. The error
// is a *MadeError.
func (p *Plan) Prove(b *budget.Budget, strokes []artwork.Stroke, laid *layout.Layout) error {
	for i, load := range p.Loads {
		placements, strokes := laid.Loads[i].Placements, laid.StrokesOf(&laid.Loads[i], strokes)
		made, operations := madeBoxes(b, load, strokes, placements)
		for _, at := range placements {
			if _, named, ok := placement(laid, at.Copy); !ok || named.Transform != at.Transform {
				return &MadeError{load.Number, at.Copy, math.Inf(1), "its number is that of another copy"}
			}
			if off := notRigid(at.Transform); off > 0 {
				return &MadeError{load.Number, at.Copy, off, "the copy is not laid at true size"}
			}
			want := geometry.EmptyBox()
			for _, s := range strokes {
				if !s.Path.Empty() && (operations[s.Operation] || !p.lacksSetting()) {
					b.Spend(1 + len(s.Path.Segments))
					want = want.Union(s.Path.Transform(at.Transform).Bounds())
				}
			}
			if off := apart(made[at.Copy], want); !(off <= madeMM) {
				return &MadeError{load.Number, at.Copy, off, "what is run has not the box of the artwork"}
			}
		}
	}
	return nil
}

// cutMM is how far the tip may leave the line as it was drawn. Curves are
// followed within 0.005 mm.
const cutMM = 0.008

// holds says whether the tips, as the proof saw them, stay on their lines. The runs
// carry the place of a copy on the load, from 0. The error is a *MadeError.
func (l *Load) holds(proof *toolpath.Proof, placements []layout.Placement) error {
	if proof.WorstMM <= cutMM {
		return nil
	}
	pass := &l.Passes[proof.At.Pass]
	if pass.Mark != nil {
		return &MadeError{l.Number, 0, proof.WorstMM, "the tip leaves the test mark"}
	}
	run := pass.Runs[proof.At.Line]
	return &MadeError{l.Number, placements[run.Copy].Copy, proof.WorstMM, fmt.Sprintf("the tip leaves stroke %d", run.Stroke)}
}

// lacksSetting reports whether an operation is left out for want of a setting.
func (p *Plan) lacksSetting() bool {
	for _, f := range p.Findings {
		if f.Code == finding.SettingMissing {
			return true
		}
	}
	return false
}

// madeBoxes returns the box of all that a load runs of each copy, by its number,
// and which operations it runs.
func madeBoxes(b *budget.Budget, load Load, strokes []artwork.Stroke, placements []layout.Placement) (map[int]geometry.Box, map[artwork.Operation]bool) {
	maps := map[int]geometry.Affine{}
	boxes, operations := map[int]geometry.Box{}, map[artwork.Operation]bool{}
	for _, at := range placements {
		maps[at.Copy], boxes[at.Copy] = at.Transform, geometry.EmptyBox()
	}
	for _, pass := range load.Passes {
		operations[pass.Operation] = true
		for _, run := range pass.Runs {
			line := run.line(strokes[run.Stroke].Path).Transform(maps[run.Copy])
			b.Spend(1 + len(line.Segments))
			boxes[run.Copy] = boxes[run.Copy].Union(line.Bounds())
		}
	}
	return boxes, operations
}

// notRigid returns how far a map is from a turn, with a mirroring or not, on 1 m;
// 0 within rounding.
func notRigid(m geometry.Affine) float64 {
	const metre = 1000
	o := m.Apply(geometry.Point{})
	x, y := m.Apply(geometry.Pt(metre, 0)).Sub(o), m.Apply(geometry.Pt(0, metre)).Sub(o)
	off := math.Max(math.Abs(x.Norm()-metre), math.Max(math.Abs(y.Norm()-metre), math.Abs(x.Dot(y))/metre))
	if off <= madeMM {
		return 0
	}
	return off
}

// apart is how far the edges of two boxes lie apart; that of an empty one and
// another is endless.
func apart(a, b geometry.Box) float64 {
	if a.Empty() || b.Empty() {
		if a.Empty() && b.Empty() {
			return 0
		}
		return math.Inf(1)
	}
	return math.Max(
		math.Max(math.Abs(a.Min.X-b.Min.X), math.Abs(a.Min.Y-b.Min.Y)),
		math.Max(math.Abs(a.Max.X-b.Max.X), math.Abs(a.Max.Y-b.Max.Y)))
}
