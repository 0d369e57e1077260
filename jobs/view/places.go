package view

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
)

// onArtwork maps drawing units to the mm in which a plan tells places: from the
// lower left corner of the artwork, or from the origin of the drawing while
// there is no artwork, and by the file's own unit while the size is open.
func (v *View) onArtwork() geometry.Affine {
	m := geometry.Scale(v.Drawing.Unit.MM, v.Drawing.Unit.MM)
	if v.Size != nil && v.Size.Transform.Det() != 0 {
		m = v.Size.Transform
	}
	if v.Artwork != nil {
		m = m.Then(geometry.Translate(-v.Artwork.Origin.X, -v.Artwork.Origin.Y))
	}
	return m
}

// outcome is what one stage found and asks, with its places on the artwork.
func (v *View) outcome(r plan.Result) ([]finding.Finding, []ask.Question) {
	fs, qs := r.Outcome()
	switch r.(type) {
	case *read.Result, *size.Result: // their places are in drawing units
	default:
		return fs, qs
	}
	m := v.onArtwork()
	fs, qs = slices.Clone(fs), slices.Clone(qs)
	for i := range fs {
		fs[i].Places = finding.Moved(fs[i].Places, m)
	}
	for i := range qs {
		qs[i].Places = finding.Moved(qs[i].Places, m)
	}
	return fs, qs
}
