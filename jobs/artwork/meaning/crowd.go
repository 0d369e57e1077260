package meaning

import (
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/finding"
)

// workOut repairs and judges the lines, step by step. Where there are too many
// of them for that, they stay as they were given and one finding says so:
// nothing can be said of half of them.
func (k *desk) workOut(lines []line) error {
	k.effort = mend.NewEffort(k.budget, mend.Segments(k.strokes))
	k.strokes = mend.InOrder(k.budget, k.strokes)
	given := *k
	for _, step := range []func() error{
		plain(func() { k.crowd = mend.TooLong(k.budget, k.strokes) }),
		func() error { return k.painted(lines) },
		plain(func() { k.bands(lines) }),
		plain(k.sharedEdges), plain(k.mend), plain(k.doubles), plain(k.ends),
		plain(func() {
			shown, slow := mend.Faceted(k.budget, k.strokes)
			k.spots(finding.Faceted, finding.Warn, shown)
			k.spots(finding.SlowCurves, finding.Warn, slow)
		}),
		plain(func() { k.crowd = mend.TooCrossed(k.effort, k.strokes) }),
		plain(func() { k.mirror(lines) }),
	} {
		if err := step(); err != nil {
			return err
		}
		if c := k.tooMuch(); c != nil {
			*k = given
			k.questions = nil
			k.note(finding.New(finding.TooDense, 1, finding.Values{"what": finding.Text(c.What), "allowed": finding.Int(c.Allowed)}, finding.Place{Box: c.At}))
			return nil
		}
	}
	return nil
}

func plain(step func()) func() error {
	return func() error {
		step()
		return nil
	}
}

// tooMuch returns what there is too much of, nil for nothing.
func (k *desk) tooMuch() *mend.Crowd {
	if k.crowd != nil {
		return k.crowd
	}
	return k.effort.Crowd()
}
