package size

import (
	"slices"

	"knifedesk/jobs/finding"
	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// bend says what a frame that fits no size may have gone through: rounded to
// whole units, stretched on one axis where ellipses show it, edited where
// circles are round, and off the shape of the size where neither tells.
func (q *clues) bend(f *evidence.Frame, all []reading.Reading) bent {
	stretches, oneSide := q.file.PerAxis(f, edited), q.file.OneSide(f, edited)
	apart := slices.DeleteFunc(slices.Clone(stretches), func(r reading.Reading) bool { return reading.SameFactor(r.X, r.Y) })
	switch {
	case len(stretches) == 0 || broken(f, stretches[0].Factor()) || q.staysRound(f, &stretches[0]):
		return bent{finding.FrameEdited, slices.Concat(all, oneSide, apart)}
	case len(all) > 0 && all[0].HasCause() && f.Whole():
		return bent{finding.FrameInexact, slices.Concat(all, stretches)}
	}
	b := bent{finding.FrameOffShape, slices.Concat(all, stretches)}
	if stretched, _ := q.roundness(f, &stretches[0]); stretched > 0 {
		b.code = finding.FrameStretched
	}
	q.file.Rank(f, b.readings)
	b.readings = append(b.readings, oneSide...)
	return b
}

// roundness counts the circles that a stretch would explain, and those that
// contradict it.
func (q *clues) roundness(f *evidence.Frame, stretch *reading.Reading) (stretched, round int) {
	return q.Roundness(f.Work.Items, &f.Quad, stretch.X, stretch.Y)
}

// staysRound reports whether circles contradict that the frame was stretched.
func (q *clues) staysRound(f *evidence.Frame, stretch *reading.Reading) bool {
	stretched, round := q.roundness(f, stretch)
	return round > 0 && stretched == 0
}
