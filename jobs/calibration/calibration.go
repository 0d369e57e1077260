// Package calibration fits the minutes of plans to what jobs really took: a factor on
// the motion of the machine, and the times of weeding.
//
// Minutes are linear in what is fitted, so least squares do it: never below zero, drawn
// towards the start values as far as the jobs say little, and each job weighted by how
// long it takes, since what a job is off by grows with it.
package calibration

import "knifedesk/jobs/weeding"

// LeastJobs is how many jobs a fit needs.
const LeastJobs = 10

// Basis is what the minutes of a plan are counted by.
type Basis struct {
	HandlingS float64       `json:"handling_s"` // load, test, tool changes, unload
	MotionS   float64       `json:"motion_s"`   // as computed
	TapingS   float64       `json:"taping_s"`   // and pressing
	Weeding   weeding.Terms `json:"weeding"`
	Slower    float64       `json:"slower"` // factor on weeding of who does it, 1 for a practised hand
}

// Job is a plan that was cut, with the seconds that it really took; 0: nobody said.
type Job struct {
	Basis
	CutterS float64 `json:"cutter_s"`
	BenchS  float64 `json:"bench_s"`
}

// Calibration is what plans count minutes with. Its zero value, and nil, are the start
// values.
type Calibration struct {
	Day    string `json:"day"`              // on which it was taken, ISO 8601
	Cutter *Fit   `json:"cutter,omitempty"` // of the motion factor; nil: too few jobs said
	Bench  *Fit   `json:"bench,omitempty"`  // of the times of weeding
}

// Of fits the start values to jobs. What too few of them say stays as it is.
func Of(jobs []Job, day string) *Calibration {
	start := weeding.DefaultTimes().List()
	var cutter, bench []sample
	for _, j := range jobs {
		if j.CutterS > 0 && j.MotionS > 0 {
			cutter = append(cutter, sample{known: j.HandlingS, terms: []float64{j.MotionS}, took: j.CutterS})
		}
		if terms := j.bench(); j.BenchS > 0 && sum(terms) > 0 {
			bench = append(bench, sample{known: j.TapingS, terms: terms, took: j.BenchS})
		}
	}
	return &Calibration{Day: day, Cutter: fit(cutter, []float64{1}), Bench: fit(bench, start)}
}

// bench returns the terms of weeding as this hand has them.
func (b Basis) bench() []float64 {
	terms := b.Weeding.List()
	for i := range terms {
		terms[i] *= b.Slower
	}
	return terms
}

// Range is a time in seconds, with the ends between which nine of ten jobs like it
// end.
type Range struct{ Low, Likely, High float64 }

// CutterS returns the seconds at the cutter; false where nothing is fitted.
func (c *Calibration) CutterS(b Basis) (Range, bool) {
	if c == nil || c.Cutter == nil {
		return Range{}, false
	}
	return c.Cutter.predict(b.HandlingS, []float64{b.MotionS}), true
}

// BenchS returns the seconds at the bench; false where nothing is fitted.
func (c *Calibration) BenchS(b Basis) (Range, bool) {
	if c == nil || c.Bench == nil {
		return Range{}, false
	}
	return c.Bench.predict(b.TapingS, b.bench()), true
}

// Times returns the times of weeding; false where nothing is fitted.
func (c *Calibration) Times() (weeding.Times, bool) {
	t := weeding.DefaultTimes()
	if c == nil || c.Bench == nil {
		return t, false
	}
	v := c.Bench.Values
	t.StartS, t.ContourSPM, t.GroundS, t.CounterS, t.FragileS = v[0], v[1], v[2], v[3], v[4]
	return t, true
}

func sum(all []float64) (s float64) {
	for _, v := range all {
		s += v
	}
	return s
}
