package meaning

import (
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// sharedEdges settles lines that are a fold and a cut at once. Which of them
// was meant is a question: a cut where a net should fold drops a panel, a fold
// where it should part leaves it hanging.
func (k *desk) sharedEdges() {
	withoutFolds, s := mend.Yield(k.effort, k.strokes, k.lim, folds, artwork.Operation.Cuts)
	if s.Count == 0 {
		return
	}
	cut := ask.Answer{ID: "cut", Label: "Cut there, and fold elsewhere",
		Evidence: "The cut is the edge of the piece, and the fold line was drawn on past it or copied with the outline."}
	fold := ask.Answer{ID: "fold", Label: "Fold there, and do not cut",
		Evidence: finding.Fill("Parts of a folded box that stay joined share an edge, whose cut is then drawn twice; here it is drawn {times} {times:time|times}.", finding.Values{"times": finding.Num(s.Times)})}
	answers := []ask.Answer{cut, fold}
	if s.Times > 1.5 {
		slices.Reverse(answers)
	}
	f := finding.New(finding.FoldOnCut, s.Count, finding.Values{"length_mm": finding.Num(s.MM)}, s.Places...)
	box := runBox(k.budget, k.strokes) // folds lie on the cuts that they take the place of, so either keeps it
	switch k.ask(f, sized(k, ask.Question{
		ID: "shared_edges", Answers: answers,
		Text: f.Fill("Fold lines lie on cut lines in the marked places, {length_mm} mm in all. Should the card be cut or folded there?"),
	}, box, box)) {
	case "cut":
		k.strokes = withoutFolds
	case "fold":
		k.strokes, _ = mend.Yield(k.effort, k.strokes, k.lim, artwork.Operation.Cuts, folds)
	}
}

func folds(o artwork.Operation) bool { return o == artwork.Score || o == artwork.Perforate }

// doubles settles contours that look like the two sides of one line.
func (k *desk) doubles() {
	pairs, s := mend.Doubles(k.effort, k.strokes, k.lim)
	if s.Count == 0 {
		return
	}
	f := finding.New(finding.DoubledLine, s.Count, finding.Values{"most_mm": finding.Num(s.MostMM)}, s.Places...)
	answers := map[string][]artwork.Stroke{}
	for _, a := range []string{"outer", "inner", "both"} {
		answers[a] = ofPairs(k.strokes, pairs, a)
	}
	answer := k.ask(f, sized(k, ask.Question{
		ID:   "doubled_lines",
		Text: f.Fill("{count} {count:outline is|outlines are} drawn twice, one just inside the other, at most {most_mm} mm apart. Which should be cut?"),
		Answers: []ask.Answer{
			{ID: "outer", Label: "Only the outer outline", Evidence: "The distance is the same all round, as when one thick line was turned into its two edges."},
			{ID: "inner", Label: "Only the inner outline", Evidence: "The piece is then smaller by that distance on every side."},
			{ID: "both", Label: "Both: a thin ring is wanted", Evidence: "Rings as thin as this mostly tear when the film round them is peeled off."},
		},
	}, runBox(k.budget, answers["outer"]), runBox(k.budget, answers["inner"]), runBox(k.budget, answers["both"])))
	if answer != "" {
		k.strokes = answers[answer]
	}
}

// ofPairs returns the strokes with only the outer or the inner ones of pairs, or
// with both.
func ofPairs(strokes []artwork.Stroke, pairs []mend.Double, answer string) []artwork.Stroke {
	drop := map[int]bool{}
	for _, p := range pairs {
		drop[p.Inner] = drop[p.Inner] || answer == "outer"
		drop[p.Outer] = drop[p.Outer] || answer == "inner"
	}
	var kept []artwork.Stroke
	for i, stroke := range strokes {
		if !drop[i] {
			kept = append(kept, stroke)
		}
	}
	return kept
}
