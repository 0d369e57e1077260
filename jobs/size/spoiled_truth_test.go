package size_test

import (
	"fmt"
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/size/internal/spoil"
)

// errorMM is the bar: no drawing is silently wrong by more at the far corner.
const errorMM = 0.05

// made returns the boxes of all that a result cuts, in mm at the size it
// gives: every path but the frame's and those left out, each where it is
// placed, and nothing without length.
func made(d *read.Result, s *size.Result) []geometry.Box {
	out := map[[2]int]bool{}
	for _, p := range slices.Concat(s.FrameParts, s.LeftOut) {
		whole := len(p.Segments) == 0 || len(p.Segments) >= len(d.Shapes[p.Shape].Paths[p.Path].Segments)
		out[[2]int{p.Shape, p.Path}] = whole
	}
	placed := map[[2]int]geometry.Affine{}
	for _, to := range s.Placed {
		for _, p := range to.Parts {
			placed[[2]int{p.Shape, p.Path}] = to.Transform
		}
	}
	const stray = 0.002 // mm
	var boxes []geometry.Box
	for i := range d.Shapes {
		for j, p := range d.Shapes[i].Paths {
			to, own := placed[[2]int{i, j}]
			if !own {
				to = s.Transform
			}
			b := p.Transform(to).Bounds()
			if !out[[2]int{i, j}] && math.Max(b.Width(), b.Height()) > stray {
				boxes = append(boxes, b)
			}
		}
	}
	return boxes
}

// differs says how what is made differs from the truth, empty where it does
// not.
func differs(truth *spoil.Truth, d *read.Result, s *size.Result) string {
	got := without(made(d, s), truth.Cut, truth.MayCut)
	want := origin(truth.Cut)
	here := origin(got)
	switch {
	case len(got) > len(want):
		return fmt.Sprintf("%d paths are cut that are none of the work", len(got)-len(want))
	case len(got) < len(want):
		return fmt.Sprintf("%d paths of the work are not cut", len(want)-len(got))
	}
	worst := 0.0
	for _, w := range want {
		worst = math.Max(worst, nearest(here, w))
	}
	if worst > errorMM {
		return fmt.Sprintf("the work differs by %.3f mm", worst)
	}
	all := union(truth.Cut)
	if off := math.Max(math.Abs(s.WidthMM-all.Width()), math.Abs(s.HeightMM-all.Height())); off > errorMM && len(truth.MayCut) == 0 {
		return fmt.Sprintf("made right, and said to be %.3f × %.3f mm", s.WidthMM, s.HeightMM)
	}
	return ""
}

// without leaves out of the boxes those that have the size of one that may be
// cut or not, the likest first, as long as there are more than in truth.
func without(got, cut, may []geometry.Box) []geometry.Box {
	for _, m := range may {
		least, at := errorMM, -1
		for i, b := range got {
			if off := math.Max(math.Abs(b.Width()-m.Width()), math.Abs(b.Height()-m.Height())); off < least {
				least, at = off, i
			}
		}
		if at >= 0 && len(got) > len(cut) {
			got = slices.Delete(got, at, at+1)
		}
	}
	return got
}

func union(all []geometry.Box) geometry.Box {
	u := geometry.EmptyBox()
	for _, b := range all {
		u = u.Union(b)
	}
	return u
}

// origin moves boxes so that together they begin at the origin.
func origin(all []geometry.Box) []geometry.Box {
	by := union(all).Min
	moved := make([]geometry.Box, len(all))
	for i, b := range all {
		moved[i] = geometry.Box{Min: b.Min.Sub(by), Max: b.Max.Sub(by)}
	}
	return moved
}

// nearest is how far the nearest of the boxes is from w, by their edges.
func nearest(all []geometry.Box, w geometry.Box) float64 {
	least := math.Inf(1)
	for _, b := range all {
		off := math.Max(
			math.Max(math.Abs(b.Min.X-w.Min.X), math.Abs(b.Min.Y-w.Min.Y)),
			math.Max(math.Abs(b.Max.X-w.Max.X), math.Abs(b.Max.Y-w.Max.Y)))
		least = math.Min(least, off)
	}
	return least
}

// answer gives each answer in turn, as a person who knows the drawing would,
// until one leads to the truth.
func (r *trial) answer(run *runner) {
	byName := 0 // answers that are no length, so far
	for _, q := range r.res.Questions[:min(1, len(r.res.Questions))] {
		for _, a := range q.Answers {
			if !r.leads(run, ask.Replies{}, q, a, 3) {
				if !a.NeedsMM {
					byName++
				}
				continue
			}
			r.offered = true
			if !a.NeedsMM {
				r.byName, r.first, r.right = true, byName == 0, a.ID
				return
			}
		}
	}
}

// leads reports whether an answer makes the drawing right, be it after others
// to the questions that follow.
func (r *trial) leads(run *runner, so ask.Replies, q ask.Question, a ask.Answer, deep int) bool {
	for _, mm := range r.lengths(a) {
		replies := ask.Replies{q.ID: {Answer: a.ID, MM: mm}}
		for id, other := range so {
			replies[id] = other
		}
		d, s, err := run.run(replies)
		if err != nil || finding.Worst(s.Findings) == finding.Block {
			continue
		}
		if len(s.Questions) == 0 {
			if differs(&r.c.Truth, d, s) == "" || r.c.Truth.Several && run.makes(union(r.c.Truth.Cut)) {
				return true
			}
			continue
		}
		next := s.Questions[0]
		if _, again := replies[next.ID]; again || deep == 0 {
			continue
		}
		for _, b := range next.Answers {
			if r.leads(run, replies, next, b, deep-1) {
				return true
			}
		}
	}
	return false
}

// lengths are what a person who made the drawing would measure for an answer
// that needs a length: the edge it names, with the frame or without it.
func (r *trial) lengths(a ask.Answer) []float64 {
	if !a.NeedsMM {
		return []float64{0}
	}
	t := &r.c.Truth
	work := union(t.Cut)
	all := work.Union(union(t.Frames))
	switch a.ID {
	case size.AnswerWidth:
		return []float64{work.Width(), all.Width()}
	case size.AnswerHeight:
		return []float64{work.Height(), all.Height()}
	}
	if len(t.FrameSides) > 0 {
		return []float64{t.FrameSides[0]}
	}
	return []float64{r.rectangle()}
}

// rectangle is what a ruler says of the longer side of a rectangle that the
// result takes for a frame and that is none.
func (r *trial) rectangle() float64 {
	if r.res.Frame == nil {
		return 0
	}
	all := *r.res
	all.FrameParts = nil // the rectangle is a part of the work
	mm := union(r.c.Truth.Cut).Width() / union(made(r.drawing, &all)).Width() * r.res.X
	return mm * math.Max(r.res.Frame.SideUnits[0], r.res.Frame.SideUnits[1])
}
