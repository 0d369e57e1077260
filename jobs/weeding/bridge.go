package weeding

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/clearance"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// MendBridges is the ID of the mend that holds a stencil's islands.
const MendBridges = "stencil_bridges"

// bridge finds the islands of a stencil, kept regions joined to nothing, and
// joins them to the sheet by bridges where that is wanted.
func (s *stage) bridge() error {
	if s.req.Purpose != Stencil {
		return nil
	}
	places := s.islands()
	if len(places) == 0 {
		return nil
	}
	chosen := s.spans()
	values := map[string]any{"bridges": len(chosen), "bridge_mm": s.limits.BridgeMM}
	mend := finding.Mend{ID: MendBridges, Effect: finding.Fill("{bridges} {bridges:bridge joins|bridges join} the islands to the sheet, {bridge_mm} mm wide.", values)}
	if !s.req.Bridges || slices.Contains(s.req.MendsOff, MendBridges) || len(chosen) == 0 {
		f := finding.New(finding.StencilIsland, len(places), values, places...)
		if len(chosen) > 0 {
			f = f.WithMend(mend)
		}
		s.find(f)
		return nil
	}
	if err := s.lay(chosen); err != nil {
		return err
	}
	left := s.islands() // where no bridge has room, or only a cut divides parts
	places = slices.DeleteFunc(places, func(p finding.Place) bool {
		return slices.ContainsFunc(left, func(l finding.Place) bool { return l.Box == p.Box })
	})
	if mend.Applied = len(places) > 0; mend.Applied {
		s.find(finding.New(finding.IslandBridged, len(places), values, places...).WithMend(mend))
	}
	if len(left) > 0 {
		s.find(finding.New(finding.StencilIsland, len(left), map[string]any{"bridges": 0, "bridge_mm": s.limits.BridgeMM}, left...))
	}
	return nil
}

// sheetFace returns the face that is the stencil's sheet.
func (s *stage) sheetFace() int32 {
	if s.sheet || len(s.cells.Holes(0)) == 0 {
		return 0
	}
	return s.cells.Face(s.cells.HalfEdges(s.cells.Holes(0)[0])[0].Twin())
}

// islands lists the kept faces other than the sheet.
func (s *stage) islands() []finding.Place {
	sheet := s.sheetFace()
	var places []finding.Place
	for f := int32(1); f < int32(len(s.kept)); f++ {
		if s.kept[f] && f != sheet {
			places = append(places, finding.Place{Box: s.cells.box(f)})
		}
	}
	return places
}

// spans chooses the bridges of all removed faces.
func (s *stage) spans() []span {
	var chosen []span
	for f := int32(1); f < int32(len(s.kept)); f++ {
		if s.kept[f] || !s.holds(f) {
			continue
		}
		rings := s.cells.rings(f)
		chosen = append(chosen, chooseSpans(spans(clearance.NewRegion(rings...), s.limits.BridgeMM), rings, s.limits.BridgeMM)...)
	}
	return chosen
}

// lay cuts the bridges into the strokes and arranges them anew.
func (s *stage) lay(chosen []span) error {
	strokes := slices.Clone(s.strokes)
	first := len(strokes)
	for _, b := range chosen {
		strokes = append(strokes, bridgeSide(b.sides[0][0], b.sides[0][1]), bridgeSide(b.sides[1][1], b.sides[1][0]))
		s.out.Bridges = append(s.out.Bridges, geometry.Polygon(b.sides[0][0], b.sides[0][1], b.sides[1][1], b.sides[1][0]))
	}
	mid, err := arrange(strokes, s.chord)
	if err != nil {
		return err
	}
	kept := carry(s.cells, s.kept, mid)
	strip := mid.strips(int32(first))
	for f := range strip {
		kept[f] = true
	}
	s.strokes = mid.withoutGaps(first, kept, strip)
	if s.cells, err = arrange(s.strokes, s.chord); err != nil {
		return err
	}
	s.kept = carry(mid, kept, s.cells)
	return nil
}

// bridgeSide is one long side of a bridge, run with the bridge on its left.
func bridgeSide(from, to geometry.Point) artwork.Stroke {
	return artwork.Stroke{Path: geometry.Polyline(from, to), Operation: artwork.KissCut, Shape: -1, Added: artwork.Bridge}
}

// carry reads the faces of new by where they lie in old.
func carry(old *cells, kept []bool, new *cells) []bool {
	carried := make([]bool, len(new.Faces))
	carried[0] = kept[0]
	for f := 1; f < len(carried); f++ {
		carried[f] = kept[old.FaceAt(nil, new.within(int32(f)))]
	}
	return carried
}

// within returns a point of a bounded face, a few grid steps inside the middle
// of its longest outer edge.
func (c *cells) within(face int32) geometry.Point {
	var best geometry.Point
	longest := 0.0
	for _, h := range c.HalfEdges(c.Faces[face].Outer) {
		a, b := c.Point(c.Start(h)), c.Point(c.End(h))
		if d := a.Dist(b); d > longest {
			const inside = 1e-3
			longest = d
			best = a.Lerp(b, 0.5).Add(b.Sub(a).Unit().Perp().Mul(inside))
		}
	}
	return best
}

// strips returns the faces that are bridges: those to the left of the sides,
// the strokes from number first.
func (c *cells) strips(first int32) map[int32]bool {
	strip := map[int32]bool{}
	for edge, e := range c.Edges {
		for use, line := range c.Sources(int32(edge)) {
			if c.stroke[line] < first {
				continue
			}
			if c.Forward(int32(edge), use) {
				strip[e.Left] = true
			} else {
				strip[e.Right] = true
			}
		}
	}
	return strip
}

// withoutGaps returns the strokes with the bridged ones drawn anew: round what
// is removed, the sides of the bridges included, and without the stretches
// that a bridge leaves uncut. Strokes that no bridge meets stay as they are.
func (c *cells) withoutGaps(first int, kept []bool, strip map[int32]bool) []artwork.Stroke {
	met := c.met(first, strip)
	t := tracer{c: c, out: map[int32][]planar.HalfEdge{}}
	for edge, e := range c.Edges {
		if kept[e.Left] == kept[e.Right] || !c.anyOf(int32(edge), met) {
			continue
		}
		h := planar.HalfEdge(2 * edge)
		if kept[e.Left] {
			h = h.Twin()
		}
		t.add(h)
	}
	var out []artwork.Stroke
	var like artwork.Stroke
	for i := range first {
		if !met[int32(i)] {
			out = append(out, c.strokes[i])
		} else if like.Operation == "" {
			like = c.strokes[i]
		}
	}
	for _, loop := range t.loops() {
		s := like
		s.Path, s.Added, s.Shape, s.Fill = c.path(loop), artwork.Bridge, -1, ""
		out = append(out, s)
	}
	return out
}

// met lists the strokes that bridges meet, the bridges' sides included.
func (c *cells) met(first int, strip map[int32]bool) map[int32]bool {
	met := map[int32]bool{}
	for i := first; i < len(c.strokes); i++ {
		met[int32(i)] = true
	}
	for edge, e := range c.Edges {
		if strip[e.Left] || strip[e.Right] {
			for _, line := range c.Sources(int32(edge)) {
				met[c.stroke[line]] = true
			}
		}
	}
	return met
}

func (c *cells) anyOf(edge int32, set map[int32]bool) bool {
	return slices.ContainsFunc(c.Sources(edge), func(line int32) bool { return set[c.stroke[line]] })
}
