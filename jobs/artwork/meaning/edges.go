package meaning

import (
	"fmt"
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
		Evidence: finding.Fill("Panels of a net that stay joined share an edge, whose cut is then drawn twice; here it is drawn {times} {times:time|times}.", finding.Values{"times": finding.Num(s.Times)})}
	answers := []ask.Answer{cut, fold}
	if s.Times > 1.5 {
		slices.Reverse(answers)
	}
	f := finding.New(finding.FoldOnCut, s.Count, finding.Values{"length_mm": finding.Num(s.MM)}, s.Places...)
	switch k.ask(f, ask.Question{
		ID: "shared_edges", Answers: answers,
		Text: fmt.Sprintf("%.0f mm of fold lines lie on cut lines. Should they be cut or folded?", s.MM),
	}) {
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
	drop := map[int]bool{}
	answer := k.ask(f, ask.Question{
		ID: "doubled_lines",
		Text: f.Fill("{count} {count:outline runs|outlines run} round another one at most {most_mm} mm away, " +
			"as when a line was turned into its two edges. Which should be cut?"),
		Answers: []ask.Answer{
			{ID: "outer", Label: "The outer outlines only", Evidence: "The distance is the same all round, as the width of a drawn line is."},
			{ID: "inner", Label: "The inner outlines only", Evidence: "The piece then loses the width of the line on every side."},
			{ID: "both", Label: "Both: they are thin rings", Evidence: "Rings as thin as this seldom survive weeding."},
		},
	})
	for _, p := range pairs {
		drop[p.Inner] = drop[p.Inner] || answer == "outer"
		drop[p.Outer] = drop[p.Outer] || answer == "inner"
	}
	var kept []artwork.Stroke
	for i, stroke := range k.strokes {
		if !drop[i] {
			kept = append(kept, stroke)
		}
	}
	k.strokes = kept
}
