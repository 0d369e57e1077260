package mended

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/size/reading"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// frame is the rectangle that carries the size.
type frame struct {
	path          geometry.Path
	width, length float64 // mm
	sized         bool    // no size that is known by name
}

// nameOn is the frame's layer: the convention's, with the size where no name of a
// paper says it.
func (f *frame) nameOn(layer string) string {
	if !f.sized {
		return layer
	}
	return workshop.SizedLayer(layer, int(math.Round(f.width)), int(math.Round(f.length)))
}

// exactMM is how far a frame may be from the size that it stands for: more is asked
// about when the file is read.
const exactMM = 0.04

// frame returns the frame that was drawn, or a new one where there is none or where
// nobody could tell its size without being told.
func (m *maker) frame(strokes []artwork.Stroke) frame {
	work := geometry.EmptyBox()
	for i := range strokes {
		work = work.Union(strokes[i].Path.BoundsIn(m.b))
	}
	if work.Empty() {
		work = geometry.Box{}
	}
	if f, ok := m.drawn(strokes); ok {
		s := &m.q.Stock
		off := !holds(s.WidthMM, s.LengthMM, work) && !holds(s.LengthMM, s.WidthMM, work)
		f.sized = f.sized || off && !m.unlayered && whole(f.width) && whole(f.length) // the name of a paper alone would be asked about
		return f
	}
	f := m.fresh(work)
	if f.sized = !m.named(&f); f.sized && m.unlayered {
		f = m.paper(work)
	}
	return f
}

// paper is a frame as large as the smallest paper that holds the work, with no size
// where none does: where the convention has no layer for it, a frame is told by its
// size alone.
func (m *maker) paper(work geometry.Box) frame {
	var best frame
	wide := work.Width() > work.Height()
	for _, n := range reading.SizesOf(m.q.Stock, m.q.Sheets) {
		size := n.Along(wide)
		if f := centred(work, size[0], size[1]); !n.Rare && holds(size[0]-2*besideMM, size[1]-2*besideMM, work) && (best.width == 0 || f.width*f.length < best.width*best.length) {
			best = f
		}
	}
	return best
}

// fresh is a frame for work that has none.
func (m *maker) fresh(work geometry.Box) frame {
	stock := &m.q.Stock
	switch {
	case m.q.Purpose == weeding.Stencil: // whose sheet the frame is, as it is without one
		return around(work, limitsOf(stock).Stencil.OrDefault().MarginMM)
	case stock.Form == workshop.Roll:
		return around(work, besideMM)
	case holds(stock.WidthMM, stock.LengthMM, work):
		return centred(work, stock.WidthMM, stock.LengthMM)
	case holds(stock.LengthMM, stock.WidthMM, work):
		return centred(work, stock.LengthMM, stock.WidthMM)
	}
	return around(work, besideMM)
}

// drawn is the frame of the drawing at true size and in the artwork's coordinates. A
// rectangle that is cut as well is none, and of several only one that holds all work can
// be told without a layer.
func (m *maker) drawn(strokes []artwork.Stroke) (frame, bool) {
	found, a := m.r.Size.Frame, m.r.Artwork
	if found == nil || len(m.r.Size.FrameParts) == 0 {
		return frame{}, false
	}
	t := m.r.Size.Transform
	if a.Scale != 0 {
		t = t.Then(geometry.Scale(a.Scale, a.Scale))
	}
	t = t.Then(a.Placed())
	var at [4]geometry.Point
	for i, c := range found.Corners {
		at[i] = t.Apply(c)
	}
	f := frame{path: geometry.Polygon(at[:]...), width: at[0].Dist(at[1]), length: at[1].Dist(at[2])} // its first side lies along x
	for i := range strokes {
		box := strokes[i].Path.BoundsIn(m.b)
		if near(box, f.path.Bounds()) || m.unlayered && !f.path.Bounds().ContainsBox(box) {
			return frame{}, false
		}
	}
	if m.named(&f) {
		return f, true
	}
	f.sized = !m.unlayered && whole(f.width) && whole(f.length)
	return f, f.sized
}

// named reports whether the frame is as large as a paper or a sheet of the workshop.
func (m *maker) named(f *frame) bool {
	short, long := min(f.width, f.length), max(f.width, f.length)
	for _, n := range reading.SizesOf(m.q.Stock, m.q.Sheets) {
		if math.Abs(n.Short-short) <= exactMM && math.Abs(n.Long-long) <= exactMM {
			return true
		}
	}
	return false
}

func whole(mm float64) bool { return math.Abs(mm-math.Round(mm)) <= exactMM }

func near(a, b geometry.Box) bool { return a.Min.Dist(b.Min) <= 1 && a.Max.Dist(b.Max) <= 1 }

func holds(w, l float64, work geometry.Box) bool { return work.Width() < w && work.Height() < l }

// around is a frame that leaves so much beside the work, in whole mm.
func around(work geometry.Box, beside float64) frame {
	up := func(mm float64) float64 { return math.Ceil(mm + 2*beside - 1e-6) }
	return centred(work, up(work.Width()), up(work.Height()))
}

func centred(work geometry.Box, w, l float64) frame {
	half := geometry.Pt(w/2, l/2)
	box := geometry.Box{Min: work.Centre().Sub(half), Max: work.Centre().Add(half)}
	return frame{path: box.Path(), width: w, length: l}
}

func limitsOf(s *workshop.Stock) workshop.Limits {
	if s.Limits == (workshop.Limits{}) {
		return workshop.DefaultLimits()
	}
	return s.Limits
}
