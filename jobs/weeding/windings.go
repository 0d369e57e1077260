package weeding

import (
	"iter"
	"math/bits"
)

// winding says how often a closed stroke runs round a face, anticlockwise
// counting positive.
type winding struct{ stroke, turns int32 }

// windings are those of one face, a binary tree over the numbers of the strokes.
// It never changes: a face shares all but one path with the face beside it, so
// that deep nests take little memory (path copying; Driscoll, Sarnak, Sleator
// and Tarjan, 1989). Nil stands for no winding.
type windings struct {
	halves [2]*windings
	turns  int32 // at a leaf
}

// levels returns how high the tree over so many strokes is.
func levels(strokes int) int { return bits.Len(uint(strokes)) }

// at returns how often the stroke runs round.
func (w *windings) at(stroke int32, level int) int32 {
	for ; w != nil && level > 0; level-- {
		w = w.halves[stroke>>(level-1)&1]
	}
	if w == nil {
		return 0
	}
	return w.turns
}

// turned returns the windings with one of them changed by that many turns.
func (w *windings) turned(stroke, by int32, level int) *windings {
	var own windings
	if w != nil {
		own = *w
	}
	if level == 0 {
		own.turns += by
	} else {
		half := &own.halves[stroke>>(level-1)&1]
		*half = (*half).turned(stroke, by, level-1)
	}
	if own == (windings{}) {
		return nil
	}
	return &own
}

// all yields the windings that are not 0, by stroke.
func (w *windings) all(level int) iter.Seq[winding] {
	return func(yield func(winding) bool) { w.walk(0, level, yield) }
}

func (w *windings) walk(from int32, level int, yield func(winding) bool) bool {
	switch {
	case w == nil:
		return true
	case level == 0:
		return yield(winding{from, w.turns})
	}
	return w.halves[0].walk(from, level-1, yield) && w.halves[1].walk(from|1<<(level-1), level-1, yield)
}
