package films

import (
	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
)

// keep finds what is kept of each film: what is seen of it, and what goes on under those
// that lie on it.
func (k *desk) keep(l *lay) error {
	for film := range l.areas {
		kept, err := k.keptOf(l, film)
		if err != nil {
			return err
		}
		l.kept = append(l.kept, kept)
	}
	l.cut = l.kept[k.Layering.Cut-1]
	return nil
}

func (k *desk) keptOf(l *lay, film int) (planar.Polygons, error) {
	shown := l.shown[film]
	above, err := k.above(l, film)
	if err != nil || len(above) == 0 || len(shown) == 0 || k.Layering.Meet == artwork.KnockOut {
		return shown, err
	}
	if k.Layering.Meet == artwork.Whole {
		under, err := planar.Intersection(k.budget, l.areas[film].Region(), above.Region())
		if err != nil {
			return nil, err
		}
		return planar.Union(k.budget, shown.Region(), under.Region())
	}
	return k.underlapped(shown, above)
}

// underlapped returns what is seen of a film with all that lies within the underlap of
// it under those above, and that hangs together with it. Holes that nobody could weed,
// and that are covered wholly, are filled.
func (k *desk) underlapped(shown, above planar.Polygons) (planar.Polygons, error) {
	all, err := planar.Union(k.budget, shown.Region(), above.Region())
	if err != nil {
		return nil, err
	}
	near, err := planar.Offset{By: k.Layering.UnderlapMM}.Of(k.budget, shown.Region())
	if err != nil {
		return nil, err
	}
	kept, err := planar.Intersection(k.budget, all.Region(), near.Region())
	if err != nil {
		return nil, err
	}
	var whole planar.Polygons
	for _, p := range kept {
		on, err := planar.Intersection(k.budget, planar.Polygons{p}.Region(), shown.Region())
		if err != nil {
			return nil, err
		}
		if on.Area() < tinyMM2 {
			continue // beyond a gap that was drawn
		}
		if p.Holes, err = k.weedable(p.Holes, above); err != nil {
			return nil, err
		}
		whole = append(whole, p)
	}
	return whole, nil
}

// weedable returns the holes of a film that can be weeded, and those that something is
// seen through.
func (k *desk) weedable(holes [][]geometry.Point, above planar.Polygons) ([][]geometry.Point, error) {
	var all [][]geometry.Point
	for _, hole := range holes {
		region := planar.Region{Rings: [][]geometry.Point{hole}}
		open, err := planar.Difference(k.budget, region, above.Region())
		if err != nil {
			return nil, err
		}
		room, err := planar.Offset{By: -k.Layering.Limits.CounterMM / 2}.Of(k.budget, region)
		if err != nil {
			return nil, err
		}
		if open.Area() > tinyMM2 || len(room) > 0 && -planar.RingArea(hole) >= k.Layering.Limits.CounterMM2 {
			all = append(all, hole)
		}
	}
	return all, nil
}
