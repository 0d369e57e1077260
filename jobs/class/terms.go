// Package class holds the words of class sets, pure: what the members of a set
// share, how they stand, who of the roster is missing, and the text that says so.
package class

import (
	"slices"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
)

// MostMembers bounds the drawings of a set, and MostExpected its roster.
const (
	MostMembers  = 200
	MostExpected = 400
)

// Terms are what the members of a set share, which counts as said for each drawing, and
// the session and spares of the class.
type Terms struct {
	// Stocks are what members may be cut from; the first is that of members who
	// name none.
	Stocks     []string        `json:"stocks"`
	Purpose    weeding.Purpose `json:"purpose,omitempty"`
	Convention string          `json:"convention,omitempty"`
	Frame      string          `json:"frame,omitempty"`
	Novice     bool            `json:"novice,omitempty"`
	Mirror     *bool           `json:"mirror,omitempty"`
	// Nesting is how all are laid on common loads; empty: in rows. A member's own plan is
	// laid in rows, since nothing is cut by it.
	Nesting layout.Nesting `json:"nesting,omitempty"`
	Session *Session       `json:"session,omitempty"` // nil: nothing is said of the time
	Spares  Spares         `json:"spares"`
}

// Choices returns what a member chooses by the terms. It fails with a
// *plan.ChoiceError where the stock is none of the set; an empty one is the first.
func (t *Terms) Choices(stock string, copies int) (plan.Choices, error) {
	if stock == "" && len(t.Stocks) > 0 {
		stock = t.Stocks[0]
	}
	if !slices.Contains(t.Stocks, stock) {
		return plan.Choices{}, &plan.ChoiceError{Field: "stock", Reason: "The set has no such stock.", Known: t.Stocks}
	}
	return plan.Choices{
		Stock: stock, Convention: t.Convention, Purpose: t.Purpose, Copies: copies, Mirror: t.Mirror,
		Size: plan.Size{Frame: t.Frame}, Options: plan.Options{Novice: t.Novice},
	}, nil
}
