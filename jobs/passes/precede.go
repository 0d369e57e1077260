package passes

import (
	"math"
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
)

// touchMM is how near the end of a relief line has to come to a contour to
// end on it.
const touchMM = 0.05

// sequence says of the strokes of one operation what has to come before what,
// and how large each is. Strokes are counted within the operation.
type sequence struct {
	after [][]int // strokes that have to come after each
	tier  []int   // decade of the enclosed area; 0 for open lines
	depth []int   // how many contours hold each, what frees the piece left out
}

// sequenceOf finds the order that the rules demand among cuts:
//
// What a contour holds comes before it, so that nothing is cut in film or card
// that has come loose. Relief lines come before the contours they end on: the
// film is still whole on both sides of their ends then, so no tip of it can
// lift under the blade, and the contour closes the end when it is cut. The
// weed border and seams come after all else, since they free the piece.
//
// Pen lines, scores and perforations free nothing and may run in any order.
func sequenceOf(b *budget.Budget, strokes []artwork.Stroke, op artwork.Operation) sequence {
	s := sequence{after: make([][]int, len(strokes)), tier: make([]int, len(strokes)), depth: make([]int, len(strokes))}
	if !op.Cuts() {
		return s
	}
	cs := make([]tour.Contour, len(strokes))
	for i := range strokes {
		cs[i] = tour.NewContour(b, strokes[i].Path)
		s.tier[i] = tierOf(cs[i].Area())
	}
	parents := tour.Holders(b, cs)
	s.countDepths(b, strokes, parents)
	s.holdBack(b, strokes, parents)
	s.holdRelief(b, strokes, cs, parents)
	return s
}

// tierOf returns the decade of an area in mm²: 1 below 10, 2 below 100, …
func tierOf(area float64) int {
	if area <= 0 {
		return 0
	}
	return 1 + max(0, int(math.Floor(math.Log10(area))))
}

// holdBack puts every stroke before what holds it, and the outermost ones
// before borders and seams.
func (s *sequence) holdBack(b *budget.Budget, strokes []artwork.Stroke, parents []int) {
	var last []int
	for i := range strokes {
		if frees(strokes[i]) {
			last = append(last, i)
			s.tier[i] = math.MaxInt
		}
	}
	for i, p := range parents {
		b.Spend(1 + len(last))
		if p >= 0 && !(frees(strokes[i]) && !frees(strokes[p])) {
			s.after[i] = append(s.after[i], p)
		}
		if !frees(strokes[i]) && (p < 0 || frees(strokes[p])) {
			for _, j := range last {
				if j != p {
					s.after[i] = append(s.after[i], j)
				}
			}
		}
	}
}

// countDepths counts how many contours hold each stroke.
func (s *sequence) countDepths(b *budget.Budget, strokes []artwork.Stroke, parents []int) {
	known := make([]bool, len(strokes))
	var chain []int
	for i := range strokes {
		chain = chain[:0]
		for at := i; at >= 0 && !known[at]; at = parents[at] {
			b.Step()
			chain, known[at] = append(chain, at), true
		}
		for k := len(chain) - 1; k >= 0; k-- {
			if p := parents[chain[k]]; p >= 0 {
				s.depth[chain[k]] = s.depth[p]
				if !frees(strokes[p]) {
					s.depth[chain[k]]++
				}
			}
		}
	}
}

// frees reports whether a stroke parts the whole piece from the rest.
func frees(s artwork.Stroke) bool { return s.Added == artwork.Border || s.Added == artwork.Seam }

// holdRelief puts every relief line before the contours on which it ends. The
// one that holds it is after it anyway.
func (s *sequence) holdRelief(b *budget.Budget, strokes []artwork.Stroke, cs []tour.Contour, parents []int) {
	if !slices.ContainsFunc(strokes, func(s artwork.Stroke) bool { return s.Added == artwork.Relief }) {
		return
	}
	chords := tour.NewChords(b, cs)
	for i := range strokes {
		if strokes[i].Added != artwork.Relief {
			continue
		}
		path := &strokes[i].Path
		on := append(chords.Touching(b, path.Start, touchMM), chords.Touching(b, path.End(), touchMM)...)
		slices.Sort(on)
		for _, j := range slices.Compact(on) {
			if j != i && j != parents[i] && strokes[j].Added != artwork.Relief && !frees(strokes[j]) {
				s.after[i] = append(s.after[i], j)
			}
		}
	}
}
