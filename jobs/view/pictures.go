package view

import (
	"fmt"
	"slices"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/view/picture"
)

// Picture draws one stage, nil where there is no result yet: drawing, size,
// artwork, weeding, or a load of layout or passes, from 1.
func (v *View) Picture(stage string, load int) (*figure.Picture, error) {
	switch {
	case stage == "drawing" && v.Drawing != nil:
		return picture.Drawing(v.Drawing), nil
	case stage == "size" && v.Size != nil:
		return picture.Size(v.Drawing, v.Size), nil
	case stage == "artwork" && v.Artwork != nil:
		read, _ := v.outcome(v.Drawing)
		sized, _ := v.outcome(v.Size)
		return picture.Artwork(v.Artwork, slices.Concat(read, sized)...), nil
	case stage == "weeding" && v.Weeding != nil:
		return picture.Weeding(v.Weeding), nil
	case stage == "layout" && v.Layout != nil:
		return picture.Layout(v.Layout, v.Weeding, load)
	case stage == "passes" && v.Passes != nil && len(v.Passes.Loads) > 0: // a refused plan has none
		return picture.Passes(v.Passes, v.Layout, v.Weeding, load)
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
func (v *View) Pictures() (map[string]*figure.Picture, error) {
	all := map[string]*figure.Picture{}
	add := func(name, stage string, load int) error {
		p, err := v.Picture(stage, load)
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
