package meaning

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork/legend"
	"knifedesk/jobs/size"
	"knifedesk/jobs/workshop"
)

// sameMM is how far a letter that was saved by another program may lie off the one
// that was written.
const sameMM = 0.1

// leastOutlines is how many lines there are at least where one may be a legend without its
// layer: one has letters by the hundred.
const leastOutlines = 30

// takeLegends takes the legend of a starter file out of what nobody knows: programs that
// keep no layers leave it in its colour alone, which may be near that of another thing.
func takeLegends(k *desk, unknown map[string]*group) {
	for id, g := range unknown {
		k.budget.Step()
		if len(g.lines) < leastOutlines {
			continue
		}
		own, rest := legends(k, g.lines)
		putAside(k, own, false)
		if g.lines = rest; len(rest) == 0 {
			delete(unknown, id)
		}
	}
}

// legends divides lines into the legend that a starter file comes with, which nobody
// meant to cut, and the rest. A name is not trusted: the legend lies, outline by outline,
// where it was written, in the frame that the file came with.
func legends(k *desk, lines []line) (own, rest []line) {
	if k.page == nil || len(lines) == 0 {
		return nil, lines
	}
	var layers []legend.Layer
	for _, l := range Layers(&k.req.Convention, k.req.Stock.Family) {
		layers = append(layers, legend.Layer{Name: l.Name, Means: l.Means, Fold: l.Fold})
	}
	written := map[[2]int][]geometry.Path{} // by the middle in whole mm
	at := func(box geometry.Box) (x, y int) {
		return int(math.Floor(box.Centre().X)), int(math.Floor(box.Centre().Y))
	}
	for _, p := range legend.Paths(&k.req.Stock.Limits, layers, begun(k.page.Width(), &k.req.Stock), begun(k.page.Height(), &k.req.Stock)) {
		x, y := at(p.BoundsIn(k.budget))
		written[[2]int{x, y}] = append(written[[2]int{x, y}], p)
	}
	onto := geometry.Translate(-k.page.Min.X, -k.page.Min.Y)
	for _, l := range lines {
		k.budget.Spend(1 + len(l.path.Segments))
		p := l.path.Transform(onto)
		x, y := at(p.BoundsIn(k.budget))
		found := false
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, o := range written[[2]int{x + dx, y + dy}] {
					found = found || sameOutline(k.budget, p, o)
				}
			}
		}
		if found {
			own = append(own, l)
		} else {
			rest = append(rest, l)
		}
	}
	return own, rest
}

// begun is how long a side of the frame was written, which may have been rounded since:
// as that of the sheet, or in whole mm as on a roll.
func begun(side float64, s *workshop.Stock) float64 {
	for _, written := range []float64{s.WidthMM, s.LengthMM, math.Round(side)} {
		if math.Abs(side-written) < sameMM {
			return written
		}
	}
	return side
}

// sameOutline reports whether each of two paths keeps within sameMM of the other.
func sameOutline(b *budget.Budget, p, q geometry.Path) bool {
	pb, qb := p.BoundsIn(b), q.BoundsIn(b)
	if pb.Min.Dist(qb.Min) > sameMM || pb.Max.Dist(qb.Max) > sameMM {
		return false
	}
	ps, qs := p.FlattenIn(b, sameMM/10), q.FlattenIn(b, sameMM/10)
	return keeps(b, ps, qs) && keeps(b, qs, ps)
}

// keeps reports whether the corners of one polyline lie along another.
func keeps(b *budget.Budget, corners, along []geometry.Point) bool {
	for _, c := range corners {
		b.Spend(len(along))
		least := math.Inf(1)
		for i := range along {
			least = math.Min(least, c.DistToSegment(along[max(i-1, 0)], along[i]))
		}
		if least > sameMM {
			return false
		}
	}
	return true
}

// pageOf is the frame at true size, nil where there is none or where it lies askew.
func pageOf(s *size.Result) *geometry.Box {
	if s.Frame == nil || len(s.FrameParts) == 0 {
		return nil
	}
	box := geometry.EmptyBox()
	for _, c := range s.Frame.Corners {
		box = box.Include(s.Transform.Apply(c))
	}
	for _, c := range s.Frame.Corners {
		at := s.Transform.Apply(c)
		if math.Min(at.X-box.Min.X, box.Max.X-at.X) > sameMM || math.Min(at.Y-box.Min.Y, box.Max.Y-at.Y) > sameMM {
			return nil
		}
	}
	return &box
}
