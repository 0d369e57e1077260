package picture

import (
	"slices"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
)

// answered returns the lines whose size an answer tells, at the places of its question
// where it is about a part of the drawing.
func answered(b *budget.Budget, q *ask.Question, a *ask.Answer, lines, frames []geometry.Path) []geometry.Path {
	switch page, isPage := strings.CutPrefix(a.ID, size.AnswerPage); {
	case q.ID == size.BesideQuestionID && a.ID == size.AnswerLeaveOut:
		stray := strayFrom(q.Places, boundsOf(b, frames))
		return those(b, lines, func(box geometry.Box) bool { return !stray(box) })
	case q.ID == size.NestedQuestionID:
		return those(b, lines, within(q.Places))
	case q.ID == size.PagesQuestionID && isPage:
		if n, err := strconv.Atoi(page); err == nil && n >= 1 && n <= len(q.Places) {
			return those(b, lines, within(q.Places[n-1:n]))
		}
	}
	return lines
}

// strayFrom tells the boxes of lines beside a frame: those at the places, and where there
// are more than are listed whatever is no nearer to the frame than the nearest of these.
func strayFrom(places []finding.Place, frame geometry.Box) func(geometry.Box) bool {
	listed := within(places)
	if len(places) < finding.MaxPlaces || frame.Empty() {
		return listed
	}
	away := func(b geometry.Box) float64 {
		return max(frame.Min.X-b.Max.X, b.Min.X-frame.Max.X, frame.Min.Y-b.Max.Y, b.Min.Y-frame.Max.Y)
	}
	nearest := away(places[0].Box)
	for _, place := range places {
		nearest = min(nearest, away(place.Box))
	}
	return func(b geometry.Box) bool { return listed(b) || away(b) >= nearest }
}

// within tells the boxes that lie in one of the places.
func within(places []finding.Place) func(geometry.Box) bool {
	return func(b geometry.Box) bool {
		slack := 1e-9 * (1 + b.Max.Norm()) // two ways to come to one box round differently
		return slices.ContainsFunc(places, func(p finding.Place) bool { return p.Box.Grow(slack).ContainsBox(b) })
	}
}

// those returns the lines whose boxes are wanted.
func those(b *budget.Budget, lines []geometry.Path, wanted func(geometry.Box) bool) []geometry.Path {
	var out []geometry.Path
	for _, q := range lines {
		b.Spend(1 + len(q.Segments))
		if wanted(q.Bounds()) {
			out = append(out, q)
		}
	}
	return out
}
