package picture

import (
	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/artwork"
)

// inked is paths in pixels that share a style.
type inked struct {
	style figure.Style
	paths []geometry.Path
}

// kind tells the styles of a plan's lines apart.
type kind struct {
	added     artwork.Added
	operation artwork.Operation
}

// strokes draws strokes (mm) under each of the placements, those of one kind
// together, and keeps marks off them. It leaves out what lies off the panel and what is
// too small.
func (p *page) strokes(strokes []artwork.Stroke, placements []geometry.Affine, small bool) figure.Detail {
	paths := make([]geometry.Path, len(strokes))
	for i := range strokes {
		paths[i] = strokes[i].Path
	}
	d := p.DetailOf(paths, len(placements))
	at := map[kind]int{}
	var groups []inked
	for _, m := range placements {
		for i := range strokes {
			if q := p.Visible(d.Shown[i], m); !q.Empty() {
				k := kindOf(&strokes[i])
				if _, ok := at[k]; !ok {
					at[k] = len(groups)
					groups = append(groups, inked{style: lineStyle(&strokes[i])})
				}
				groups[at[k]].paths = append(groups[at[k]].paths, q)
			}
		}
	}
	for _, g := range groups {
		p.Spots.Line(g.paths)
		switch {
		case small:
			p.Draw(pale(g.style), g.paths...)
		case g.style.Stroke == relief:
			p.Cased(g.style, g.paths...)
		default:
			p.Draw(g.style, g.paths...)
		}
	}
	return d
}

func kindOf(s *artwork.Stroke) kind {
	switch s.Added {
	case artwork.Relief, artwork.Seam, artwork.Border:
		return kind{added: s.Added}
	}
	return kind{operation: s.Operation}
}
