package meaning

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// askMeanings settles what the lines are for that the convention does not know,
// as far as that was answered, and asks about the others at once: however many
// colours there are, they are one question and a few findings.
func (k *desk) askMeanings(s *sorted, may offered) {
	b := bundles{}
	var open []*group
	var asked []ask.Question
	for _, g := range sortedGroups(k.budget, s.unknown) {
		k.budget.Spend(1 + len(g.lines))
		q := g.question(may)
		a, ok := k.req.Replies.To(&q, groupsOf(g.id)...)
		b.add(g, a)
		if ok {
			s.known[workshop.Meaning(a.ID)] = append(s.known[workshop.Meaning(a.ID)], g.lines...)
			continue
		}
		open, asked = append(open, g), append(asked, q)
	}
	for _, g := range open {
		k.pending = k.pending.Union(extent(k.budget, g.lines))
		k.putAside(g.lines, true)
	}
	for _, l := range b.list {
		f := unknownFinding(k.budget, l.groups, k.req.Convention.Name)
		if l.answer.ID == "" {
			k.note(f.As(finding.Ask))
		} else {
			k.note(answered(f, subjectOf(l.groups), l.answer))
		}
	}
	if len(open) > 0 {
		k.questions = append(k.questions, linesQuestion(k.budget, s, open, asked, may, k.given))
	}
}

// bundle is groups with the same fault and the same answer, if any.
type bundle struct {
	groups []*group
	answer ask.Answer
}

// bundles are all bundles, in the order of their first groups.
type bundles struct {
	list []*bundle
	at   map[string]*bundle
}

func (b *bundles) add(g *group, a ask.Answer) {
	key := string(g.code()) + "/" + a.ID
	if len(g.near) > 0 {
		key += "/" + g.near[0].rule.Colour.String()
	}
	if b.at == nil {
		b.at = map[string]*bundle{}
	}
	if b.at[key] == nil {
		b.at[key] = &bundle{answer: a}
		b.list = append(b.list, b.at[key])
	}
	b.at[key].groups = append(b.at[key].groups, g)
}

// subjectOf names the question about the groups.
func subjectOf(groups []*group) string {
	if len(groups) == 1 {
		return groups[0].id
	}
	return groupLines
}

// unknownFinding is the fault that groups of one bundle share.
func unknownFinding(b *budget.Budget, groups []*group, convention string) finding.Finding {
	var lines []line
	for _, g := range groups {
		lines = append(lines, g.lines...)
	}
	values := finding.Values{"what": finding.Text(what(groups...)), "convention": finding.Text(convention)}
	if near := groups[0].near; len(near) > 0 {
		worst := 0.0
		for _, g := range groups {
			worst = max(worst, g.near[0].delta)
		}
		values["nearest"], values["difference"] = finding.Text(colourWords(*near[0].rule.Colour)), finding.Num(worst)
		values["means"] = finding.Text(verb(near[0].rule.Means))
	}
	return finding.New(groups[0].code(), len(lines), values, places(b, lines)...)
}

// what says which lines the groups hold, without how many: "dark green lines
// (#006400)".
func what(groups ...*group) string {
	kinds := map[string]int{}
	for _, g := range groups {
		kind, _ := g.kind()
		kinds[kind]++
	}
	count := finding.Values{"count": finding.Int(count(groups))}
	if len(groups) == 1 {
		kind, layer := groups[0].kind()
		name, hex := colourName(groups[0].mark.colour), groups[0].mark.colour.String()
		return finding.Fill(map[string]string{
			"line":  name + " {count:line|lines} (" + hex + ")",
			"fill":  name + " filled {count:shape|shapes} (" + hex + ") without a line",
			"layer": "{count:line|lines} on layer " + layer,
		}[kind], count)
	}
	noun := "{count:line|lines}"
	if kinds["fill"] == len(groups) {
		noun = "filled {count:shape|shapes} without a line,"
	}
	return finding.Fill(noun, count) + " " + where(kinds)
}

// count is how many lines the groups hold.
func count(groups []*group) int {
	n := 0
	for _, g := range groups {
		n += len(g.lines)
	}
	return n
}

// where counts colours and layers: "in 3 colours and on 2 layers".
func where(kinds map[string]int) string {
	var parts []string
	for _, p := range []struct {
		n    int
		text string
	}{{kinds["line"] + kinds["fill"], "in {count} {count:colour|colours}"}, {kinds["layer"], "on {count} {count:layer|layers}"}} {
		if p.n > 0 {
			parts = append(parts, finding.Fill(p.text, finding.Values{"count": finding.Int(p.n)}))
		}
	}
	return strings.Join(parts, " and ")
}

// linesQuestion asks about all groups that are open: about the only one by
// itself, about several at once with those that hold most lines as parts.
func linesQuestion(b *budget.Budget, s *sorted, open []*group, asked []ask.Question, may offered, given *size.KnownLength) ask.Question {
	sizes := openSizes(b, s, open, given)
	for i := range asked[:min(len(asked), ask.MostParts)] {
		asked[i].Places = places(b, open[i].lines)
		asked[i].Places = asked[i].Places[:min(len(asked[i].Places), finding.MaxPlaces)]
		sizes.tell(&asked[i], sizes.without(i))
	}
	if len(asked) == 1 {
		return asked[0]
	}
	q := ask.Question{ID: ask.ID(artwork.Name, groupLines), Code: asked[0].Code, Answers: together(asked, may)}
	q.Text = fmt.Sprintf("The drawing has %d %s that the workshop does not use. What are they for? Answer for all at once, or for each.", count(open), what(open...))
	if n := len(asked); n > ask.MostParts {
		q.Text = fmt.Sprintf("%s Of the %d the %d with most lines can be answered alone.", q.Text, n, ask.MostParts)
	}
	q.Parts = asked[:min(len(asked), ask.MostParts)]
	for _, part := range q.Parts {
		q.Places = append(q.Places, part.Places...)
	}
	q.Places = q.Places[:min(len(q.Places), finding.MaxPlaces)]
	sizes.tell(&q, sizes.known)
	return q
}

// together returns the answers to several questions about meanings at once, the
// likeliest first: the first answer to each where these differ, then one meaning
// for all.
func together(asked []ask.Question, may offered) []ask.Answer {
	first := map[workshop.Meaning]int{}
	for _, q := range asked {
		first[workshop.Meaning(q.Answers[0].ID)]++
	}
	meanings := append(slices.Clone(may.meanings), workshop.MeansNothing)
	slices.SortStableFunc(meanings, func(a, b workshop.Meaning) int { return cmp.Compare(first[b], first[a]) })
	var all []ask.Answer
	if len(first) > 1 {
		var parts []string
		for _, m := range meanings {
			if n := first[m]; n > 0 {
				parts = append(parts, fmt.Sprintf("%d to %s", n, verb(m)))
			}
		}
		all = append(all, ask.Answer{
			ID: ask.Suggested, Label: "Each as its colour, layer or look suggests: " + strings.Join(parts, ", "),
			Evidence: "Near colours, words in names of layers, and dashed or closed lines speak for it.",
		})
	}
	for _, m := range meanings {
		why := may.explained(m)
		if n := first[m]; n > 0 {
			why += " " + finding.Fill("It is the likeliest for {n} of {all}.", finding.Values{"n": finding.Int(n), "all": finding.Int(len(asked))})
		}
		all = append(all, ask.Answer{ID: string(m), Label: label(m) + " (all of them)", Evidence: why})
	}
	return all
}
