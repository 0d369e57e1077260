package replay

import (
	"knifedesk/geometry/budget"
	"knifedesk/geometry/tour"
	"knifedesk/jobs/artwork"
)

// Role is what a line does for the piece, by which a beginner understands its place
// in the order.
type Role string

// The roles.
const (
	LeadIn  Role = "lead_in" // cut in waste: it turns the blade
	Test    Role = "test"    // a test mark, in waste
	Marking Role = "mark"    // drawn, scored or perforated: it frees nothing
	Relief  Role = "relief"  // added, so that waste peels in parts
	Inside  Role = "inside"  // a cut that another holds
	Outline Role = "outline" // a cut that none holds
	Border  Role = "border"  // added round all, or a seam: it frees the piece
)

// Roles lists the roles in the order in which a pass tends to run them.
func Roles() []Role { return []Role{LeadIn, Test, Marking, Relief, Inside, Outline, Border} }

// rolesOf returns the roles of strokes.
func rolesOf(b *budget.Budget, strokes []artwork.Stroke) []Role {
	roles := make([]Role, len(strokes))
	var cuts []int
	var contours []tour.Contour
	for i := range strokes {
		s := &strokes[i]
		switch {
		case !s.Operation.Cuts():
			roles[i] = Marking
		case s.Added == artwork.Relief:
			roles[i] = Relief
		case s.Added == artwork.Border || s.Added == artwork.Seam:
			roles[i] = Border
		default:
			cuts = append(cuts, i)
			contours = append(contours, tour.NewContour(b, s.Path))
		}
	}
	for k, holder := range tour.Holders(b, contours) {
		roles[cuts[k]] = Outline
		if holder >= 0 {
			roles[cuts[k]] = Inside
		}
	}
	return roles
}
