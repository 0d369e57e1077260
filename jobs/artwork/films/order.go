package films

import (
	"fmt"
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// arrange finds the order in which the films lie. Of two that overlap the one lies above
// that is painted over more of the other; where not all is painted, the one that lies
// wholly within the other, as it would be hidden otherwise. Where that says nothing, it is
// asked. What is free lies the lower the larger it is: it carries the others.
func (k *desk) arrange(l *lay) error {
	above, err := uppers(k, l)
	if err != nil {
		return err
	}
	var left []int
	for i := range l.areas {
		left = append(left, i)
	}
	l.order = []int{}
	for len(left) > 0 {
		at := lowest(left, above, func(film int) float64 { return l.areas[film].Area() })
		l.order = append(l.order, left[at])
		left = append(left[:at:at], left[at+1:]...)
	}
	return nil
}

// uppers says by film and film whether the first lies on the second.
func uppers(k *desk, l *lay) ([][]bool, error) {
	above := make([][]bool, len(l.areas))
	for i := range above {
		above[i] = make([]bool, len(l.areas))
		for j := range i {
			over, err := upper(k, l, j, i)
			if err != nil {
				return nil, err
			}
			if over >= 0 {
				above[over][i+j-over] = true
			}
		}
	}
	return above, nil
}

// lowest is the place in left of the film that lies on none of the others there, of
// several the largest; of films that lie on each other in a circle the largest too.
func lowest(left []int, above [][]bool, area func(int) float64) int {
	best, free := -1, false
	for at, film := range left {
		lies := false
		for _, other := range left {
			lies = lies || above[film][other]
		}
		switch {
		case best >= 0 && free && lies:
		case best < 0, !free && !lies, area(film) > area(left[best]):
			best, free = at, !lies
		}
	}
	return best
}

// upper is which of two films lies on the other; −1 where they do not overlap.
func upper(k *desk, l *lay, i, j int) (int, error) {
	both, err := planar.Intersection(k.budget, l.areas[i].Region(), l.areas[j].Region())
	if err != nil || both.Area() < tinyMM2 {
		return -1, err
	}
	if l.shown != nil { // all is painted
		of, err := planar.Intersection(k.budget, both.Region(), l.shown[i].Region())
		if err != nil {
			return -1, err
		}
		if 2*of.Area() > both.Area() {
			return i, nil
		}
		return j, nil
	}
	inner := both.Area() + tinyMM2
	switch iIn, jIn := inner > l.areas[i].Area(), inner > l.areas[j].Area(); {
	case iIn && !jIn:
		return i, nil
	case jIn && !iIn:
		return j, nil
	}
	return askUpper(k, l, i, j, both), nil
}

// askUpper asks which of two films lies on the other, or returns what was answered; until
// then it is the smaller one.
func askUpper(k *desk, l *lay, i, j int, both planar.Polygons) int {
	if l.areas[i].Area() > l.areas[j].Area() {
		i, j = j, i
	}
	films, box := k.Layering.Films, boxOf(both)
	answer := func(film, under int, why string) ask.Answer {
		return ask.Answer{ID: string(meansFilm(film + 1)), Label: films[film].Name + " lies on " + films[under].Name, Evidence: why}
	}
	f := finding.New(finding.FilmOrder, len(both), finding.Values{"one": finding.Text(films[i].Name), "other": finding.Text(films[j].Name)}, finding.Place{Box: box})
	q := ask.Question{
		ID:   ask.ID(artwork.Name, "films:"+strconv.Itoa(min(i, j)+1)+"-"+strconv.Itoa(max(i, j)+1)),
		Code: f.Code, Places: f.Places,
		Text: fmt.Sprintf("%s and %s overlap in the marked places. Which do you want to see there?", films[i].Name, films[j].Name),
		Answers: []ask.Answer{
			answer(i, j, "It is the smaller one, and small films mostly lie on larger ones."),
			answer(j, i, "Then it hides what the other has there."),
		},
	}
	a, ok := k.Replies.To(&q, ask.ID(artwork.Name, groupRest))
	if !ok {
		k.note(f.As(finding.Ask))
		k.questions = append(k.questions, q)
		return i
	}
	k.note(f.Answered(a.Label).WithMend(finding.Mend{ID: "films", Applied: true, Effect: a.Label + "."}))
	if a.ID == q.Answers[0].ID {
		return i
	}
	return j
}

func boxOf(all planar.Polygons) geometry.Box {
	box := geometry.EmptyBox()
	for _, p := range all {
		for _, at := range p.Outer {
			box = box.Include(at)
		}
	}
	return box
}
