package passes

import (
	"knifedesk/geometry"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/workshop"
)

// Stretch is by how much a file is longer than the drawing, so that the work comes out
// at true size on a machine that cuts too short or too long and cannot be set.
type Stretch struct {
	Across float64 `json:"across"` // the feed, as a factor
	Along  float64 `json:"along"`
}

// stretchOf returns the stretch of the files for a machine that leaves it to them; nil:
// none. A machine that corrects lengths itself is never corrected twice, and where
// nobody said who does, nothing is.
func stretchOf(req Request) *Stretch {
	m := req.Lengths
	if m == nil || !m.Off() || req.Machine.Lengths != workshop.LengthsByFile {
		return nil
	}
	return &Stretch{Across: trial.MarkMM / m.AcrossMM, Along: trial.MarkMM / m.AlongMM}
}

// Sent returns the map from where the axis of the machine comes to, in its own
// coordinates, to where a file sends it. It is applied to moves and not to lines: a blade
// trails by its offset in the material, however the machine counts.
func (p *Plan) Sent() geometry.Affine {
	if p.Stretch == nil {
		return geometry.Identity
	}
	turn, _ := p.Axes.Onto(0, 0)
	back, _ := turn.Inverse() // a turn has one
	return back.Then(geometry.Scale(p.Stretch.Across, p.Stretch.Along)).Then(turn)
}

// tellLengths says where marks did not come out at their length, and who makes up for
// it.
func (p *Plan) tellLengths(req Request) {
	m := req.Lengths
	if m == nil || !m.Off() {
		return
	}
	advice := "enter in the data of the machine who corrects lengths, the machine or the file"
	switch req.Machine.Lengths {
	case workshop.LengthsByFile:
		advice = "the files make up for it"
	case workshop.LengthsByMachine:
		advice = "correct it at the machine, and cut the marks again"
	}
	p.find(finding.LengthsOff, nil, finding.Values{
		"stock": finding.Text(req.Stock.Name), "machine": finding.Text(req.Machine.Name), "advice": finding.Text(advice),
		"across_mm": finding.Num(m.AcrossMM), "along_mm": finding.Num(m.AlongMM), "true_mm": finding.Num(trial.MarkMM),
	})
}
