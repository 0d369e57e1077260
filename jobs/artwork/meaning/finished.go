package meaning

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/size"
	"knifedesk/jobs/stray"
	"knifedesk/jobs/workshop"
)

// tellMM is by how much a size has to change before an answer tells it: a tenth
// of a millimetre is what a ruler shows.
const tellMM = 0.05

// sizes are the extents by which answers tell how large the finished work is.
type sizes struct {
	known geometry.Box   // of what will be run anyway
	open  []geometry.Box // of each group that is asked about
	all   geometry.Box
	given *size.KnownLength // what is made gets it, however much is left out
}

func openSizes(b *budget.Budget, s *sorted, open []*group, given *size.KnownLength) *sizes {
	z := &sizes{known: geometry.EmptyBox(), given: given}
	for m, lines := range s.known {
		if m != workshop.MeansNothing && m != workshop.MeansFrame {
			z.known = z.known.Union(extent(b, lines))
		}
	}
	z.all = z.known
	for _, g := range open {
		z.open = append(z.open, extent(b, g.lines))
		z.all = z.all.Union(z.open[len(z.open)-1])
	}
	return z
}

// without is the extent of all but the i-th group.
func (z *sizes) without(i int) geometry.Box {
	box := z.known
	for j, b := range z.open {
		if j != i {
			box = box.Union(b)
		}
	}
	return box
}

// tell notes in the answers of q, which are meanings, what the work measures:
// less without the lines than with them. Where that is the same it says nothing.
func (z *sizes) tell(q *ask.Question, less geometry.Box) {
	for i := range q.Answers {
		switch q.Answers[i].ID {
		case ask.Suggested:
		case string(workshop.MeansNothing):
			finished(&q.Answers[i], less, z.all, z.given)
		default:
			finished(&q.Answers[i], z.all, less, z.given)
		}
	}
}

// sized notes in the answers of q what the work measures under each, given as the
// box of what is run then, in their order; with all that waits for another answer.
func sized(k *desk, q ask.Question, boxes ...geometry.Box) ask.Question {
	for i, box := range boxes {
		if box.Empty() {
			continue
		}
		finished(&q.Answers[i], box.Union(k.pending), geometry.EmptyBox(), k.given)
	}
	return q
}

// runBox is the extent of strokes.
func runBox(b *budget.Budget, strokes []artwork.Stroke) geometry.Box {
	box := geometry.EmptyBox()
	for i := range strokes {
		box = box.Union(strokes[i].Path.BoundsIn(b))
	}
	return box
}

// workBox is the extent of the lines that the convention does not leave out.
func workBox(b *budget.Budget, c *workshop.Convention, lines []line) geometry.Box {
	rules := reader{convention: c, seen: map[mark]reading{}}
	box := geometry.EmptyBox()
	for i := range lines {
		b.Step()
		l := &lines[i]
		if means := rules.read(markOf(l)).means; means != workshop.MeansNothing && means != workshop.MeansFrame && !stray.Unpainted(l.shape, &l.path, flatFillMM) {
			box = box.Union(l.path.BoundsIn(b))
		}
	}
	return box
}

// finished notes in an answer that the work has the extent of box under it, and
// not the one of other; given is the length that it has all the same.
func finished(a *ask.Answer, box, other geometry.Box, given *size.KnownLength) {
	if box.Empty() || !other.Empty() && math.Abs(box.Width()-other.Width()) < tellMM && math.Abs(box.Height()-other.Height()) < tellMM {
		return
	}
	scale := 1.0
	if given != nil {
		switch given.Of {
		case size.Width:
			scale = given.MM / box.Width()
		case size.Height:
			scale = given.MM / box.Height()
		default: // the longest of the lines that are left is not known
			return
		}
	}
	if !math.IsInf(scale, 0) {
		a.WidthMM, a.HeightMM = box.Width()*scale, box.Height()*scale
	}
}

func extent(b *budget.Budget, lines []line) geometry.Box {
	box := geometry.EmptyBox()
	for _, l := range lines {
		box = box.Union(l.path.BoundsIn(b))
	}
	return box
}
