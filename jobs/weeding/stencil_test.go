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
	m := chart(t, drawn(t, outer, inner, leaf, vein), weeding.Request{Purpose: weeding.Stencil, Stock: sheet})
	want := []weeding.Class{weeding.Ground, weeding.Kept, weeding.Ground, weeding.Kept}
	for i, r := range m.Regions {
		if r.Class != want[i] {
			t.Errorf("region %d is %s, want %s", r.Number, r.Class, want[i])
		}
	}
}

// A rectangle round several openings may be the edge of the sheet: asked, and
// decided by the reply. One round a single outline is an opening.
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
	if m := chart(t, drawn(t, outer, inner), req); len(m.Questions) > 0 {
		t.Errorf("asked about a ring: %s", m.Questions[0].Text)
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
		if r.Kept() {
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
		m := chart(t, a, weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true})
		if has(m, finding.StencilIsland) || has(m, finding.OutlinesCross) {
			t.Errorf("%s: %s", name, m.Findings[0].TechnicianHint)
			continue
		}
		if err := checkBridged(m, 0); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A ring of 20 mm round an island of 40 mm gets two bridges, 2 mm wide and
// across from each other; one round 8 mm gets one.
func TestBridgeWidthsAndPairs(t *testing.T) {
	for _, c := range []struct {
		island  float64
		bridges int
	}{{40, 2}, {8, 1}} {
		o := geometry.BoxAround(geometry.Pt(0, 0)).Grow(c.island/2 + 10)
		i := geometry.BoxAround(geometry.Pt(0, 0)).Grow(c.island / 2)
		a := artworkOf([][]geometry.Point{corners(o), corners(i)})
		m := chart(t, a, weeding.Request{Purpose: weeding.Stencil, Stock: sheet, Bridges: true})
		removed := 0.0
		for _, r := range m.Regions {
			removed += r.AreaMM2
		}
		want := o.Width()*o.Width() - c.island*c.island - float64(c.bridges)*2*10
		if math.Abs(removed-want) > 1e-2 || len(m.Regions) != c.bridges {
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
