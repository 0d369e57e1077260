package svg

import (
	"knifedesk/geometry/budget"
	"knifedesk/geometry/drawing"
)

// quota counts what the limits bound while the tree is drawn.
type quota struct {
	b      *budget.Budget
	limits Limits
	notes  *drawing.Notes

	uses, repeats, segments int
	stopped                 bool        // a limit was reached
	over                    *limitError // which
}

// spend counts one level and, inside a reference, one drawn element and the
// attributes that are read again.
func (q *quota) spend(e *element, at *spot) bool {
	q.b.Step()
	if at.depth++; at.depth > q.limits.Depth {
		q.stop(limitDepth, q.limits.Depth)
		return false
	}
	if at.used {
		if q.uses++; q.uses > q.limits.Uses {
			q.stop(limitUses, q.limits.Uses)
			return false
		}
		if q.repeats += e.size; q.repeats > q.limits.Repeats {
			q.stop(limitRepeats, q.limits.Repeats)
			return false
		}
	}
	return true
}

// stop ends the reading at a limit.
func (q *quota) stop(limit string, allowed int) {
	q.notes.Limit(limit, allowed)
	q.stopped, q.over = true, &limitError{limit, allowed}
}
