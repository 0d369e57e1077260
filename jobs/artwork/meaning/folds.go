package meaning

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// foldKind is the folds of one look: those that the convention gives a side, by
// that, and others by their layer, colour or dashes.
type foldKind struct {
	id    string // of the question about it; empty: the convention has settled it
	name  string // in words
	side  workshop.Side
	hint  workshop.Side // by the name of the layer, or by how it is drawn
	drawn ask.Line      // where that tells it from others; else empty
	bare  bool          // its colour names it, as its layer says nothing
	lines []line
}

// foldSides settles which way the folds go, seen from the side that was drawn.
// Where nothing tells folds apart there is nothing to ask: all go away from the
// knife. Where a rule or the name of a layer says that some go up or down, the
// others are asked about.
func foldSides(k *desk, lines []line) {
	kinds := foldKinds(lines)
	told := slices.ContainsFunc(kinds, func(f foldKind) bool { return f.side != "" })
	named := slices.ContainsFunc(kinds, func(f foldKind) bool {
		return f.side == "" && f.hint != "" && (len(kinds) > 1 || f.hint == workshop.Valley)
	})
	if !told && !named {
		return
	}
	askSides(k, kinds)
	closing(k, kinds)
}

// foldKinds sorts folds by what tells them apart, in the order of their names.
func foldKinds(lines []line) []foldKind {
	at, colours := map[string]int{}, coloursOfLayers(lines)
	drawn := map[string]map[ask.Line]bool{}
	marked := make([]foldKind, len(lines))
	for i := range lines {
		marked[i] = foldMarked(&lines[i], colours)
		if id := marked[i].id; id != "" {
			if drawn[id] == nil {
				drawn[id] = map[ask.Line]bool{}
			}
			drawn[id][drawnAs(&lines[i])] = true
		}
	}
	var kinds []foldKind
	for i := range lines {
		f := marked[i]
		if len(drawn[f.id]) > 1 {
			f.byDashes(drawnAs(&lines[i]))
		}
		key := string(f.side) + f.id
		n, seen := at[key]
		if !seen {
			n, at[key] = len(kinds), len(kinds)
			kinds = append(kinds, f)
		}
		kinds[n].lines = append(kinds[n].lines, lines[i])
	}
	slices.SortStableFunc(kinds, func(a, b foldKind) int {
		return cmp.Or(cmp.Compare(a.id, b.id), cmp.Compare(a.side, b.side))
	})
	return kinds
}

// foldMarked is the kind of a fold by rule, layer and colour.
func foldMarked(l *line, colours map[string]map[drawing.Colour]bool) foldKind {
	f := foldKind{side: l.fold}
	if l.fold != "" {
		return f
	}
	m := markOf(l)
	f.id, f.name, f.hint = "fold:"+m.layer, "on layer "+m.layer, sideByName(m.layer)
	switch named := m.layer != "" && m.layer != "0"; {
	case !named:
		f.id, f.name, f.bare = "fold:"+m.colour.String(), "in "+colourName(m.colour), true
	case len(colours[m.layer]) > 1:
		f.id, f.name, f.bare = f.id+" "+m.colour.String(), "in "+colourName(m.colour)+" "+f.name, true
	}
	return f
}

// drawnAs is how a line is drawn.
func drawnAs(l *line) ask.Line {
	switch {
	case l.shape.DashDot:
		return ask.DashDot
	case l.shape.Dashed:
		return ask.Dashed
	}
	return ask.Whole
}

// byDashes makes the kind one of several that dashes alone tell apart. In diagrams of
// folds dashes are mostly valleys, and dash and dot ridges (common practice, no source).
func (f *foldKind) byDashes(as ask.Line) {
	words := map[ask.Line]string{ask.Whole: "whole lines", ask.Dashed: "dashes", ask.DashDot: "dash and dot"}[as]
	f.drawn, f.id, f.name = as, f.id+" "+words, "drawn in "+words+" "+f.name
	if f.hint == "" {
		f.hint = map[ask.Line]workshop.Side{ask.Dashed: workshop.Valley, ask.DashDot: workshop.Mountain}[as]
	}
}

// coloursOfLayers returns the colours in which the lines of each layer are drawn.
func coloursOfLayers(lines []line) map[string]map[drawing.Colour]bool {
	all := map[string]map[drawing.Colour]bool{}
	for i := range lines {
		m := markOf(&lines[i])
		if all[m.layer] == nil {
			all[m.layer] = map[drawing.Colour]bool{}
		}
		all[m.layer][m.colour] = true
	}
	return all
}

// sideByName is the side that the name of a layer speaks for, "" for none.
func sideByName(layer string) workshop.Side {
	layer = strings.ToLower(layer)
	mountain, valley := strings.Contains(layer, "mountain"), strings.Contains(layer, "valley")
	switch {
	case mountain && !valley:
		return workshop.Mountain
	case valley && !mountain:
		return workshop.Valley
	}
	return ""
}

// askSides asks which way the folds go that the convention gives no side: about
// one kind by itself, about several at once with each as a part. An answer is set
// in kinds.
func askSides(k *desk, kinds []foldKind) {
	var open []ask.Question
	for i := range kinds {
		f := &kinds[i]
		if f.id == "" {
			continue
		}
		q := f.question(k)
		a, ok := k.req.Replies.To(&q, groupsOf(f.id)...)
		if ok {
			f.side = workshop.Side(a.ID)
			k.note(answered(unsided(k, f.lines), f.id, a))
			continue
		}
		k.note(unsided(k, f.lines).As(finding.Ask))
		open = append(open, q)
	}
	if len(open) < 2 {
		k.questions = append(k.questions, open...)
		return
	}
	group := ask.Question{
		ID: ask.ID(artwork.Name, groupFolds), Code: finding.FoldSides, Parts: open[:min(len(open), ask.MostParts)],
		Text:    "Hold your drawing in front of you. Which of these folds stand up towards you, like the ridge of a roof, and which lie in, like the middle of an open book?",
		Answers: sideAnswers(open[0].Answers[0].ID == string(workshop.Valley), " (all of them)"),
	}
	var each []string
	for _, part := range open {
		group.Places = append(group.Places, part.Places...)
		word := map[bool]string{true: "stand up", false: "lie in"}[part.Answers[0].ID == string(workshop.Mountain)]
		each = append(each, strings.TrimPrefix(part.ID, ask.ID(artwork.Name, "fold:"))+" "+word)
	}
	group.Places = group.Places[:min(len(group.Places), finding.MaxPlaces)]
	said, why := "As the names say: ", "Layers called mountain or valley speak for it."
	if slices.ContainsFunc(open, func(q ask.Question) bool { return q.Line != "" }) {
		said, why = "As diagrams of folds are mostly drawn: ", "Dashes are mostly folds that lie in, dash and dot those that stand up; look whether yours are."
	}
	if slices.ContainsFunc(open, func(q ask.Question) bool { return q.Answers[0].ID != open[0].Answers[0].ID }) {
		group.Answers = slices.Insert(group.Answers, 0, ask.Answer{
			ID: ask.Suggested, Label: said + strings.Join(each[:min(len(each), ask.MostParts)], ", "), Evidence: why,
		})
	}
	k.questions = append(k.questions, group)
}

// question asks which way the folds of one kind go.
func (f *foldKind) question(k *desk) ask.Question {
	folds := "does the fold"
	if n := len(f.lines); n > 1 {
		folds = fmt.Sprintf("do the %d folds", n)
	}
	q := ask.Question{
		ID: ask.ID(artwork.Name, f.id), Code: finding.FoldSides, Places: unsided(k, f.lines).Places, Answers: sideAnswers(f.hint == workshop.Valley, ""),
		Text: fmt.Sprintf("Hold your drawing in front of you. Which way %s %s go?", folds, f.name),
	}
	q.Line = f.drawn
	if m := markOf(&f.lines[0]); f.bare || f.drawn != "" {
		q.Colour = m.colour.String()
	}
	switch {
	case f.hint != "" && sideByName(markOf(&f.lines[0]).layer) == "":
		q.Answers[0].Evidence += " Folds that go so are mostly drawn like these."
	case f.hint != "":
		q.Answers[0].Evidence += fmt.Sprintf(" The layer's name has %q in it.", f.hint)
	}
	return q
}

// sideAnswers are the two ways that folds go.
func sideAnswers(valleyFirst bool, all string) []ask.Answer {
	answers := []ask.Answer{
		{ID: string(workshop.Mountain), Label: "Up: the fold stands towards you, like the ridge of a roof" + all, Evidence: "Both sides fold away from you (a mountain fold)."},
		{ID: string(workshop.Valley), Label: "In: the fold lies back, like the middle of an open book" + all, Evidence: "Both sides come up towards you (a valley fold)."},
	}
	if valleyFirst {
		slices.Reverse(answers)
	}
	return answers
}

func unsided(k *desk, lines []line) finding.Finding {
	return finding.New(finding.FoldSides, len(lines), finding.Values{"convention": finding.Text(k.req.Convention.Name)}, places(k.budget, lines)...)
}

// closing tells of folds that close over the score of a knife. The side that was
// drawn lies up unless the work is mirrored, and then its back does.
func closing(k *desk, kinds []foldKind) {
	inward, drawn, back := workshop.Valley, "the side that was drawn", "its back"
	if k.req.Stock.CutMirrored(k.req.Mirror) {
		inward, drawn, back = workshop.Mountain, back, "the side that was drawn"
	}
	var over []line
	others := 0
	for _, f := range kinds {
		switch f.side {
		case "":
		case inward:
			over = append(over, f.lines...)
		default:
			others += len(f.lines)
		}
	}
	if len(over) == 0 {
		return
	}
	mm := 0.0
	for i := range over {
		k.budget.Spend(1 + len(over[i].path.Segments))
		mm += over[i].path.Length()
	}
	advice, rest := "have the work cut from "+back+" (mirrored), so that the score lies outside the folds", "no other fold goes the other way"
	if others > 0 {
		rest = fmt.Sprintf("%d go the other way", others)
		advice = "folds of both kinds cannot be scored from one side, so press the marked ones in with a blunt point and a ruler instead of the knife, or have the sheet turned over and them scored from the back, or draw them as perforations, which fold both ways"
	}
	k.note(finding.New(finding.FoldsOverScore, len(over), finding.Values{
		"over_mm": finding.Num(mm), "kind": finding.Text(string(inward)), "side": finding.Text(drawn), "others": finding.Text(rest), "advice": finding.Text(advice),
	}, places(k.budget, over)...))
}
