package films

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
)

// tinyMM2 is an area that no knife can cut: what is left of it is rounding.
const tinyMM2 = 1e-3

// lay is the films as areas, by film from 0, in mm of the drawing.
type lay struct {
	drawn []coat            // what was drawn, in the order in which it is painted
	areas []planar.Polygons // of each film, as drawn, whatever lies on it
	shown []planar.Polygons // what is seen of each
	order []int             // of films, the lowest first
	cut   planar.Polygons   // what is kept of the film that is cut
	kept  []planar.Polygons // what is kept of each
	// holed says by film that outlines are holes in what they run over: it is not cut just
	// as it was drawn.
	holed []bool
	// drawnBox is round all that was drawn, curves as such: it is the same whichever film
	// is cut.
	drawnBox geometry.Box
}

// coat is one area of one film, as it is painted.
type coat struct {
	film   int
	shape  int
	filled bool
	region planar.Region
}

// lay finds what of each film is seen, in which order they lie and what is kept of each.
// It returns nil where some film has no area, which was told.
func (k *desk) lay(sheets []*artwork.Artwork) (*lay, error) {
	l := &lay{drawnBox: geometry.EmptyBox()}
	for film, a := range sheets {
		coats, read, holes, err := k.outlined(film, a)
		if err != nil {
			return nil, err
		}
		l.drawn, l.holed, sheets[film] = append(l.drawn, coats...), append(l.holed, holes), read
		onto := geometry.Translate(a.Origin.X, a.Origin.Y)
		for i := range a.Strokes {
			l.drawnBox = l.drawnBox.Union(a.Strokes[i].Path.Transform(onto).BoundsIn(k.budget))
		}
	}
	filled := !slices.ContainsFunc(l.drawn, func(c coat) bool { return !c.filled })
	for film := range sheets {
		area, err := planar.Union(k.budget, l.regions(film)...)
		if err != nil {
			return nil, err
		}
		if len(area) == 0 {
			noteArealess(k, film)
			return nil, nil
		}
		l.areas = append(l.areas, area)
	}
	steps := []func(*lay) error{k.arrange, k.show, k.keep}
	if filled { // what is seen says what lies on what
		slices.SortStableFunc(l.drawn, func(c, d coat) int { return c.shape - d.shape })
		steps = []func(*lay) error{k.show, k.arrange, k.keep}
	}
	for _, step := range steps {
		if err := step(l); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// coats are the areas of a film: of each filled shape by its fill rule, and of all
// outlines that are not filled, which come last, by how often they enclose a place.
func (k *desk) coats(film int, a *artwork.Artwork) []coat {
	onto := geometry.Translate(a.Origin.X, a.Origin.Y)
	outlines := coat{film: film, region: planar.Region{Rule: planar.EvenOdd}}
	var all []coat
	at := map[int]int{} // of all, by shape
	for i := range a.Strokes {
		s := &a.Strokes[i]
		if !s.Path.Closed || s.Slit {
			continue
		}
		ring := s.Path.Transform(onto).FlattenIn(k.budget, geometry.DefaultChord)
		if s.Fill == "" {
			outlines.region.Rings = append(outlines.region.Rings, ring)
			continue
		}
		n, seen := at[s.Shape]
		if !seen {
			n = len(all)
			at[s.Shape] = n
			all = append(all, coat{film: film, shape: s.Shape, filled: true})
			if s.Fill == drawing.EvenOdd {
				all[n].region.Rule = planar.EvenOdd
			}
		}
		all[n].region.Rings = append(all[n].region.Rings, ring)
	}
	if len(outlines.region.Rings) > 0 {
		all = append(all, outlines)
	}
	return all
}

// regions are what was drawn of a film.
func (l *lay) regions(film int) []planar.Region {
	var all []planar.Region
	for _, c := range l.drawn {
		if c.film == film {
			all = append(all, c.region)
		}
	}
	return all
}

// show finds what is seen of each film. Films that are not painted lie as l.order says.
func (k *desk) show(l *lay) error {
	if l.order != nil {
		slices.SortStableFunc(l.drawn, func(c, d coat) int { return slices.Index(l.order, c.film) - slices.Index(l.order, d.film) })
	}
	var regions []planar.Region
	var paints []int
	for _, c := range l.drawn {
		regions, paints = append(regions, c.region), append(paints, c.film)
	}
	var err error
	l.shown, err = planar.Shown(k.budget, regions, paints, len(l.areas))
	return err
}

// above returns the union of what is seen of the films that lie on one.
func (k *desk) above(l *lay, film int) (planar.Polygons, error) {
	var all []planar.Region
	for _, f := range l.order[slices.Index(l.order, film)+1:] {
		all = append(all, l.shown[f].Region())
	}
	if len(all) == 0 {
		return nil, nil
	}
	return planar.Union(k.budget, all...)
}
