package films

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
)

// stack returns the films as they lie on each other, with the marks.
func (k *desk) stack(l *lay) *artwork.Stack {
	s := &artwork.Stack{Meet: k.Layering.Meet}
	if s.Meet == artwork.Underlap {
		s.UnderlapMM = k.Layering.UnderlapMM
	}
	work := l.drawnBox
	for at, film := range l.order {
		f := k.Layering.Films[film]
		layer := artwork.Layer{Film: film + 1, Stock: f.Stock, Name: f.Name, AreaMM2: l.kept[film].Area(), ShownMM2: l.shown[film].Area(), Colour: k.colourOf(film)}
		for _, ring := range l.kept[film].Region().Rings {
			layer.Area = append(layer.Area, geometry.Polygon(ring...))
		}
		s.Layers = append(s.Layers, layer)
		work = work.Union(boxOf(l.kept[film]))
		if film+1 == k.Layering.Cut {
			s.At = at
		}
	}
	s.Work, s.Marks = work, marks(work)
	return s
}

// colourOf is the colour of the first shape of a film.
func (k *desk) colourOf(film int) *drawing.Colour {
	at := slices.Index(k.of, film+1)
	if at < 0 {
		return nil
	}
	return meaning.Shows(&k.drawing.Shapes[at])
}

// strokes are the lines of the film that is cut: those that were drawn, with their
// curves, where nothing was taken from it or given to it, and else the edges of what is
// kept; and the marks.
func (k *desk) strokes(l *lay, sheet *artwork.Artwork, s *artwork.Stack) []artwork.Stroke {
	var all []artwork.Stroke
	if asDrawn(k, l) {
		all = drawnStrokes(sheet)
	} else {
		all = edges(l.cut, k.colourOf(k.Layering.Cut-1))
	}
	for _, m := range s.Marks {
		all = append(all, artwork.Stroke{Path: m, Operation: artwork.KissCut, Shape: -1, Fill: drawing.EvenOdd, Added: artwork.Mark})
	}
	return all
}

// drawnStrokes are the lines as they were drawn.
func drawnStrokes(sheet *artwork.Artwork) []artwork.Stroke {
	onto := geometry.Translate(sheet.Origin.X, sheet.Origin.Y)
	var all []artwork.Stroke
	for _, s := range sheet.Strokes {
		s.Path = s.Path.Transform(onto)
		if s.Fill == "" && s.Path.Closed && !s.Slit {
			s.Shape, s.Fill = -2, drawing.EvenOdd // all outlines are one shape
		}
		all = append(all, s)
	}
	return all
}

// edges are the lines round what is kept.
func edges(kept planar.Polygons, colour *drawing.Colour) []artwork.Stroke {
	var all []artwork.Stroke
	for i, p := range kept {
		for _, ring := range slices.Concat([][]geometry.Point{p.Outer}, p.Holes) {
			all = append(all, artwork.Stroke{Path: geometry.Polygon(ring...), Operation: artwork.KissCut, Shape: i, Fill: drawing.EvenOdd, Colour: colour})
		}
	}
	return all
}

// asDrawn reports whether the film that is cut is kept just as its shapes were drawn, none
// of which lies on another.
func asDrawn(k *desk, l *lay) bool {
	film, sum := k.Layering.Cut-1, 0.0
	if l.holed[film] {
		return false
	}
	for _, r := range l.regions(film) {
		one, err := planar.Union(k.budget, r)
		if err != nil {
			return false
		}
		sum += one.Area()
	}
	apart, err := planar.SymmetricDifference(k.budget, l.areas[film].Region(), l.cut.Region())
	return err == nil && apart.Area() < tinyMM2 && sum-l.areas[film].Area() < tinyMM2
}

// Measures of the register marks, in mm (common practice, no source).
const (
	markMM  = 6 // across
	clearMM = 5 // off the work, so that they come off again without it
)

// marks returns three crosses beyond the ends of the work's longer side: two at the one
// end and one at the other, so that no film fits turned round.
func marks(work geometry.Box) []geometry.Path {
	const half, off = markMM / 2.0, clearMM + markMM/2.0
	var all []geometry.Path
	if work.Width() >= work.Height() {
		low, high := work.Min.Y+half, max(work.Max.Y-half, work.Min.Y+half+markMM+clearMM)
		for _, at := range [...]geometry.Point{{X: work.Min.X - off, Y: low}, {X: work.Min.X - off, Y: high}, {X: work.Max.X + off, Y: low}} {
			all = append(all, cross(at))
		}
		return all
	}
	low, high := work.Min.X+half, max(work.Max.X-half, work.Min.X+half+markMM+clearMM)
	for _, at := range [...]geometry.Point{{X: low, Y: work.Min.Y - off}, {X: high, Y: work.Min.Y - off}, {X: low, Y: work.Max.Y + off}} {
		all = append(all, cross(at))
	}
	return all
}

// cross is an upright cross, a third of its size thick.
func cross(at geometry.Point) geometry.Path {
	const a, h = markMM / 6.0, markMM / 2.0
	var pts []geometry.Point
	for _, p := range [...]geometry.Point{{X: -a, Y: -h}, {X: a, Y: -h}, {X: a, Y: -a}, {X: h, Y: -a}, {X: h, Y: a}, {X: a, Y: a}, {X: a, Y: h}, {X: -a, Y: h}, {X: -a, Y: a}, {X: -h, Y: a}, {X: -h, Y: -a}, {X: -a, Y: -a}} {
		pts = append(pts, at.Add(p))
	}
	return geometry.Polygon(pts...)
}
