package lesson

import (
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// layered are choices for a work of two films: dark blue below, of the stock named, and
// white on it.
func layered(base, upper string) plan.Choices {
	return plan.Choices{Film: 1, Films: []plan.FilmChoice{
		{Stock: base, Colour: drawing.RGB(0x1f, 0x4e, 0x79)}, {Stock: upper, Colour: drawing.RGB(0xff, 0xff, 0xff)},
	}}
}

func onPermanent() plan.Choices { return layered("film-permanent-300", "film-removable-610") }

// painted is a filled shape in a colour, with more attributes.
func painted(colour, path, more string) string {
	return `<path fill="` + colour + `" d="` + path + `"` + more + `/>`
}

// lined is the outline of a shape in a colour.
func lined(colour, path string) string {
	return `<path fill="none" stroke="` + colour + `" stroke-width="0.1" d="` + path + `"/>`
}

const (
	navy  = "#1f4e79"
	paper = "#ffffff"
	small = "M20 18h20v14h-20z"
	aside = "M40 20h30v30h-30z"
)

func signOf(says string, shapes ...string) Example {
	body := ""
	for _, s := range shapes {
		body += s
	}
	return of(onPermanent(), says, onPage(body))
}

// ironedOn makes the permanent film of the college one for a heat press, of which the
// data do not say how it holds elsewhere.
func ironedOn(w *workshop.Data) {
	stocks(func(s *workshop.Stock) {
		if s.Family == workshop.PermanentFilm {
			s.Family = workshop.HeatFilm
		}
	})(w)
}

var goodSign = signOf("A dark blue plate with a white one painted on it.", painted(navy, box, ""), painted(paper, small, ""))

var filmLessons = []Lesson{
	{finding.FilmUnknown, "A colour of no film",
		"The work is cut from several films, one for each colour, and some shapes have a colour that no film has.",
		"Select the shapes that are marked, and look at the colour of their fill.",
		signOf("A green plate on a dark blue one; the films are dark blue and white.", painted(navy, box, ""), painted(paper, "M12 12h4v4h-4z", ""), painted("#2e8b57", small, "")), goodSign},
	{finding.FilmOrder, "Which film lies on top",
		"Shapes of two films overlap, and are drawn as lines, so nothing shows which one hides the other.",
		"Look where the outlines cross. Fill the shapes, and bring the upper one to the front.",
		signOf("The outline of a white plate crosses that of a dark blue one.", lined(navy, box), lined(paper, aside)),
		signOf("The same plates, filled: the white one lies on top.", painted(navy, box, ""), painted(paper, aside, ""))},
	{finding.FilmOutline, "A line of another colour",
		"Film is cut along the edge of a filled shape. A line round it in another colour would be a film of its own, and is left out.",
		"Select the shape and look at its line.",
		signOf("The white plate has a black line.", painted(navy, box, ""), painted(paper, small, ` stroke="#000000" stroke-width="0.2"`)), goodSign},
	{finding.FilmEmpty, "A film without shapes",
		"A film was named, and nothing in the drawing has its colour or lies on its layer.",
		"Select each shape and look at its colour.",
		signOf("There is only a dark blue plate.", painted(navy, box, "")), goodSign},
	{finding.FilmHidden, "A film that nobody would see",
		"Shapes that were drawn later hide all of a film. It would be cut and put up for nothing.",
		"Look at the drawing: a colour is missing. Bring its shapes to the front.",
		signOf("The white plate lies behind the dark blue one.", painted(paper, small, ""), painted(navy, box, "")), goodSign},
	{finding.BaseRemovable, "The lowest film comes off again",
		"The lowest film carries the others. One that is made to come off again lifts at its edges with them.",
		"Nothing is wrong with your drawing. Ask for a permanent film of that colour.",
		Example{Says: "The lowest film is a removable one.", File: goodSign.File, On: layered("film-removable-610", "film-permanent-300")}, goodSign},
	{finding.BaseUnknown, "It is not known whether the lowest film stays",
		"The lowest film carries the others, and has to be one that stays on. The workshop's list does not say that of this one.",
		notYours,
		Example{Says: "The lowest film is one that is ironed on.", File: goodSign.File, On: onPermanent()}.with(ironedOn), goodSign},
}
