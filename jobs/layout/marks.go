package layout

import (
	"math"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/panel"
	"knifedesk/jobs/artwork"
)

// Measures of register marks and of what keeps clear of the work, in mm (common
// practice, no source).
const (
	markMM   = 6  // across a mark, less where the overlap is narrower
	leastMM  = 3  // the smallest mark
	clearMM  = 3  // off what is kept, and off the edge of the work
	shortest = 30 // seam that gets marks
	scanMM   = 5  // between places that are looked at
)

// marker chooses where the marks of panels lie: in waste, so that they never part what is
// kept. Two panels bear the same marks in the same places of the work, and lie right
// where these cover each other; of a butt joint the tips of two marks meet.
type marker struct {
	division *division
	work     geometry.Box
	lines    *clearance.Region // all lines of the work
	keeps    keeper
	room     geometry.Point // of a panel with its marks, in the coordinates of the work
	overlap  float64
	content  []geometry.Box // of each panel, with the marks so far
}

// keeper tells what is kept of the work.
type keeper interface {
	At(b *budget.Budget, p geometry.Point) bool
}

func newMarker(b *budget.Budget, c *cutter, d *division, overlap float64) *marker {
	var rings [][]geometry.Point
	for _, p := range c.paths {
		rings = append(rings, p.FlattenIn(b, geometry.DefaultChord)) // an open line and the way back
	}
	room := d.room
	if d.turned {
		room = geometry.Pt(room.Y, room.X)
	}
	m := &marker{division: d, work: c.work, lines: clearance.NewRegion(b, rings...), keeps: c.keeps, room: room, overlap: overlap}
	for _, p := range d.Panels {
		m.content = append(m.content, p.Box)
	}
	return m
}

// seam is where two panels meet: along it run u, across it v.
type seam struct {
	first, second int     // panels
	upright       bool    // u is y
	from, to      float64 // along u
	at            float64 // v in the middle of the overlap
}

func (s seam) point(u, v float64) geometry.Point {
	if s.upright {
		return geometry.Pt(v, u)
	}
	return geometry.Pt(u, v)
}

// seams lists where panels meet.
func (m *marker) seams() []seam {
	var all []seam
	for i, p := range m.division.Panels {
		for j, q := range m.division.Panels {
			for _, upright := range [...]bool{true, false} {
				if s, ok := m.seam(p, q, upright); ok {
					s.first, s.second = i, j
					all = append(all, s)
				}
			}
		}
	}
	return all
}

// seam returns the seam at which q follows p to the right, or above.
func (m *marker) seam(p, q panel.Panel, upright bool) (seam, bool) {
	const same = 1e-6
	s := seam{upright: upright, from: math.Max(p.Box.Min.X, q.Box.Min.X), to: math.Min(p.Box.Max.X, q.Box.Max.X)}
	end, begin := p.Box.Max.Y, q.Box.Min.Y
	if upright {
		s.from, s.to = math.Max(p.Box.Min.Y, q.Box.Min.Y), math.Min(p.Box.Max.Y, q.Box.Max.Y)
		end, begin = p.Box.Max.X, q.Box.Min.X
	}
	s.at = (end + begin) / 2
	return s, math.Abs(end-begin-m.overlap) < same && s.to-s.from >= shortest
}

// size is how large marks are.
func (m *marker) size() float64 {
	if m.overlap == 0 {
		return markMM
	}
	return math.Max(leastMM, math.Min(markMM, m.overlap-2))
}

// places returns where along a seam marks lie, two at most: beyond the edges of the work
// where the stock has room for that, else as far apart in waste as there is.
func (m *marker) places(b *budget.Budget, s seam) []float64 {
	out := clearMM + m.size()/2
	lo, hi := m.work.Min.X, m.work.Max.X
	if s.upright {
		lo, hi = m.work.Min.Y, m.work.Max.Y
	}
	var found []float64
	if s.from <= lo && m.hasRoom(s, s.from-out) {
		found = append(found, s.from-out)
	} else if u, ok := m.inWaste(b, s, s.from, 1); ok {
		found = append(found, u)
	}
	if s.to >= hi && m.hasRoom(s, s.to+out) {
		found = append(found, s.to+out)
	} else if u, ok := m.inWaste(b, s, s.to, -1); ok && (len(found) == 0 || u-found[0] > 2*markMM) {
		found = append(found, u)
	}
	return found
}

// hasRoom reports whether both panels still fit on the stock with a mark beyond the edge
// of the work, and counts it in if so.
func (m *marker) hasRoom(s seam, u float64) bool {
	half := m.size() / 2
	mark := geometry.BoxAround(s.point(u-half, s.at), s.point(u+half, s.at))
	for _, i := range [...]int{s.first, s.second} {
		if with := m.content[i].Union(mark); with.Width() > m.room.X+fitSlack || with.Height() > m.room.Y+fitSlack {
			return false
		}
	}
	m.content[s.first], m.content[s.second] = m.content[s.first].Union(mark), m.content[s.second].Union(mark)
	return true
}

// inWaste returns the first place along a seam, from one of its ends, at which nothing
// is kept within a mark and round it.
func (m *marker) inWaste(b *budget.Budget, s seam, from, step float64) (float64, bool) {
	reach := m.size()*math.Sqrt2/2 + clearMM
	if m.overlap == 0 {
		reach = m.size()*math.Sqrt2 + clearMM // on both sides of the seam
	}
	for u := from + step*reach; u > s.from && u < s.to; u += step * scanMM {
		if m.clear(b, s.point(u, s.at), reach) {
			return u, true
		}
	}
	return 0, false
}

// clear reports whether a circle lies in waste and meets no line.
func (m *marker) clear(b *budget.Budget, at geometry.Point, radius float64) bool {
	if m.keeps.At(b, at) {
		return false
	}
	_, met := m.lines.Nearest(b, at, radius)
	return !met
}

// marks returns the marks of each panel.
func (m *marker) marks(b *budget.Budget) [][]artwork.Stroke {
	all := make([][]artwork.Stroke, len(m.division.Panels))
	for _, s := range m.seams() {
		for _, u := range m.places(b, s) {
			first, second := s.cross(u, m.size()), s.cross(u, m.size())
			if m.overlap == 0 {
				first, second = s.tip(u, -m.size()), s.tip(u, m.size())
			}
			all[s.first], all[s.second] = append(all[s.first], mark(first)), append(all[s.second], mark(second))
		}
	}
	return all
}

func mark(p geometry.Path) artwork.Stroke {
	return artwork.Stroke{Path: p, Operation: artwork.KissCut, Shape: -1, Added: artwork.Mark}
}

// cross is an upright cross, a third of its size thick.
func (s seam) cross(u, size float64) geometry.Path {
	a, h := size/6, size/2
	var pts []geometry.Point
	for _, p := range [...][2]float64{{-a, -h}, {a, -h}, {a, -a}, {h, -a}, {h, a}, {a, a}, {a, h}, {-a, h}, {-a, a}, {-h, a}, {-h, -a}, {-a, -a}} {
		pts = append(pts, s.point(u+p[0], s.at+p[1]))
	}
	return geometry.Polygon(pts...)
}

// tip is a triangle whose tip touches the seam, on the side to which size goes.
func (s seam) tip(u, size float64) geometry.Path {
	half := math.Abs(size) / 2
	return geometry.Polygon(s.point(u, s.at), s.point(u-half, s.at+size), s.point(u+half, s.at+size))
}
