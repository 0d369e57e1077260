package meaning

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

// group is the lines of one unknown colour or layer.
type group struct {
	id    string
	mark  mark
	near  []near
	lines []line
}

func sortedGroups(all map[string]*group) []*group {
	var groups []*group
	for _, g := range all {
		groups = append(groups, g)
	}
	slices.SortFunc(groups, func(a, b *group) int { return cmp.Compare(a.id, b.id) })
	return groups
}

// sharedColours returns the colours that stand on more than one layer, so that
// the layer and not the colour tells their lines apart.
func sharedColours(b *budget.Budget, lines []line) map[drawing.Colour]bool {
	layer, shared := map[drawing.Colour]string{}, map[drawing.Colour]bool{}
	for i := range lines {
		b.Step()
		m := markOf(&lines[i])
		if first, seen := layer[m.colour]; seen && first != m.layer {
			shared[m.colour] = true
		}
		layer[m.colour] = m.layer
	}
	return shared
}

// questionID names the question about a line that no rule matches: by layer
// where the layer tells it apart, by colour otherwise.
func questionID(m mark, close []near, shared map[drawing.Colour]bool) string {
	plain := m.colour == drawing.Colour{} || m.colour == drawing.Colour{R: 255, G: 255, B: 255}
	named := m.layer != "" && m.layer != "0"
	switch {
	case named && len(close) == 0 && (plain || shared[m.colour]):
		return "layer:" + m.layer
	case m.painted:
		return "fill:" + m.colour.String()
	}
	return "line:" + m.colour.String()
}

// askMeaning asks what the lines of g are for.
func (k *desk) askMeaning(g *group, allowed []workshop.Meaning) workshop.Meaning {
	kind, name, _ := strings.Cut(g.id, ":")
	count := finding.Values{"count": finding.Int(len(g.lines))}
	what := finding.Fill(map[string]string{
		"line":  "{count:line|lines} of colour ",
		"fill":  "filled {count:shape|shapes} without a line, of colour ",
		"layer": "{count:line|lines} on layer ",
	}[kind], count) + name
	values := finding.Values{"what": finding.Text(what), "convention": finding.Text(k.req.Convention.Name)}
	code := finding.UnknownLine
	switch {
	case len(g.near) > 0:
		code = finding.ColourNear
		values["nearest"], values["difference"] = finding.Text(g.near[0].rule.Colour.String()), finding.Num(g.near[0].delta)
		values["means"] = finding.Text(verb(g.near[0].rule.Means))
	case kind == "fill":
		code = finding.FillOnly
	}
	f := finding.New(code, len(g.lines), values, places(k.budget, g.lines)...)
	return workshop.Meaning(k.ask(f, ask.Question{
		ID: g.id, Answers: rank(g, allowed),
		Text: f.Fill(fmt.Sprintf("What {count:is the|are the %d} {what} for?", f.Count)),
	}))
}

// rank returns the meanings a line can be given, the likeliest first.
func rank(g *group, allowed []workshop.Meaning) []ask.Answer {
	hints := hintsOf(g)
	answers := make([]ask.Answer, 0, len(allowed)+1)
	for _, m := range append(slices.Clone(allowed), workshop.MeansNothing) {
		evidence := strings.Join(hints.reasons[m], " ")
		if evidence == "" {
			evidence = "Nothing in the drawing speaks for it."
		}
		answers = append(answers, ask.Answer{ID: string(m), Label: label(m), Evidence: evidence})
	}
	slices.SortStableFunc(answers, func(a, b ask.Answer) int {
		return cmp.Compare(hints.weights[workshop.Meaning(b.ID)], hints.weights[workshop.Meaning(a.ID)])
	})
	return answers
}

// hints are what speaks for each meaning, and how strongly.
type hints struct {
	weights map[workshop.Meaning]float64
	reasons map[workshop.Meaning][]string
}

func (h *hints) add(m workshop.Meaning, weight float64, format string, args ...any) {
	h.weights[m] += weight
	h.reasons[m] = append(h.reasons[m], fmt.Sprintf(format, args...))
}

// hintsOf finds the hints in the colour, the layer's name and the look of lines.
func hintsOf(g *group) hints {
	h := hints{weights: map[workshop.Meaning]float64{}, reasons: map[workshop.Meaning][]string{}}
	for _, n := range g.near {
		h.add(n.rule.Means, 100-n.delta, "The colour is nearly the workshop's %[2]s (a difference of %.1[1]f by CIEDE2000).", n.delta, n.rule.Colour)
	}
	for _, m := range []workshop.Meaning{workshop.MeansPen, workshop.MeansScore, workshop.MeansPerforate, workshop.MeansCut, workshop.MeansNothing} {
		for _, w := range layerWords(m) {
			if strings.Contains(strings.ToLower(g.mark.layer), w) {
				h.add(m, 50, "The layer's name has %q in it.", w)
			}
		}
	}
	dashed, closed := 0, 0
	for _, l := range g.lines {
		if l.shape.Dashed {
			dashed++
		}
		if l.path.Closed || l.path.Start.Dist(l.path.End()) <= 0.1 {
			closed++
		}
	}
	n := len(g.lines)
	if dashed > 0 {
		h.add(workshop.MeansScore, 20*float64(dashed)/float64(n), "Dashed lines, as folds often are: %d of %d.", dashed, n)
	}
	if closed > 0 {
		h.add(workshop.MeansCut, 10*float64(closed)/float64(n), "Closed outlines: %d of %d.", closed, n)
	}
	return h
}

// layerWords are words in layer names that hint at a meaning.
func layerWords(m workshop.Meaning) []string {
	switch m {
	case workshop.MeansCut:
		return []string{"cut", "outline"}
	case workshop.MeansScore:
		return []string{"fold", "score", "crease"}
	case workshop.MeansPerforate:
		return []string{"perf"}
	case workshop.MeansPen:
		return []string{"pen", "draw", "ink"}
	case workshop.MeansNothing:
		return []string{"note", "guide", "dim", "help"}
	}
	return nil
}

func verb(m workshop.Meaning) string {
	switch m {
	case workshop.MeansPen:
		return "draw with the pen"
	case workshop.MeansScore:
		return "score for folding"
	case workshop.MeansNothing:
		return "leave out"
	case workshop.MeansFrame:
		return "frame"
	}
	return string(m)
}

func label(m workshop.Meaning) string {
	v := verb(m)
	return strings.ToUpper(v[:1]) + v[1:]
}
