package artwork

import "knifedesk/geometry"

// Canonical brings all paths into the form in which they read back from text.
func (a *Artwork) Canonical() {
	Canonical(a.Strokes)
	if a.Stack != nil {
		a.Stack.moved(geometry.Path.Canonical)
	}
}

// Canonical brings the paths of strokes into the form in which they read back
// from text.
func Canonical(strokes []Stroke) {
	for i := range strokes {
		strokes[i].Path = strokes[i].Path.Canonical()
	}
}
