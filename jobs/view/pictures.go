package view

import "knifedesk/jobs/view/picture"

// The pictures of the jobs. A result that is not there has none, which is nil.

// DrawSize draws the drawing as read with its frame.
func DrawSize(r *Results) *picture.Picture {
	if r.Size == nil {
		return nil
	}
	return picture.Size(r.Drawing, r.Size)
}

// DrawArtwork draws the artwork, with what was found in the drawing marked too.
func DrawArtwork(r *Results) *picture.Picture {
	if r.Artwork == nil {
		return nil
	}
	return picture.Artwork(r.Artwork, r.beside()...)
}

// DrawWeeding draws the weeding map.
func DrawWeeding(r *Results) *picture.Picture {
	if r.Weeding == nil {
		return nil
	}
	return picture.Weeding(r.Weeding)
}

// DrawLayout draws a load of the layout, from 1.
func DrawLayout(r *Results, load int) (*picture.Picture, error) {
	if r.Layout == nil {
		return nil, nil
	}
	return picture.Layout(r.Layout, r.Weeding, load)
}

// DrawPasses draws the passes of a load, from 1.
func DrawPasses(r *Results, load int) (*picture.Picture, error) {
	if r.Passes == nil || len(r.Passes.Loads) == 0 { // a refused plan has none
		return nil, nil
	}
	return picture.Passes(r.Passes, r.Layout, r.Weeding, load)
}
