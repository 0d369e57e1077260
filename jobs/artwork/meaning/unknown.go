package meaning

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
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

// sortedGroups returns the groups, those with most lines first.
func sortedGroups(b *budget.Budget, all map[string]*group) []*group {
	var groups []*group
	for _, g := range all {
		groups = append(groups, g)
	}
	slices.SortFunc(groups, func(g, h *group) int {
		b.Step()
		return cmp.Or(cmp.Compare(len(h.lines), len(g.lines)), cmp.Compare(g.id, h.id))
	})
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

// kind returns how the lines of g are told apart, "line" and "fill" by their
// colour or "layer", and by which colour or layer.
func (g *group) kind() (kind, name string) {
	kind, name, _ = strings.Cut(g.id, ":")
	return kind, name
}

// question asks what the lines of g are for.
func (g *group) question(may offered) ask.Question {
	f := finding.Finding{Count: len(g.lines), Values: finding.Values{"what": finding.Text(what(g))}}
	q := ask.Question{
		ID: ask.ID(artwork.Name, g.id), Code: g.code(), Answers: rank(g, may),
		Text: f.Fill(fmt.Sprintf("What {count:is the|are the %d} {what} for?", f.Count)),
	}
	if kind, _ := g.kind(); kind != "layer" {
		q.Colour = g.mark.colour.String()
	}
	return q
}

// code is the fault of the lines of g.
func (g *group) code() finding.Code {
	kind, _ := g.kind()
	switch {
	case len(g.near) > 0:
		return finding.ColourNear
	case kind == "fill":
		return finding.FillOnly
	}
	return finding.UnknownLine
}

// rank returns the meanings a line can be given, the likeliest first.
func rank(g *group, may offered) []ask.Answer {
	hints := hintsOf(g)
	answers := make([]ask.Answer, 0, len(may.meanings)+1)
	for _, m := range append(slices.Clone(may.meanings), workshop.MeansNothing) {
		evidence := strings.Join(append([]string{may.explained(m)}, hints.reasons[m]...), " ")
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
		h.add(n.rule.Means, 100-n.delta, "The colour is nearly the workshop's %s.", colourWords(*n.rule.Colour))
	}
	for _, m := range []workshop.Meaning{workshop.MeansPen, workshop.MeansScore, workshop.MeansPerforate, workshop.MeansCut, workshop.MeansNothing} {
		for _, w := range layerWords(m) {
			if strings.Contains(strings.ToLower(g.mark.layer), w) {
				h.add(m, 50, "The layer's name has %q in it.", w)
			}
		}
	}
	dashed, closed, locked := 0, 0, 0
	for _, l := range g.lines {
		if l.locked {
			locked++
		}
		if l.shape.Dashed {
			dashed++
		}
		if l.path.Closed || l.path.Start.Dist(l.path.End()) <= 0.1 {
			closed++
		}
	}
	n := len(g.lines)
	if locked == n {
		h.add(workshop.MeansNothing, 60, "Its layer is locked, as one that holds a template or a guide often is.")
	}
	if dashed > 0 {
		h.add(workshop.MeansScore, 20*float64(dashed)/float64(n), "Folds are often dashed, as %s.", share(dashed, n))
	}
	if closed > 0 {
		h.add(workshop.MeansCut, 10*float64(closed)/float64(n), "Closed outlines, as %s, are mostly cut out.", share(closed, n))
	}
	return h
}

// share says how many of n lines are meant, after "as".
func share(some, n int) string {
	if some == n {
		return finding.Fill("{n:this line is|all these lines are}", finding.Values{"n": finding.Int(n)})
	}
	return fmt.Sprintf("%d of these %d lines are", some, n)
}

// layerWords are words in layer names that hint at a meaning.
func layerWords(m workshop.Meaning) []string {
	switch m {
	case workshop.MeansCut:
		return []string{"cut", "outline"}
	case workshop.MeansScore:
		return []string{"fold", "score", "crease", "mountain", "valley"}
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
