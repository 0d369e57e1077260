package trial

import (
	"math"
	"slices"
)

// Limits are what a machine can do.
type Limits struct {
	MostGF  float64 // of force
	StepGF  float64 // in which it is set; 0: whole gf
	MostMMS float64 // of speed
	StepMMS float64 // in which files say it; 0: whole mm/s
}

// What a sheet holds (common practice, no source). Eight is also how many pens a
// plotter's file can count on.
const (
	mostCells = 8
	reach     = 2.5  // of the start, by which the first forces lie below and above it
	further   = 4    // times as far, where all of a sheet is too light or too deep
	speeds    = 2    // of the start, by which speeds lie below and above it
	fine      = 1.05 // ratio of two forces between which nothing is looked for
	wide      = 1.6  // ratio of a window whose edges need not be known better
	enough    = 3    // sheets without a cell that passed, after which
	apart     = 1.15 // a ratio of forces is too small to go on
	leastGF   = 5    // of force, however small the steps are
)

func (l Limits) leastGF() float64 { return max(leastGF, l.StepGF) }

// force rounds a force to what can be set.
func (l Limits) force(gf float64) float64 { return toStep(gf, l.StepGF, l.leastGF(), l.MostGF) }

// speed rounds a speed to what can be set. One below the first step stays as it is.
func (l Limits) speed(mms float64) float64 {
	if mms < l.StepMMS {
		return mms
	}
	return toStep(mms, l.StepMMS, max(1, l.StepMMS), l.MostMMS)
}

// toStep rounds v to a multiple of the step, 1 where it is 0, from least to most; no
// most is as much as one likes.
func toStep(v, step, least, most float64) float64 {
	if step <= 0 {
		step = 1
	}
	n := math.Max(math.Round(v/step), math.Ceil(least/step-1e-9))
	if most > 0 {
		n = math.Min(n, math.Floor(most/step+1e-9))
	}
	return n * step
}

// gap is a range in which something is looked for; its ends count where they are
// closed.
type gap struct {
	from, to         float64
	withFrom, withTo bool
	placed           int
}

func (g gap) width() float64 { return math.Log(g.to / g.from) }

// spread places so many cells at most in the gaps, evenly by ratio and most where the
// gap is widest, and returns where, rounded and without repeats and those that
// were cut already.
func spread(gaps []gap, cells int, round func(float64) float64, cut []tried) []float64 {
	gaps = slices.DeleteFunc(slices.Clone(gaps), func(g gap) bool { return !(g.to > g.from) })
	for range cells {
		widest := -1
		for i, g := range gaps {
			if g.width()/float64(g.placed+1) > math.Log(fine)/2 && (widest < 0 || g.width()/float64(g.placed+1) > gaps[widest].width()/float64(gaps[widest].placed+1)) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		gaps[widest].placed++
	}
	var all []float64
	for _, g := range gaps {
		for _, v := range g.points() {
			at := round(v)
			known := slices.ContainsFunc(cut, func(t tried) bool { return math.Abs(t.at-at) < 1e-9 })
			if !known && !slices.Contains(all, at) {
				all = append(all, at)
			}
		}
	}
	slices.Sort(all)
	return all
}

// points returns where the cells of a gap lie.
func (g gap) points() []float64 {
	first, steps := 1, g.placed+1
	if g.withFrom {
		first, steps = 0, steps-1
	}
	if g.withTo {
		steps--
	}
	var all []float64
	for i := range g.placed {
		share := 0.5
		if steps > 0 {
			share = float64(first+i) / float64(steps)
		}
		all = append(all, g.from*math.Exp(share*g.width()))
	}
	return all
}
