package view

import (
	"context"
	"fmt"
	"slices"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/view/picture"
)

// Picture draws one stage, nil where there is no result yet: drawing, size,
// artwork, weeding, or a load of layout or passes, from 1. It fails where there
// is no such load, and with the error of ctx.
func (v *View) Picture(ctx context.Context, stage string, load int) (*figure.Picture, error) {
	switch {
	case stage == "drawing" && v.Drawing != nil:
		return picture.Drawing(ctx, v.Drawing)
	case stage == "size" && v.Size != nil:
		return picture.Size(ctx, v.Drawing, v.Size)
	case stage == "artwork" && v.Artwork != nil:
		read, _ := v.outcome(v.Drawing)
		sized, _ := v.outcome(v.Size)
		return picture.Artwork(ctx, v.Artwork, slices.Concat(read, sized)...)
	case stage == "weeding" && v.Weeding != nil:
		return picture.Weeding(ctx, v.Weeding)
	case stage == "layout" && v.Layout != nil:
		return picture.Layout(ctx, v.Layout, v.Weeding, load)
	case stage == "passes" && v.Passes != nil && len(v.Passes.Loads) > 0: // a refused plan has none
		return picture.Passes(ctx, v.Passes, v.Layout, v.Weeding, load)
	}
	return nil, nil
}

// Loads returns how many loads there are to draw.
func (v *View) Loads() int {
	if v.Layout == nil {
		return 0
	}
	return len(v.Layout.Loads)
}

// Pictures draws all stages there are, each load of the layout and the passes
// by itself: "layout" for the first, then "layout-2".
func (v *View) Pictures(ctx context.Context) (map[string]*figure.Picture, error) {
	all := map[string]*figure.Picture{}
	add := func(name, stage string, load int) error {
		p, err := v.Picture(ctx, stage, load)
		if p != nil {
			all[name] = p
		}
		return err
	}
	for _, stage := range []string{"drawing", "size", "artwork", "weeding"} {
		if err := add(stage, stage, 0); err != nil {
			return nil, err
		}
	}
	for load := 1; load <= v.Loads(); load++ {
		suffix := ""
		if load > 1 {
			suffix = fmt.Sprintf("-%d", load)
		}
		for _, stage := range []string{"layout", "passes"} {
			if err := add(stage+suffix, stage, load); err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}
