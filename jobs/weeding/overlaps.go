package weeding

import (
	"slices"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// Overlaps finds the closed outlines among strokes that run over each other, or over
// themselves, and returns the strokes with those joined, as the map has them where a
// person wants that, and the places of what was joined. Where only filled outlines do so
// there is no place and nothing is joined: how they cover each other was painted. Chords
// stand for curves within chordMM. The error is one of planar.Arrange.
func Overlaps(b *budget.Budget, strokes []artwork.Stroke, chordMM float64) ([]artwork.Stroke, []finding.Place, error) {
	c, err := arrange(b, strokes, chordMM)
	if err != nil {
		return nil, nil, err
	}
	x := crossingsOf(b, c)
	bare := x.unpainted(strokes)
	if bare.none() {
		return strokes, nil, nil
	}
	return weld(b, c, x), bare.places(b, c), nil
}

// unpainted returns the crossings of which at least one outline has no fill.
func (x crossings) unpainted(strokes []artwork.Stroke) crossings {
	bare := crossings{first: x.first}
	for _, p := range x.pairs {
		if strokes[p[0]].Fill == "" || strokes[p[1]].Fill == "" {
			bare.pairs = append(bare.pairs, p)
		}
	}
	bare.self = slices.DeleteFunc(slices.Clone(x.self), func(s int32) bool { return strokes[s].Fill != "" })
	return bare
}
