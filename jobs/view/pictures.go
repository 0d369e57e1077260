package view

import (
	"context"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/view/picture"
)

// The pictures of the jobs. A result that is not there has none, which is nil.
// They fail with the error of ctx, and where there is no such load.

// DrawSize draws the drawing as read with its frame.
func DrawSize(ctx context.Context, r *Results, _ int) (*figure.Picture, error) {
	if r.Size == nil {
		return nil, nil
	}
	return picture.Size(ctx, r.Drawing, r.Size)
}

// DrawArtwork draws the artwork, with what was found in the drawing marked too.
func DrawArtwork(ctx context.Context, r *Results, _ int) (*figure.Picture, error) {
	if r.Artwork == nil {
		return nil, nil
	}
	if len(r.Artwork.Questions) > 0 && r.Drawing != nil && r.Size != nil {
		return picture.InQuestion(ctx, r.Drawing, r.Size, r.Artwork, r.beside()...)
	}
	if picture.IsMended(r.Artwork) && r.Drawing != nil && r.Size != nil {
		return picture.Mended(ctx, r.Drawing, r.Size, r.Artwork, r.beside()...)
	}
	return picture.Artwork(ctx, r.Artwork, r.beside()...)
}

// DrawWeeding draws the weeding map of what lies on a load, from 1; they differ where
// the piece is made of panels.
func DrawWeeding(ctx context.Context, r *Results, load int) (*figure.Picture, error) {
	if r.Weeding == nil {
		return nil, nil
	}
	m := r.MapOn(load)
	if r.Artwork != nil && m == r.Weeding && picture.IsJoined(r.Artwork, m) {
		return picture.Joined(ctx, r.Artwork, m)
	}
	return picture.Weeding(ctx, m)
}

// DrawLayout draws a load of the layout, from 1.
func DrawLayout(ctx context.Context, r *Results, load int) (*figure.Picture, error) {
	if r.Layout == nil {
		return nil, nil
	}
	return picture.Layout(ctx, r.Layout, r.MapOn(load), load)
}

// DrawPasses draws the passes of a load, from 1.
func DrawPasses(ctx context.Context, r *Results, load int) (*figure.Picture, error) {
	if r.Passes == nil || len(r.Passes.Loads) == 0 { // a refused plan has none
		return nil, nil
	}
	return picture.Passes(ctx, r.Passes, r.Layout, r.MapOn(load), load)
}
