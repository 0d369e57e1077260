package meaning

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/jobs/artwork/legend"
	"knifedesk/jobs/size"
)

// sameMM is how far a letter that was saved by another program may lie off the one
// that was written.
const sameMM = 0.1

// foreign returns the notes without the legend that a starter file comes with: nobody
// meant to cut it. A name is not trusted: what is left out lies, outline by outline,
// where the legend does, in the frame that the file came with.
func foreign(k *desk, notes []line) []line {
	if k.page == nil || len(notes) == 0 {
		return notes
	}
	var layers []legend.Layer
	for _, l := range Layers(&k.req.Convention, k.req.Stock.Family) {
		layers = append(layers, legend.Layer{Name: l.Name, Means: l.Means})
	}
	own := map[[2]int][]geometry.Path{} // by the middle in whole mm
	at := func(box geometry.Box) (x, y int) {
		return int(math.Floor(box.Centre().X)), int(math.Floor(box.Centre().Y))
	}
	for _, p := range legend.Paths(&k.req.Stock.Limits, layers, hundredths(k.page.Width()), hundredths(k.page.Height())) {
		x, y := at(p.BoundsIn(k.budget))
		own[[2]int{x, y}] = append(own[[2]int{x, y}], p)
	}
	onto := geometry.Translate(-k.page.Min.X, -k.page.Min.Y)
	var rest []line
	for _, l := range notes {
		k.budget.Spend(1 + len(l.path.Segments))
		p := l.path.Transform(onto)
		x, y := at(p.BoundsIn(k.budget))
		found := false
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, o := range own[[2]int{x + dx, y + dy}] {
					found = found || sameOutline(k.budget, p, o)
				}
			}
		}
		if !found {
			rest = append(rest, l)
		}
	}
	return rest
}

func hundredths(mm float64) float64 { return math.Round(mm*100) / 100 }

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
