package films

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// desk is one layered work being resolved. Places are in mm of the drawing until all is
// moved to the origin in the end.
type desk struct {
	Request
	budget    *budget.Budget
	drawing   *drawing.Drawing
	size      *size.Result
	of        []int // by shape: its film, from 1; 0: none
	findings  []finding.Finding
	questions []ask.Question
}

const filmPrefix = "film-"

// meansFilm is what a rule of the i-th film means, from 1.
func meansFilm(i int) workshop.Meaning { return workshop.Meaning(filmPrefix + strconv.Itoa(i)) }

// filmOf is the film that a meaning stands for, from 1; 0: none.
func filmOf(m workshop.Meaning) int {
	text, ok := strings.CutPrefix(string(m), filmPrefix)
	n, err := strconv.Atoi(text)
	if !ok || err != nil {
		return 0
	}
	return n
}

// rules are those of the films, and after them those of the convention that take shapes
// out of the work.
func (k *desk) rules() *workshop.Convention {
	c := workshop.Convention{ToleranceDE: k.Convention.ToleranceDE, NearDE: k.Convention.NearDE}
	for i, f := range k.Layering.Films {
		for _, r := range f.Rules {
			r.Means, r.WidthMM = meansFilm(i+1), 0
			c.Rules = append(c.Rules, r)
		}
	}
	for _, r := range k.Convention.Rules {
		if r.Means == workshop.MeansFrame || r.Means == workshop.MeansNothing {
			c.Rules = append(c.Rules, r)
		}
	}
	return &c
}

// unknown is shapes of one colour that no rule knows.
type unknown struct {
	colour drawing.Colour
	near   []meaning.Near
	shapes []int
}

// assign says of which film each shape is, and asks about colours that no film has.
func (k *desk) assign() {
	rules, taken, outlined := k.rules(), k.taken(), []int{}
	k.of = make([]int, len(k.drawing.Shapes))
	var asked []*unknown
	for i := range k.drawing.Shapes {
		k.budget.Step()
		s := &k.drawing.Shapes[i]
		shown := meaning.Shows(s)
		if shown == nil || taken[i] >= len(s.Paths) {
			continue
		}
		means, near := meaning.ReadPaint(rules, s)
		if means == "" {
			asked = wonder(asked, i, *shown, near)
			continue
		}
		k.of[i] = filmOf(means)
		if k.of[i] > 0 && s.Fill != nil && s.Stroke != nil && *s.Stroke != *s.Fill {
			outlined = append(outlined, i)
		}
	}
	k.askUnknown(asked)
	if len(outlined) > 0 {
		k.note(finding.New(finding.FilmOutline, len(outlined), nil, k.places(outlined)...))
		k.bare(outlined)
	}
}

// taken counts by shape the paths that are the frame, or lie in another drawing of the
// file.
func (k *desk) taken() map[int]int {
	n := map[int]int{}
	for _, parts := range [...][]size.Part{k.size.FrameParts, k.size.LeftOut} {
		for _, p := range parts {
			k.budget.Step()
			if len(p.Segments) == 0 {
				n[p.Shape]++
			}
		}
	}
	return n
}

// bare takes the lines off filled shapes, of which the fill alone counts.
func (k *desk) bare(shapes []int) {
	d := *k.drawing
	d.Shapes = slices.Clone(d.Shapes)
	for _, i := range shapes {
		d.Shapes[i].Stroke, d.Shapes[i].StrokeWidth = nil, 0
	}
	k.drawing = &d
}

func wonder(all []*unknown, shape int, c drawing.Colour, near []meaning.Near) []*unknown {
	at := slices.IndexFunc(all, func(u *unknown) bool { return u.colour == c })
	if at < 0 {
		at, all = len(all), append(all, &unknown{colour: c, near: near})
	}
	all[at].shapes = append(all[at].shapes, shape)
	return all
}

// askUnknown settles the colours that no film has, as far as that was answered.
func (k *desk) askUnknown(all []*unknown) {
	for _, u := range all {
		q := k.unknownQuestion(u)
		f := finding.New(finding.FilmUnknown, len(u.shapes), finding.Values{"colour": finding.Text(meaning.ColourWords(u.colour))}, q.Places...)
		a, ok := k.Replies.To(&q, ask.ID(artwork.Name, groupRest))
		if !ok {
			k.note(f.As(finding.Ask))
			k.questions = append(k.questions, q)
			continue
		}
		k.note(f.Answered(a.Label).WithMend(finding.Mend{ID: "film", Applied: true, Effect: a.Label + "."}))
		for _, i := range u.shapes {
			k.of[i] = filmOf(workshop.Meaning(a.ID))
		}
	}
}

// unknownQuestion asks of which film a colour is, the nearest first.
func (k *desk) unknownQuestion(u *unknown) ask.Question {
	q := ask.Question{
		ID: ask.ID(artwork.Name, "film:"+u.colour.String()), Code: finding.FilmUnknown, Colour: u.colour.String(), Places: k.places(u.shapes),
		Text: finding.Fill("{n} {n:shape is|shapes are} "+meaning.ColourWords(u.colour)+", which is the colour of no film here. Which film should {n:it|they} be cut from?", finding.Values{"n": finding.Int(len(u.shapes))}),
	}
	q.Answers = filmAnswers(k, u)
	q.Answers = append(q.Answers, ask.Answer{ID: string(workshop.MeansNothing), Label: "None: leave it out", Evidence: "Notes and guides are not cut; what lies below them stays as it is."})
	return q
}

// filmAnswers are the films that a colour may be of, the nearest first.
func filmAnswers(k *desk, u *unknown) []ask.Answer {
	var all []ask.Answer
	why := map[int]string{}
	var order []int
	for _, n := range u.near {
		if film := filmOf(n.Means); film > 0 && why[film] == "" {
			why[film] = fmt.Sprintf("It is near to %s, which is this film.", n.Colours)
			order = append(order, film)
		}
	}
	for i := range k.Layering.Films {
		if why[i+1] == "" {
			order = append(order, i+1)
		}
	}
	for _, film := range order {
		text := why[film]
		if text == "" {
			text = "Its colour is another one."
		}
		all = append(all, ask.Answer{ID: string(meansFilm(film)), Label: "Film " + strconv.Itoa(film) + ", " + k.Layering.Films[film-1].Name, Evidence: text})
	}
	return all
}

// places says where shapes lie, in mm of the drawing.
func (k *desk) places(shapes []int) []finding.Place {
	var all []finding.Place
	for _, i := range shapes[:min(len(shapes), finding.MaxPlaces)] {
		s, box := &k.drawing.Shapes[i], geometry.EmptyBox()
		for _, p := range s.Paths {
			box = box.Union(p.Transform(k.size.Transform).BoundsIn(k.budget))
		}
		all = append(all, finding.Place{Box: box, Layer: s.Layer, Source: s.Source.String()})
	}
	return all
}

func (k *desk) note(f finding.Finding) { k.findings = append(k.findings, f) }
