package weeding

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/clearance"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// MendBridges is the ID of the mend that holds a stencil's islands.
const MendBridges = "stencil_bridges"

// bridged are cells in which a stencil's islands hang on bridges.
type bridged struct {
	reading
	bridges []geometry.Path
}

// bridge finds the islands of a stencil, kept regions joined to nothing, and
// joins them to the sheet by bridges where that is wanted. Film needs none: its
// islands stay on the liner until the tape takes them.
func (r reading) bridge() (bridged, error) {
	s := bridged{reading: r}
	if s.req.Purpose != Stencil || s.req.Stock.Liner {
		return s, nil
	}
	return s, s.hold()
}

// hold joins the islands to the sheet, or says that they fall out.
func (s *bridged) hold() error {
	places := s.islands()
	if len(places) == 0 {
		return nil
	}
	chosen := s.spans()
	values := finding.Values{"bridges": finding.Int(len(chosen)), "bridge_mm": finding.Num(s.limits.BridgeMM)}
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
		s.find(finding.New(finding.StencilIsland, len(left), finding.Values{"bridges": finding.Int(0), "bridge_mm": finding.Num(s.limits.BridgeMM)}, left...))
	}
	return nil
}

// islands lists the kept faces other than the sheet, which is the outside or
// lies in outermost outlines.
func (s *bridged) islands() []finding.Place {
	var places []finding.Place
	for f := int32(1); f < int32(len(s.kept)); f++ {
		if s.kept[f] && (s.sheet || s.cells.depth[f] > 1) {
			places = append(places, finding.Place{Box: s.cells.box(s.budget, f)})
		}
	}
	return places
}

// spans chooses the bridges of all removed faces.
func (s *bridged) spans() []span {
	var chosen []span
	for f := int32(1); f < int32(len(s.kept)); f++ {
		if s.kept[f] || !s.holds(f) {
			continue
		}
		rings := s.cells.rings(s.budget, f)
		places := spans(s.budget, clearance.NewRegion(s.budget, rings...), s.limits.BridgeMM)
		chosen = append(chosen, chooseSpans(s.budget, places, rings, s.limits)...)
	}
	return chosen
}

// lay cuts the bridges into the strokes and arranges them anew.
func (s *bridged) lay(chosen []span) error {
	strokes := slices.Clone(s.strokes)
	first := len(strokes)
	for _, b := range chosen {
		strokes = append(strokes, bridgeSide(b.sides[0][0], b.sides[0][1]), bridgeSide(b.sides[1][1], b.sides[1][0]))
		s.bridges = append(s.bridges, geometry.Polygon(b.sides[0][0], b.sides[0][1], b.sides[1][1], b.sides[1][0]))
	}
	mid, err := arrange(s.budget, strokes, s.chord)
	if err != nil {
		return err
	}
	kept := carry(s.budget, s.cells, s.kept, mid)
	w := newBridgeWork(s.budget, mid, first)
	for f := range w.strip {
		kept[f] = true
	}
	s.strokes = w.withoutGaps(kept)
	if s.cells, err = arrange(s.budget, s.strokes, s.chord); err != nil {
		return err
	}
	s.kept = carry(s.budget, mid, kept, s.cells)
	return nil
}

// bridgeSide is one long side of a bridge, run with the bridge on its left.
func bridgeSide(from, to geometry.Point) artwork.Stroke {
	return artwork.Stroke{Path: geometry.Polyline(from, to), Operation: artwork.KissCut, Shape: -1, Added: artwork.Bridge}
}

// carry reads the faces of to by where they lie in from.
func carry(b *budget.Budget, from *cells, kept []bool, to *cells) []bool {
	carried := make([]bool, len(to.Faces))
	carried[0] = kept[0]
	for f := 1; f < len(carried); f++ {
		carried[f] = kept[from.FaceAt(b, to.within(b, int32(f)))]
	}
	return carried
}

// within returns a point of a bounded face, a few grid steps inside the middle
// of its longest outer edge.
func (c *cells) within(b *budget.Budget, face int32) geometry.Point { return c.inwards(b, face, 1e-3) }

// inwards returns the point so many mm inside the middle of the longest outer edge of a
// bounded face.
func (c *cells) inwards(b *budget.Budget, face int32, inside float64) geometry.Point {
	b.Spend(len(c.HalfEdges(c.Faces[face].Outer)))
	var best geometry.Point
	longest := 0.0
	for _, h := range c.HalfEdges(c.Faces[face].Outer) {
		from, to := c.Point(c.Start(h)), c.Point(c.End(h))
		if d := from.Dist(to); d > longest {
			longest = d
			best = from.Lerp(to, 0.5).Add(to.Sub(from).Unit().Perp().Mul(inside))
		}
	}
	return best
}
