package layout

// Again is what of a drawing is cut once more: one of the parts that it keeps, with what
// shares a line with it, or the whole.
type Again struct {
	Piece  int `json:"piece,omitempty"` // its number in the weeding map of the drawing; 0: the whole
	Copies int `json:"copies"`
}
