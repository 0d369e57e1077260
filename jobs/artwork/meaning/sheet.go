package meaning

import (
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/size"
)

// sheetOf returns the box of the frame that was drawn round the artwork, in the
// artwork's coordinates, nil where there is none or the artwork overhangs it.
func sheetOf(s *size.Result, a *artwork.Artwork) *geometry.Box {
	if s.Frame == nil {
		return nil
	}
	box := geometry.EmptyBox()
	for _, c := range s.Frame.Corners {
		box = box.Include(a.Placed().Apply(s.Transform.Apply(c)))
	}
	if !box.ContainsBox(a.Bounds) {
		return nil
	}
	return &box
}
