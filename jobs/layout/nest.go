package layout

import (
	"fmt"

	"knifedesk/geometry/budget"
	"knifedesk/geometry/nest"
	"knifedesk/jobs/finding"
)

const (
	// worthRollMM is the length of roll that is worth a layout out of line, in mm: less
	// is lost when it is cut off by hand (common practice, no source). Of a sheet it is
	// what is kept as an offcut.
	worthRollMM = 5
	// roundMM is by how much rows, which lie on whole µm, may lie nearer than asked.
	roundMM = 0.002
	// leastClearMM keeps curves apart that are flattened, where no gap is asked for.
	leastClearMM = 2 * shapeChord
	// longestMM is the longest sheet or run that is nested.
	longestMM = 49_000
)

// nest lays the copies by their true shapes, and returns the better of that and of
// the rows. What came of it is told in l.Nested.
func (l *Layout) nest(b *budget.Budget, piece Piece, req Request, a area, allowed nest.Turns, rows []sheet) []sheet {
	l.Nested = &Nested{Effort: req.Nesting}
	shape, err := piece.shape(b, l.Mirrored)
	if err != nil || len(shape) == 0 || shape.Area() >= piece.Bounds.Width()*piece.Bounds.Height()*(1-1e-6) {
		l.Nested.Means = "The copies lie in rows: each takes a whole rectangle."
		if piece.Bordered {
			l.Nested.Means = "The copies lie in rows: each takes the whole rectangle of its weed border. To nest them leave the border out."
		}
		return rows
	}
	best, lists := rows, turnsOf(req, allowed, rows)
	for i, turns := range lists {
		part := b.Part(float64(i)/float64(len(lists)), float64(i+1)/float64(len(lists)))
		task := task{part, piece, req, a, shape, mostAtOnce, blockCopies}
		if nested := task.sheets(turns, rows); nested != nil && less(nested, best, a.roll) {
			best = nested
		}
	}
	l.Nested.compare(best, rows, a.roll)
	if l.Nested.Better {
		return best
	}
	return rows
}

func worth(roll bool) float64 {
	if roll {
		return worthRollMM
	}
	return leastOffcut
}

// turnsOf lists the turns of the copies in quarters that may be mixed, that of the
// first in rows first: several lists where all are to be alike.
func turnsOf(req Request, allowed nest.Turns, rows []sheet) [][]int {
	first := rows[0].spots[0].quarter
	both := allowed.Straight && allowed.Quarter
	switch {
	case req.OneTurn && both:
		return [][]int{{first}, {1 - first}}
	case req.OneTurn:
		return [][]int{{first}}
	case both:
		return [][]int{{first, first + 2, 1 - first, 3 - first}}
	}
	return [][]int{{first, first + 2}}
}

// lengthOf is the length in mm that sheets take of the last one, or runs of the roll.
func lengthOf(all []sheet, roll bool) float64 {
	if !roll {
		return all[len(all)-1].lengthMM
	}
	sum := 0.0
	for _, one := range all {
		sum += one.lengthMM
	}
	return sum
}

// less reports whether one layout takes less than another.
func less(one, other []sheet, roll bool) bool {
	if len(one) != len(other) {
		return len(one) < len(other)
	}
	return lengthOf(one, roll) < lengthOf(other, roll)
}

// compare says by how much a nesting is better than rows, and whether that is worth it.
func (n *Nested) compare(nested, rows []sheet, roll bool) {
	n.SavedSheets = len(rows) - len(nested)
	n.SavedMM = lengthOf(rows, roll) - lengthOf(nested, roll)
	switch {
	case !roll && n.SavedSheets > 0:
		n.Better, n.SavedMM = true, 0
		n.Means = finding.Fill("Laid by their true shapes the copies take {n} {n:sheet|sheets} less than in rows.", finding.Values{"n": finding.Int(n.SavedSheets)})
	case n.SavedSheets >= 0 && n.SavedMM >= worth(roll):
		n.Better = true
		n.Means = fmt.Sprintf("Laid by their true shapes the copies take %.0f mm less than in rows.", n.SavedMM)
	default:
		n.SavedMM, n.SavedSheets = 0, 0
		n.Means = fmt.Sprintf("The copies lie in rows: no layout by their true shapes was found that saves %.0f mm.", worth(roll))
	}
	if roll {
		n.SavedSheets = 0
	}
}
