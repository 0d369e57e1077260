package summary

import (
	"fmt"

	"knifedesk/geometry/preview"
)

// Pictures draws all stages there are: size, artwork, weeding, and each load
// of the layout and the passes ("layout" for the first, then "layout-2").
func (v *View) Pictures() (map[string]*preview.Picture, error) {
	all := map[string]*preview.Picture{}
	if v.Size != nil {
		all["size"] = preview.Size(v.Drawing, v.Size)
	}
	if v.Artwork != nil {
		all["artwork"] = preview.Artwork(v.Artwork)
	}
	if v.Weeding != nil {
		all["weeding"] = preview.Weeding(v.Weeding)
	}
	if v.Layout == nil {
		return all, nil
	}
	for i := range v.Layout.Loads {
		suffix := ""
		if i > 0 {
			suffix = fmt.Sprintf("-%d", i+1)
		}
		p, err := preview.Layout(v.Layout, v.Weeding, i+1)
		if err != nil {
			return nil, err
		}
		all["layout"+suffix] = p
		if v.Passes == nil {
			continue
		}
		if p, err = preview.Passes(v.Passes, v.Layout, v.Weeding, i+1); err != nil {
			return nil, err
		}
		all["passes"+suffix] = p
	}
	return all, nil
}
