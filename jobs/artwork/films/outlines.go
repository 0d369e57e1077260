package films

import (
	"fmt"
	"strconv"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// Outlines without a fill do not say by themselves what of a film they enclose where they
// run over each other, or lie on filled shapes of the same film:
//
//	.------.           whole: all that lies in one of them
//	|    .-+----.      holes: without the overlap, which lies in two
//	'----+-'    |
//	     '------'

// The answers about outlines.
const (
	answerWhole = "whole"
	answerHoles = "holes"
)

// outlined returns the coats of a film as a person reads its outlines, and its sheet with
// those joined that make one shape. holes says that some are holes in what they run over,
// so that the film is not cut just as it was drawn.
func (k *desk) outlined(film int, sheet *artwork.Artwork) (coats []coat, _ *artwork.Artwork, holes bool, err error) {
	coats = k.coats(film, sheet)
	joined, places, err := weeding.Overlaps(k.budget, sheet.Strokes, geometry.DefaultChord)
	if err != nil {
		return nil, nil, false, err
	}
	if len(places) > 0 {
		whole := *sheet
		whole.Strokes = joined
		places = finding.Moved(places, geometry.Translate(sheet.Origin.X, sheet.Origin.Y))
		one := k.coats(film, &whole)
		if coats, holes, err = choose(k, coats, one, overlaps(film, k.Layering.Films[film].Name, places)); err != nil || holes {
			return coats, sheet, holes, err
		}
		sheet = &whole
	}
	last := len(coats) - 1 // the outlines come last
	if last < 1 || coats[last].filled {
		return coats, sheet, false, nil
	}
	filled, err := areaOf(k, coats[:last])
	if err != nil {
		return nil, nil, false, err
	}
	on, err := planar.Intersection(k.budget, filled.Region(), coats[last].region)
	if err != nil || on.Area() < tinyMM2 {
		return coats, sheet, false, err
	}
	places = nil
	for _, p := range on {
		places = append(places, finding.Place{Box: boxOf(planar.Polygons{p})})
	}
	coats, holes, err = choose(k, coats, coats, onFills(film, k.Layering.Films[film].Name, places))
	return coats, sheet, holes, err
}

// overlaps asks whether outlines that run over each other make one shape.
func overlaps(film int, name string, places []finding.Place) *ask.Question {
	return &ask.Question{
		ID: ask.ID(artwork.Name, "overlaps:"+strconv.Itoa(film+1)), Code: finding.OutlinesCross, Places: places,
		Text: fmt.Sprintf("Some outlines of film %d (%s) run over each other. Do they make one shape together?", film+1, name),
		Answers: []ask.Answer{
			{ID: answerWhole, Label: "Yes, join them: all that lies inside one of them is kept", Evidence: "Overlapping letters and shapes then hold together."},
			{ID: answerHoles, Label: "No, what lies inside two of them is a hole", Evidence: "So it is where an inner outline makes a hole in the one round it."},
		},
	}
}

// onFills asks whether outlines without a fill are holes in the filled shapes of their
// film that they lie on, or round.
func onFills(film int, name string, places []finding.Place) *ask.Question {
	return &ask.Question{
		ID: ask.ID(artwork.Name, "holes:"+strconv.Itoa(film+1)), Code: finding.RegionsUnclear, Places: places,
		Text: fmt.Sprintf("In film %d (%s) outlines without a fill and filled shapes lie on each other. Does the inner one make a hole in the outer one?", film+1, name),
		Answers: []ask.Answer{
			{ID: answerHoles, Label: "Yes: what lies inside both is a hole", Evidence: "On film of the same colour an outline that makes no hole would change nothing."},
			{ID: answerWhole, Label: "No: all that is filled, or lies inside an outline, is kept", Evidence: "The inner one is then not cut."},
		},
	}
}

// choose returns what was answered to q: the coats of one shape, or what is left of those
// drawn without what lies in two outlines, or in an outline and a fill. Where that is the
// same, as of an outline in the form of an eight, nothing is asked.
func choose(k *desk, drawn, one []coat, q *ask.Question) (coats []coat, holes bool, err error) {
	whole, err := areaOf(k, one)
	if err != nil {
		return nil, false, err
	}
	open, err := openOf(k, drawn)
	if err != nil {
		return nil, false, err
	}
	if whole.Area()-open.Area() > tinyMM2 {
		for i := range q.Answers {
			a := &q.Answers[i]
			a.Evidence += " " + keeps(map[string]planar.Polygons{answerWhole: whole, answerHoles: open}[a.ID])
		}
		if k.settle(q) == answerWhole {
			return one, false, nil
		}
	}
	return []coat{{film: drawn[0].film, region: open.Region()}}, true, nil
}

// openOf is what lies in an odd number of outlines, or in filled shapes, and not in both.
func openOf(k *desk, coats []coat) (planar.Polygons, error) {
	last := len(coats) - 1
	filled, err := areaOf(k, coats[:last])
	if err != nil {
		return nil, err
	}
	return planar.SymmetricDifference(k.budget, filled.Region(), coats[last].region)
}

// settle returns the answer that was given to q, or notes that it is asked, and goes on
// with the likeliest.
func (k *desk) settle(q *ask.Question) string {
	f := finding.New(q.Code, len(q.Places), nil, q.Places...)
	q.Places = f.Places // no more than are listed
	a, ok := k.Replies.To(q, ask.ID(artwork.Name, groupRest))
	if !ok {
		k.note(f.As(finding.Ask))
		k.questions = append(k.questions, *q)
		return q.Answers[0].ID
	}
	k.note(f.Answered(a.Label).WithMend(finding.Mend{ID: "films", Applied: true, Effect: a.Label + "."}))
	return a.ID
}

// areaOf is what coats of one film cover.
func areaOf(k *desk, coats []coat) (planar.Polygons, error) {
	var regions []planar.Region
	for _, c := range coats {
		regions = append(regions, c.region)
	}
	return planar.Union(k.budget, regions...)
}

func keeps(area planar.Polygons) string {
	return finding.Fill(fmt.Sprintf("It keeps {n} {n:part|parts} of %.0f mm² in all.", area.Area()), finding.Values{"n": finding.Int(len(area))})
}
