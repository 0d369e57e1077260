package mend

import (
	"math"
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// Ends is what the ends of open lines look like.
type Ends struct {
	Gaps  Spots // wider than a near gap, at most Limits.GapMM
	Spurs Spots // tails past a crossing, at most Limits.GapMM
	Leaks Spots // cut lines that are nearly an outline, with an end that is free
	Open  Spots // other cut lines with a free end
}

// Spots is how often something was found, and where.
type Spots struct {
	Count  int
	Places []finding.Place
	MostMM float64 // the largest length of its kind
}

func (s *Spots) add(p finding.Place, mm float64) {
	s.Count++
	s.Places = append(s.Places, p)
	s.MostMM = math.Max(s.MostMM, mm)
}

// CheckEnds looks at the ends of open lines that touch no other line.
func CheckEnds(effort *Effort, strokes []artwork.Stroke, lim Limits) Ends {
	c := newChain(effort, strokes)
	contacts := c.contacts(lim.GapMM)
	var e Ends
	free := map[int]bool{}
	pairs, lines := c.pairs(contacts, lim.GapMM)
	settled := map[end]bool{}
	for _, k := range append(pairs, lines...) {
		e.Gaps.add(placeOf(&strokes[k.end.stroke()], geometry.BoxAround(c.at[k.end], k.at)), k.dist)
		settled[k.end] = true
		if k.mate >= 0 {
			settled[k.mate] = true
		}
	}
	for _, k := range contacts {
		s := &strokes[k.end.stroke()]
		switch {
		case k.spur > lim.TinyMM:
			e.Spurs.add(placeOf(s, geometry.BoxAround(c.at[k.end]).Grow(k.spur)), k.spur)
		case k.spur == 0 && !settled[k.end]:
			free[k.end.stroke()] = true
		}
	}
	for i := range strokes {
		if !free[i] || !strokes[i].Operation.Cuts() {
			continue
		}
		effort.steps().Spend(len(strokes[i].Path.Segments))
		from, to := strokes[i].Path.Start, strokes[i].Path.End()
		if nearlyOutline(effort.steps(), strokes[i].Path) {
			e.Leaks.add(placeOf(&strokes[i], geometry.BoxAround(from, to)), from.Dist(to))
		} else {
			e.Open.add(placeOf(&strokes[i], strokes[i].Path.Bounds()), from.Dist(to))
		}
	}
	for _, s := range []*Spots{&e.Gaps, &e.Spurs, &e.Leaks, &e.Open} {
		s.Places = sortedPlaces(effort.steps(), s.Places)
	}
	return e
}

// nearlyOutline reports whether an open line goes round something: its ends
// are nearer to each other than half its length, and it encloses more than a
// hair.
func nearlyOutline(b *budget.Budget, p geometry.Path) bool {
	length := p.LengthIn(b)
	return p.Start.Dist(p.End()) < length/2 && math.Abs(p.Area()) > 0.01*length*length
}

// CloseGaps joins the ends that CheckEnds counts as gaps by straight lines.
func CloseGaps(effort *Effort, strokes []artwork.Stroke, lim Limits) []artwork.Stroke {
	c := newChain(effort, strokes)
	pairs, lines := c.pairs(c.contacts(lim.GapMM), lim.GapMM)
	for _, k := range pairs {
		c.mate[k.end], c.mate[k.mate] = k.mate, k.end
		c.bridge[k.end], c.bridge[k.mate] = true, true
	}
	for _, k := range lines {
		c.reach(k.end, c.extended(k, lim.GapMM))
	}
	return c.walk()
}

// reach lengthens the line of e to p: a straight end that points there grows,
// any other gets a straight segment more.
func (c *chain) reach(e end, p geometry.Point) {
	path := c.strokes[e.stroke()].Path
	if e&1 == 0 {
		path = path.Reversed()
	}
	all := pieces(path)
	last := all[len(all)-1]
	path.Segments = slices.Clone(path.Segments)
	if t := last.tangent(1); last.straight() && math.Abs(t.Cross(p.Sub(last.from).Unit())) < 1e-9 {
		path.Segments[len(path.Segments)-1].End = p
	} else {
		path.Segments = append(path.Segments, geometry.LineTo(p))
	}
	if e&1 == 0 {
		path = path.Reversed()
	}
	c.strokes[e.stroke()].Path = path
	c.at[e] = p
}
