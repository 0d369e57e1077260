package weeding_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// opening asks for a stencil whose outer outline is no edge of the sheet.
var opening = weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Replies: reply(weeding.QuestionEdge, weeding.AnswerOpening)}

// stencils are openings that hold islands: letters of several faces, annuli,
// islands in islands, and islands near corners and near each other.
func stencils(t *testing.T) map[string]*artwork.Artwork {
	all := map[string]*artwork.Artwork{
		"annulus":            outlined(geometry.Circle(geometry.Pt(0, 0), 40), geometry.Circle(geometry.Pt(0, 0), 25)),
		"annulus off centre": outlined(geometry.Circle(geometry.Pt(0, 0), 40), geometry.Circle(geometry.Pt(9, 5), 25)),
		"near a corner":      outlined(boxPath(0, 0, 80, 60), boxPath(3, 3, 30, 20)),
		"two near corners":   outlined(boxPath(0, 0, 80, 60), boxPath(3, 3, 30, 20), boxPath(50, 38, 77, 57)),
		"one behind another": outlined(boxPath(0, 0, 200, 100), boxPath(3, 30, 60, 70), boxPath(63, 30, 120, 70)),
		"a row of small ones": outlined(boxPath(0, 0, 100, 60),
			boxPath(5, 26, 13, 34), boxPath(16, 26, 24, 34), boxPath(27, 26, 35, 34)),
		"nested": outlined(boxPath(0, 0, 150, 100), boxPath(8, 10, 142, 92), boxPath(15, 18, 130, 80),
			geometry.Circle(geometry.Pt(45, 50), 20), boxPath(80, 30, 110, 70), geometry.Circle(geometry.Pt(45, 50), 12)),
		// The small one hangs on the other alone, which has as many bridges as its size asks for
		// with those, and one of them to the sheet.
		"in the bay of another": outlined(boxPath(0, 0, 90, 70),
			geometry.Polygon(geometry.Pt(20, 20), geometry.Pt(34.8, 20), geometry.Pt(34.8, 34.8), geometry.Pt(31.9, 34.8), geometry.Pt(31.9, 24),
				geometry.Pt(22.9, 24), geometry.Pt(22.9, 34.8), geometry.Pt(20, 34.8)), boxPath(24.9, 26, 29.9, 32)),
	}
	for name, data := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF} {
		for _, r := range "ABDOPQRabdegopq04689@&" {
			all[name+" "+string(r)] = newFace(t, data, 110).lettering(t, "", string(r))
		}
	}
	for seed := range uint64(60) {
		all[fmt.Sprint("seed ", seed)] = scatteredIslands(seed)
	}
	return all
}

// scatteredIslands is an opening with a square and up to seven polygons in it.
func scatteredIslands(seed uint64) *artwork.Artwork {
	rng := rand.New(rand.NewPCG(seed, 9))
	paths := []geometry.Path{boxPath(-30, -30, 150, 110), boxPath(125, -20, 145, 0)}
	for _, pts := range islands(seed, 4.5) {
		if geometry.BoxAround(pts...).Width() < 12 || rng.IntN(7) == 0 {
			continue
		}
		paths = append(paths, geometry.Polygon(pts...))
	}
	return outlined(paths...)
}

func boxPath(x0, y0, x1, y1 float64) geometry.Path {
	return geometry.BoxAround(geometry.Pt(x0, y0), geometry.Pt(x1, y1)).Path()
}

func outlined(paths ...geometry.Path) *artwork.Artwork {
	a := &artwork.Artwork{}
	for i, p := range paths {
		a.Strokes = append(a.Strokes, artwork.Stroke{Path: p, Operation: artwork.ThroughCut, Shape: i})
	}
	a.Bounds = bounds(a)
	return a
}

// On the kernel's map of the finished strokes, shrunk from its openings by all
// but half of the width asked for, the sheet is still one piece: every island
// hangs on film as wide as that. Each bridge is a strip of that width exactly,
// and nothing but the bridges was left standing.
func TestBridgesAreAsWideAsAsked(t *testing.T) {
	for _, width := range []float64{1.5, 2, 3} {
		stock := sheet
		stock.Limits.BridgeMM = width
		total := 0
		for name, a := range stencils(t) {
			req := opening
			req.Stock = stock
			before := chart(t, a, req)
			req.Bridges = true
			m := chart(t, a, req)
			total += len(m.Bridges)
			if err := checkStencil(before, m, width); err != nil {
				t.Errorf("%s, bridges of %g mm: %v", name, width, err)
			}
		}
		t.Logf("%d bridges of %g mm", total, width)
	}
}

func checkStencil(before, m *weeding.Map, width float64) error {
	if f := the(m, finding.StencilIsland); f != nil {
		return fmt.Errorf("%d islands left", f.Count)
	}
	if err := checkBridged(m, 0); err != nil {
		return err
	}
	for _, b := range m.Bridges {
		c := corner(b)
		for _, p := range [2]geometry.Point{c[0], c[1]} {
			if d := toLine(p, c[2], c[3]); math.Abs(d-width) > 2e-4 {
				return fmt.Errorf("a bridge is %.4f mm wide at %v", d, p)
			}
		}
	}
	openings, err := openingsOf(before)
	if err != nil {
		return err
	}
	left, err := openingsOf(m)
	if err != nil {
		return err
	}
	strips := planar.Region{}
	for _, b := range m.Bridges { // drawn out over what a bent outline leaves beyond its ends, the more the wider it is
		c := corner(b)
		out := c[1].Sub(c[0]).Unit().Mul(math.Max(0.3, width/4))
		strips.Rings = append(strips.Rings, []geometry.Point{c[0].Sub(out), c[1].Add(out), c[2].Add(out), c[3].Sub(out)})
	}
	want, err := planar.Difference(nil, openings.Region(), strips)
	if err != nil {
		return err
	}
	if off := math.Abs(want.Area() - left.Area()); off > 2e-4*(want.Perimeter()+1) {
		return fmt.Errorf("openings of %.4f mm², without the bridges %.4f", left.Area(), want.Area())
	}
	apart, err := pieces(openings, m.Bounds, 0)
	if err != nil {
		return err
	}
	shrunk, err := pieces(openings, m.Bounds, width)
	if err != nil {
		return err
	}
	// An island that is itself narrower somewhere falls apart without a bridge's doing.
	joined, err := pieces(left, m.Bounds, width)
	if want := 1 + shrunk - apart; err == nil && joined != want {
		err = fmt.Errorf("shrunk by half a bridge the sheet falls into %d pieces, want %d", joined, want)
	}
	return err
}

// openingsOf returns what the map removes, united by the kernel.
func openingsOf(m *weeding.Map) (planar.Polygons, error) {
	var all []planar.Region
	for _, r := range m.Regions {
		if r.Kept() {
			continue
		}
		region := planar.Region{Rule: planar.EvenOdd, Rings: [][]geometry.Point{corner(r.Outer)}}
		for _, h := range r.Holes {
			region.Rings = append(region.Rings, corner(h))
		}
		all = append(all, region)
	}
	return planar.Union(nil, all...)
}

// pieces counts those of the sheet round the openings where it is wider than
// width.
func pieces(openings planar.Polygons, bounds geometry.Box, width float64) (int, error) {
	edge := bounds.Grow(30).Corners()
	whole, err := planar.Difference(nil, planar.Region{Rings: [][]geometry.Point{edge[:]}}, openings.Region())
	if err != nil {
		return 0, err
	}
	thin, err := planar.Offset{By: -math.Max(0, width/2-2e-3), ChordMM: 1e-3}.Of(nil, whole.Region())
	return len(slices.DeleteFunc(thin, func(p planar.Polygon) bool { return planar.RingArea(p.Outer) < 0.5 })), err
}

func toLine(p, a, b geometry.Point) float64 {
	return math.Abs(b.Sub(a).Unit().Cross(p.Sub(a)))
}

// Everything hangs on two bridges: without any one of them nothing comes off the
// sheet.
func TestNothingLongHangsOnOneBridge(t *testing.T) {
	for name, a := range stencils(t) {
		req := opening
		before := chart(t, a, req)
		req.Bridges = true
		m := chart(t, a, req)
		for skip := range m.Bridges {
			off := comesOff(before, slices.Delete(slices.Clone(m.Bridges), skip, skip+1))
			if !off.Empty() {
				t.Errorf("%s: without the bridge %s a part of %.1f by %.1f mm comes off", name, m.Bridges[skip], off.Width(), off.Height())
			}
		}
		if off := comesOff(before, nil); off.Empty() {
			t.Errorf("%s has no island", name)
		}
	}
}

// Between the sides of two bridges there is a bridge's width at least that is cut out, so
// that they never grow into one, seen by points along both. One that goes right across
// another is there as something would hang on a single bridge without it.
func TestBridgesKeepApart(t *testing.T) {
	across, all := 0, 0
	for _, width := range []float64{1.5, 3} {
		stock := sheet
		stock.Limits.BridgeMM = width
		for name, a := range stencils(t) {
			req := opening
			req.Stock = stock
			before := chart(t, a, req)
			req.Bridges = true
			m := chart(t, a, req)
			all += len(m.Bridges)
			for i, b := range m.Bridges {
				for k, other := range m.Bridges[:i] {
					switch d, crossed := sidesApart(corner(b), corner(other)); {
					case crossed:
						across++
						if !isHinged(before, slices.Delete(slices.Clone(m.Bridges), i, i+1)) && !isHinged(before, slices.Delete(slices.Clone(m.Bridges), k, k+1)) {
							t.Errorf("%s, bridges of %g mm: %v goes across %v without need", name, width, b.Bounds(), other.Bounds())
						}
					case d < width-1e-3:
						t.Errorf("%s, bridges of %g mm: %.3f mm between %v and %v", name, width, d, b.Bounds(), other.Bounds())
					}
				}
			}
		}
	}
	t.Logf("of %d bridges %d times one goes across another", all, across)
}

// isHinged reports whether something comes off the sheet once a single bridge is gone.
func isHinged(before *weeding.Map, bridges []geometry.Path) bool {
	for skip := range bridges {
		if !comesOff(before, slices.Delete(slices.Clone(bridges), skip, skip+1)).Empty() {
			return true
		}
	}
	return !comesOff(before, bridges).Empty()
}

// sidesApart is how far the sides of two bridges lie from each other, by points along
// them, or that they cross.
func sidesApart(p, q []geometry.Point) (least float64, crossed bool) {
	least = math.Inf(1)
	for _, a := range [2][2]geometry.Point{{p[0], p[1]}, {p[2], p[3]}} {
		for _, b := range [2][2]geometry.Point{{q[0], q[1]}, {q[2], q[3]}} {
			last := [2]float64{}
			for n := range 21 {
				at, on := a[0].Lerp(a[1], float64(n)/20), b[0].Lerp(b[1], float64(n)/20)
				least = math.Min(least, math.Min(toSegment(at, b[0], b[1]), toSegment(on, a[0], a[1])))
				now := [2]float64{b[1].Sub(b[0]).Cross(at.Sub(b[0])), a[1].Sub(a[0]).Cross(on.Sub(a[0]))}
				if n == 20 {
					crossed = crossed || now[0]*last[0] < 0 && now[1]*last[1] < 0
				} else if n == 0 {
					last = now
				}
			}
		}
	}
	return least, crossed
}

// comesOff returns the box of the islands that the bridges do not join to the
// sheet, directly or by way of others.
func comesOff(before *weeding.Map, bridges []geometry.Path) geometry.Box {
	var islands []*weeding.Region
	for i := range before.Regions {
		if r := &before.Regions[i]; r.Kept() && r.Depth > 0 {
			islands = append(islands, r)
		}
	}
	land := func(p geometry.Point) int { // the number of islands stands for the sheet
		return cmp.Or(1+slices.IndexFunc(islands, func(r *weeding.Region) bool {
			near := toOutline(p, corner(r.Outer)) < 1e-3
			for _, h := range r.Holes {
				near = near || toOutline(p, corner(h)) < 1e-3
			}
			return near
		}), 1+len(islands)) - 1
	}
	held := make([]bool, len(islands)+1)
	held[len(islands)] = true
	for range islands {
		for _, b := range bridges {
			c := corner(b)
			if from, to := land(c[0]), land(c[1]); held[from] || held[to] {
				held[from], held[to] = true, true
			}
		}
	}
	off := geometry.EmptyBox()
	for i, r := range islands {
		if !held[i] {
			off = off.Union(r.Outer.Bounds())
		}
	}
	return off
}

// The bridges of an island are spread round it: no stretch of its outline longer
// than half of it, or five eighths with two bridges, is without one, wherever
// there is room for bridges all round.
func TestBridgesAreSpreadRoundIslands(t *testing.T) {
	for name, a := range map[string]*artwork.Artwork{
		"annulus":              outlined(geometry.Circle(geometry.Pt(0, 0), 40), geometry.Circle(geometry.Pt(0, 0), 25)),
		"annulus off centre":   outlined(geometry.Circle(geometry.Pt(0, 0), 40), geometry.Circle(geometry.Pt(9, 5), 25)),
		"near a corner":        outlined(boxPath(0, 0, 80, 60), boxPath(3, 3, 30, 20)),
		"near a corner, small": outlined(boxPath(0, 0, 80, 60), boxPath(3, 3, 12, 9)),
		"window near the top":  outlined(boxPath(0, 0, 60, 200), boxPath(18, 150, 42, 197)),
		"a long bar":           outlined(boxPath(0, 0, 200, 60), boxPath(20, 5, 180, 11)),
		"a bar of 50 mm":       outlined(boxPath(0, 0, 200, 60), boxPath(20, 5, 70, 9)),
	} {
		req := opening
		req.Bridges = true
		m := chart(t, a, req)
		island := a.Strokes[1].Path.Flatten(geometry.DefaultChord)
		whole := lengthOf(island)
		var at []float64
		for _, b := range m.Bridges {
			c := corner(b)
			for _, p := range [2]geometry.Point{c[0].Lerp(c[3], 0.5), c[1].Lerp(c[2], 0.5)} {
				if s, off := along(island, p); off < 0.1 {
					at = append(at, s)
				}
			}
		}
		slices.Sort(at)
		most, limit := 0.0, 0.51
		if len(at) == 2 {
			limit = 0.64
		}
		for k := range at {
			most = math.Max(most, math.Mod(at[(k+1)%len(at)]-at[k]+whole, whole)/whole)
		}
		if len(at) < 2 || most > limit {
			t.Errorf("%s: %d bridges, and %.2f of the outline without one", name, len(at), most)
		}
	}
}

func lengthOf(ring []geometry.Point) float64 {
	sum := 0.0
	for k, p := range ring {
		sum += p.Dist(ring[(k+1)%len(ring)])
	}
	return sum
}

// along returns how far round a ring the point of it nearest to p lies, and how
// far off.
func along(ring []geometry.Point, p geometry.Point) (at, off float64) {
	off = math.Inf(1)
	done := 0.0
	for k, a := range ring {
		b := ring[(k+1)%len(ring)]
		if d := toSegment(p, a, b); d < off {
			off, at = d, done+math.Sqrt(math.Max(0, p.Dist(a)*p.Dist(a)-d*d))
		}
		done += a.Dist(b)
	}
	return at, off
}

// Bridges lie where they disturb least: across the narrowest gap, square to
// straight sides, and two widths from corners where there is such room.
func TestBridgesAreShortStraightAndAwayFromCorners(t *testing.T) {
	const width = 2
	for name, c := range map[string]struct {
		art     *artwork.Artwork
		lengths []float64
	}{
		// The gaps of a rectangle in a rectangle: 3 and 4 mm on two sides.
		"rectangle": {outlined(boxPath(0, 0, 80, 60), boxPath(3, 4, 40, 30)), []float64{3, 4, 30}},
		// Across the ring, a third of it apart.
		"annulus": {outlined(geometry.Circle(geometry.Pt(0, 0), 40), geometry.Circle(geometry.Pt(0, 0), 25)), []float64{15, 15, 15}},
		// Each 3 mm to the opening's side, and 3 mm to each other, and 15 mm up or down.
		"pair": {outlined(boxPath(0, 0, 120, 60), boxPath(3, 15, 58.5, 45), boxPath(61.5, 15, 117, 45)), []float64{3, 3, 3, 15, 15}},
	} {
		m := chart(t, c.art, weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true, Replies: opening.Replies})
		var lengths []float64
		for _, b := range m.Bridges {
			q := corner(b)
			lengths = append(lengths, q[0].Lerp(q[3], 0.5).Dist(q[1].Lerp(q[2], 0.5)))
			for _, s := range c.art.Strokes {
				checkBridgeEnds(t, name, q, s.Path, width)
			}
		}
		slices.Sort(lengths)
		same := len(lengths) == len(c.lengths)
		for i := range lengths {
			same = same && math.Abs(lengths[i]-c.lengths[i]) < 0.05
		}
		if !same {
			t.Errorf("%s: bridges of %.3f mm, want %v", name, lengths, c.lengths)
		}
	}
}

// checkBridgeEnds checks the ends of a bridge that lie on an outline.
func checkBridgeEnds(t *testing.T, name string, bridge []geometry.Point, outline geometry.Path, width float64) {
	t.Helper()
	along := bridge[1].Sub(bridge[0]).Unit()
	for i, p := range bridge {
		pts := corner(outline)
		for k, a := range pts {
			b, c := pts[(k+1)%len(pts)], pts[(k+2)%len(pts)]
			if toSegment(p, a, b) > 1e-3 {
				continue
			}
			if math.Abs(b.Sub(a).Unit().Dot(along)) > 0.1 {
				t.Errorf("%s: corner %d of %v is not square to its side", name, i, bridge)
			}
			if turn := math.Abs(b.Sub(a).Unit().Cross(c.Sub(b).Unit())); turn > 0.5 && p.Dist(b) < 1.5*width {
				t.Errorf("%s: corner %d of %v lies %.2f mm from a corner", name, i, bridge, p.Dist(b))
			}
		}
	}
}
