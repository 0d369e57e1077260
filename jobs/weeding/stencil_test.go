package weeding_test

import (
	"fmt"
	"math"
	"testing"

	"golang.org/x/image/font/gofont/goregular"

	"knifedesk/geometry"
	"knifedesk/geometry/planar"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

var sheet = workshop.Stock{Family: workshop.StencilSheet, Form: workshop.Sheet, Limits: workshop.DefaultLimits()}

// A stencil swaps keep and remove.
func TestStencilSwaps(t *testing.T) {
	m := chart(t, drawn(t, outer, inner, leaf, vein), opening)
	want := []weeding.Class{weeding.Ground, weeding.Kept, weeding.Ground, weeding.Kept, weeding.Kept} // the sheet last
	for i, r := range m.Regions {
		if r.Class != want[i] {
			t.Errorf("region %d is %s, want %s", r.Number, r.Class, want[i])
		}
	}
}

// An outline round others, one or many, may be the edge of the sheet: asked, and
// decided by the reply.
func TestEdgeOfAStencilIsAsked(t *testing.T) {
	const a, b = "M10 10H20V20H10Z", "M60 10H70V20H60Z"
	req := weeding.Request{Purpose: weeding.Stencil, Stock: sheet}
	m := chart(t, drawn(t, outer, a, b), req)
	if question(m, weeding.QuestionEdge) == nil || m.Regions[0].Class != weeding.Kept {
		t.Errorf("no question, or the plate is %s", m.Regions[0].Class)
	}
	req.Replies = reply(weeding.QuestionEdge, weeding.AnswerOpening)
	m = chart(t, drawn(t, outer, a, b), req)
	if len(m.Questions) > 0 || m.Regions[0].Class != weeding.Ground || m.Regions[1].Class != weeding.Kept {
		t.Errorf("answered: %d questions, plate %s, square %s", len(m.Questions), m.Regions[0].Class, m.Regions[1].Class)
	}
	req.Replies = nil
	for name, c := range map[string]struct {
		data  []string
		first string // the likelier answer, empty where nothing is asked
	}{
		"one hole":                        {[]string{outer, a}, weeding.AnswerEdge},
		"one ring":                        {[]string{outer, inner, leaf}, weeding.AnswerEdge},
		"a mark beside it":                {[]string{outer, a, "M120 0H125V5H120Z"}, weeding.AnswerEdge},
		"two sheets":                      {[]string{outer, a, "M120 0H220V100H120Z", "M140 10H150V20H140Z"}, weeding.AnswerEdge},
		"a ring that is no plate":         {[]string{"M50 0L100 50L50 100L0 50Z", "M50 20L80 50L50 80L20 50Z"}, weeding.AnswerOpening},
		"a hole beside the rings":         {[]string{"M50 0L100 50L50 100L0 50Z", "M50 20L80 50L50 80L20 50Z", "M120 0H125V5H120Z"}, ""},
		"a plate beside a larger opening": {[]string{"M0 0H20V20H0Z", "M5 5H15V15H5Z", "M50 0H150V100H50Z"}, ""},
		"openings alone":                  {[]string{a, b}, ""},
		"a slit in an opening":            {[]string{outer, "M20 20H50"}, ""},
	} {
		m := chart(t, drawn(t, c.data...), weeding.Request{Purpose: weeding.Stencil, Stock: sheet})
		q := question(m, weeding.QuestionEdge)
		if (q != nil) != (c.first != "") || q != nil && q.Answers[0].ID != c.first {
			t.Errorf("%s: asks %+v, want the likelier answer %q", name, q, c.first)
		}
	}
}

// Islands block a stencil; the mend is offered, and applied on request.
func TestIslandsBlockUntilBridged(t *testing.T) {
	a := goBold(t, 60, "BOARD")
	req := weeding.Request{Purpose: weeding.Stencil, Stock: sheet}
	m := chart(t, a, req)
	f := the(m, finding.StencilIsland)
	if f == nil || f.Severity != finding.Block || f.Count != 6 || f.Mend == nil || f.Mend.Applied {
		t.Fatalf("finding %+v, want a block over 6 islands with a mend offered", f)
	}
	if n := m.BridgeCount(); n != 0 {
		t.Errorf("%d bridges counted before they are laid", n)
	}
	req.Bridges = true
	m = chart(t, a, req)
	f = the(m, finding.IslandBridged)
	if has(m, finding.StencilIsland) || f == nil || !f.Mend.Applied {
		t.Fatalf("bridged: finding %+v", f)
	}
	if len(m.Bridges) != f.Values.Int("bridges") {
		t.Errorf("%d bridges listed, %v told", len(m.Bridges), f.Values["bridges"])
	}
	if n := m.BridgeCount(); n != len(m.Bridges) || n < 6 {
		t.Errorf("%d bridges counted, %d listed, for 6 islands", n, len(m.Bridges))
	}
	for _, b := range m.Bridges {
		if b.Area() <= 0 {
			t.Errorf("bridge %s is empty or clockwise", b)
		}
	}
	req.MendsOff = []string{weeding.MendBridges}
	if m := chart(t, a, req); !has(m, finding.StencilIsland) {
		t.Error("the mend cannot be switched off")
	}
	req = weeding.Request{Purpose: weeding.Stencil, Stock: sheet}
	if m := chart(t, goBold(t, 60, "SIL"), req); len(m.Findings) > 0 {
		t.Errorf("letters without counters: %v", m.Findings[0].Hint)
	}
}

func the(m *weeding.Map, code finding.Code) *finding.Finding {
	for i := range m.Findings {
		if m.Findings[i].Code == code {
			return &m.Findings[i]
		}
	}
	return nil
}

// checkBridged holds the finished strokes of a stencil against the rules: on
// the kernel's map the sheet, the face outside, is the only kept face, so that
// every face inside is an opening without holes; and bridges have their width.
func checkBridged(m *weeding.Map, width float64) error {
	faces, err := planar.Arrange(nil, flat(m.Strokes))
	if err != nil {
		return err
	}
	if err := faces.Euler(); err != nil {
		return err
	}
	for f := int32(1); f < int32(len(faces.Faces)); f++ {
		if n := len(faces.Holes(f)); n > 0 {
			return fmt.Errorf("an opening still holds %d islands", n)
		}
	}
	for i, e := range faces.Edges {
		if e.Role != planar.Bounding || (e.Left != 0 && e.Right != 0) {
			return fmt.Errorf("edge %d lies between two openings or bounds nothing", i)
		}
	}
	for _, r := range m.Regions {
		if r.Kept() && r.Depth > 0 {
			return fmt.Errorf("region %d is kept apart from the sheet", r.Number)
		}
	}
	return gapsBetween(faces, width)
}

// gapsBetween checks that different openings, where they face each other
// across a bridge, keep its width apart.
func gapsBetween(faces *planar.Map, width float64) error {
	var outlines [][]geometry.Point
	for f := 1; f < len(faces.Faces); f++ {
		outlines = append(outlines, faces.Points(faces.Faces[f].Outer))
	}
	for i := range outlines {
		for j := range i {
			if gap := outlineGap(outlines[i], outlines[j]); gap < width-2e-4 {
				return fmt.Errorf("openings %d and %d are %.4f mm apart, less than a bridge", i, j, gap)
			}
		}
	}
	return nil
}

// Stencils of every letter and digit, and of nested shapes, become one sheet.
func TestBridgesMakeOneSheet(t *testing.T) {
	square := func(c geometry.Point, half float64) geometry.Path {
		return geometry.BoxAround(c).Grow(half).Path()
	}
	nested := &artwork.Artwork{}
	for k := range 7 {
		nested.Strokes = append(nested.Strokes, artwork.Stroke{Path: square(geometry.Pt(0, 0), 10*float64(k+1)), Operation: artwork.ThroughCut, Shape: k})
	}
	nested.Bounds = bounds(nested)
	circles := &artwork.Artwork{}
	for k := range 4 {
		circles.Strokes = append(circles.Strokes, artwork.Stroke{Path: geometry.Circle(geometry.Pt(0, 0), 12*float64(k+1)), Operation: artwork.ThroughCut, Shape: k})
	}
	circles.Bounds = bounds(circles)
	cases := map[string]*artwork.Artwork{
		"nested squares": nested, "nested circles": circles,
		"the letter O": goBold(t, 60, "O"),
	}
	for _, r := range "ABDOPQRabdegopq04689@%&" {
		cases["bold "+string(r)] = newFace(t, goregular.TTF, 90).lettering(t, "", string(r))
	}
	for name, a := range cases {
		m := chart(t, a, weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true, Replies: opening.Replies})
		if has(m, finding.StencilIsland) || has(m, finding.OutlinesCross) {
			t.Errorf("%s: %s", name, m.Findings[0].TechnicianHint)
			continue
		}
		if err := checkBridged(m, 0); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A ring of 10 mm round an island gets bridges of 2 mm by the island's length:
// two below 15 mm, three up to 60, and one for every 40 mm of edge above (common
// practice, no source). A hair longer gets one more.
func TestBridgeWidthsAndPairs(t *testing.T) {
	for _, c := range []struct {
		island  float64
		bridges int
	}{{8, 2}, {14.9, 2}, {15, 3}, {60, 3}, {60.1, 7}, {100, 10}} {
		o := geometry.BoxAround(geometry.Pt(0, 0)).Grow(c.island/2 + 10)
		i := geometry.BoxAround(geometry.Pt(0, 0)).Grow(c.island / 2)
		a := artworkOf([][]geometry.Point{corners(o), corners(i)})
		m := chart(t, a, weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true, Replies: opening.Replies})
		removed := 0.0
		for _, r := range m.Regions {
			if !r.Kept() {
				removed += r.AreaMM2
			}
		}
		want := o.Width()*o.Width() - c.island*c.island - float64(c.bridges)*2*10
		if math.Abs(removed-want) > 1e-2 || len(m.Regions)-1 != c.bridges {
			t.Errorf("island of %g mm: openings %.3f mm² in %d parts, want %.3f in %d", c.island, removed, len(m.Regions), want, c.bridges)
		}
		if err := checkBridged(m, 2); err != nil {
			t.Errorf("island of %g mm: %v", c.island, err)
		}
	}
}

func corners(b geometry.Box) []geometry.Point {
	c := b.Corners()
	return c[:]
}

// An opening may be bounded by several open strokes, of which a bridge meets some and not
// others. All of its edge is cut, as of one that is drawn as a closed line.
func TestBridgedOpeningsOfOpenLines(t *testing.T) {
	line := func(pts ...float64) geometry.Path {
		var all []geometry.Point
		for i := 0; i < len(pts); i += 2 {
			all = append(all, geometry.Pt(pts[i], pts[i+1]))
		}
		return geometry.Polyline(all...)
	}
	island := outlined(boxPath(0, 0, 90, 90),
		line(30, 20, 20, 20, 20, 30), line(20, 60, 20, 70, 30, 70), line(60, 70, 70, 70, 70, 60), line(70, 30, 70, 20, 60, 20), // its corners
		line(30, 20, 60, 20), line(20, 30, 20, 60), line(30, 70, 60, 70), line(70, 30, 70, 60))
	whole := outlined(boxPath(0, 0, 90, 90), boxPath(20, 20, 70, 70))
	removed := func(a *artwork.Artwork) float64 {
		m := chart(t, a, weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true, Replies: opening.Replies})
		if err := checkBridged(m, 0); err != nil {
			t.Error(err)
		}
		area := 0.0
		for _, r := range m.Regions {
			if !r.Kept() {
				area += r.AreaMM2
			}
		}
		for _, s := range m.Strokes {
			if len(s.Path.Segments) == 0 {
				t.Errorf("a stroke goes nowhere: %v", s.Path)
			}
		}
		return area
	}
	if open, closed := removed(island), removed(whole); math.Abs(open-closed) > 1 {
		t.Errorf("openings of %g mm², and of %g mm² where the lines are closed", open, closed)
	}
}
