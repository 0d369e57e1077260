package picture

import (
	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
)

// inked is paths in pixels that share a style.
type inked struct {
	style style
	paths []geometry.Path
}

// kind tells the styles of a plan's lines apart.
type kind struct {
	added     artwork.Added
	operation artwork.Operation
}

// strokes draws strokes (mm) under each of the placements, those of one kind
// together. It leaves out what lies off the panel and what is too small.
func (p *page) strokes(strokes []artwork.Stroke, placements []geometry.Affine, pale bool) detail {
	paths := make([]geometry.Path, len(strokes))
	for i := range strokes {
		paths[i] = strokes[i].Path
	}
	d := p.detailOf(paths, len(placements))
	at := map[kind]int{}
	var groups []inked
	for _, m := range placements {
		for i := range strokes {
			if q := p.visible(d.shown[i], m); !q.Empty() {
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
		switch {
		case pale:
			p.draw(g.style.pale(), g.paths...)
		case g.style.stroke == relief:
			p.cased(g.style, g.paths...)
		default:
			p.draw(g.style, g.paths...)
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

// visible returns the path (mm) under m in pixels, or an empty path where it
// lies off the panel.
func (p *page) visible(q geometry.Path, m geometry.Affine) geometry.Path {
	if q.Empty() || !q.Finite() {
		return geometry.Path{}
	}
	q = q.Transform(m.Then(p.view))
	if p.clip != nil && !p.clip.Overlaps(q.Bounds()) {
		return geometry.Path{}
	}
	return q
}
