package layout

import "slices"

// Nesting says how copies are laid: by their rectangles in rows, or by their true
// shapes with so much search.
type Nesting string

// The ways to lay copies. The times are those of about fifty copies on two processors.
const (
	Rows     Nesting = "rows"
	Quick    Nesting = "quick"    // about 2 s
	Normal   Nesting = "normal"   // about a minute
	Thorough Nesting = "thorough" // about ten minutes
)

// Nestings lists the ways to lay copies.
func Nestings() []Nesting { return []Nesting{Rows, Quick, Normal, Thorough} }

// Known reports whether n is one of the ways; left out, it means rows.
func (n Nesting) Known() bool { return n == "" || slices.Contains(Nestings(), n) }

// Asked returns n, and nothing for rows, which is the same as saying nothing.
func (n Nesting) Asked() Nesting {
	if n == Rows {
		return ""
	}
	return n
}

// Nested says what nesting came to, where it was asked for.
type Nested struct {
	Effort Nesting `json:"effort"`
	// Better is false where the copies lie in rows all the same.
	Better bool `json:"better"`
	// SavedSheets, or else SavedMM of roll or of the last sheet, is what is taken
	// less than in rows.
	SavedSheets int     `json:"saved_sheets,omitempty"`
	SavedMM     float64 `json:"saved_mm,omitempty"`
	Means       string  `json:"means"` // the same in a sentence
}
