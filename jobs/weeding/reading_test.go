package weeding_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/weeding"
)

// A five-pointed star drawn in one stroke (check values, row 41): its centre
// is empty by even-odd and by nesting, filled by nonzero.
const pentagram = "M50 0L79.389 90.451L2.447 34.549H97.553L20.611 90.451Z"

func withFill(a *artwork.Artwork, rule drawing.FillRule, strokes ...int) *artwork.Artwork {
	for i := range a.Strokes {
		if len(strokes) == 0 || slices.Contains(strokes, i) {
			a.Strokes[i].Fill = rule
		}
	}
	return a
}

func question(m *weeding.Map, id string) *ask.Question {
	for i := range m.Questions {
		if m.Questions[i].ID == id {
			return &m.Questions[i]
		}
	}
	return nil
}

func reply(pairs ...string) ask.Replies {
	r := ask.Replies{}
	for i := 0; i < len(pairs); i += 2 {
		r[pairs[i]] = ask.Reply{Answer: pairs[i+1]}
	}
	return r
}

func keptArea(m *weeding.Map) float64 {
	sum := 0.0
	for _, r := range m.Regions {
		if r.Kept() {
			sum += r.AreaMM2
		}
	}
	return sum
}

func TestFillDecidesWhereEveryShapeIsFilled(t *testing.T) {
	// A plate and a hole in it as one filled shape: both readings agree.
	plate := drawn(t, outer+inner)
	m := chart(t, withFill(plate, drawing.EvenOdd), weeding.Request{Purpose: weeding.Lettering, Stock: film})
	if len(m.Questions) > 0 || keptArea(m) != 3600 {
		t.Errorf("kept %g mm² with %d questions, want 3600 with none", keptArea(m), len(m.Questions))
	}
	// Two filled shapes one on the other: by fill both are kept.
	two := drawn(t, outer, inner)
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film}
	m = chart(t, withFill(two, drawing.NonZero), req)
	q := question(m, weeding.QuestionRegions)
	if q == nil || q.Answers[0].ID != weeding.AnswerFill || keptArea(m) != 10000 {
		t.Fatalf("question %v, kept %g; want one with fill first, 10000", q, keptArea(m))
	}
	if len(q.Places) != 1 || q.Places[0].Box != geometry.BoxAround(geometry.Pt(10, 10), geometry.Pt(90, 90)) {
		t.Errorf("places %v, want the inner square", q.Places)
	}
	for _, a := range q.Answers {
		if a.WidthMM != 100 || a.HeightMM != 100 {
			t.Errorf("answer %s makes %g × %g mm, want 100 × 100", a.ID, a.WidthMM, a.HeightMM)
		}
	}
	for answer, want := range map[string]float64{weeding.AnswerFill: 10000, weeding.AnswerNest: 3600} {
		req.Replies = reply(weeding.QuestionRegions, answer)
		m := chart(t, two, req)
		if len(m.Questions) > 0 || keptArea(m) != want {
			t.Errorf("answer %s: kept %g with %d questions, want %g", answer, keptArea(m), len(m.Questions), want)
		}
	}
}

func TestMixedFillIsAskedOnlyWhereItMatters(t *testing.T) {
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film}
	// A filled square and beside it an outline that is not filled.
	m := chart(t, withFill(drawn(t, letter, "M20 0H30V10H20Z"), drawing.NonZero, 0), req)
	if q := question(m, weeding.QuestionRegions); q == nil || q.Answers[0].ID != weeding.AnswerNest {
		t.Errorf("question %v, want one with nesting first", q)
	}
	// The same outline drawn filled and again unfilled says one thing.
	m = chart(t, withFill(drawn(t, letter, letter), drawing.NonZero, 0), req)
	if len(m.Questions) > 0 || keptArea(m) != 100 {
		t.Errorf("%d questions, kept %g; want none, 100", len(m.Questions), keptArea(m))
	}
}

// Check values, rows 40 and 41: two overlapping squares have 3 bounded faces,
// a pentagram 6. As drawn the overlap is removed; welded, all is one piece.
func TestCrossingOutlinesAreAskedAndWelded(t *testing.T) {
	const a, b = "M0 0H20V20H0Z", "M10 10H30V30H10Z"
	for _, c := range []struct {
		name            string
		art             *artwork.Artwork
		apart           int
		kept, joined    float64
		regions, pieces int
	}{
		{"two squares", drawn(t, a, b), 3, 600, 700, 3, 1},
		{"two squares as one shape", drawn(t, a+b), 3, 600, 700, 3, 1},
		{"a pentagram", drawn(t, pentagram), 6, 0, 0, 6, 1},
	} {
		req := weeding.Request{Purpose: weeding.Lettering, Stock: film}
		m := chart(t, c.art, req)
		q := question(m, weeding.QuestionWeld)
		if q == nil || q.Answers[0].ID != weeding.AnswerWeld || len(m.Regions) != c.regions {
			t.Errorf("%s: question %v and %d regions, want one and %d", c.name, q, len(m.Regions), c.regions)
			continue
		}
		if w := q.Answers[0]; c.kept > 0 && (w.WidthMM != 30 || w.HeightMM != 30 || q.Answers[1].WidthMM != 30) {
			t.Errorf("%s: the work is %g × %g mm, want 30 × 30", c.name, w.WidthMM, w.HeightMM)
		}
		stencil := weeding.Request{Purpose: weeding.Stencil, Stock: film}
		if q := question(chart(t, c.art, stencil), weeding.QuestionWeld); q == nil || q.Answers[0].WidthMM != 0 {
			t.Errorf("%s: %v tells of a stencil the size of its openings", c.name, q)
		}
		if c.kept > 0 && math.Abs(keptArea(m)-c.kept) > 1e-6 {
			t.Errorf("%s: as drawn %g mm² are kept, want %g", c.name, keptArea(m), c.kept)
		}
		req.Replies = reply(weeding.QuestionWeld, weeding.AnswerApart)
		if m := chart(t, c.art, req); len(m.Questions) > 0 || len(m.Regions) != c.regions {
			t.Errorf("%s: answered apart: %d questions, %d regions", c.name, len(m.Questions), len(m.Regions))
		}
		req.Replies = reply(weeding.QuestionWeld, weeding.AnswerWeld)
		m = chart(t, c.art, req)
		if len(m.Questions) > 0 || len(m.Regions) != c.pieces || len(m.Strokes) != 1 {
			t.Errorf("%s: welded: %d questions, %d regions, %d strokes", c.name, len(m.Questions), len(m.Regions), len(m.Strokes))
		}
		if c.joined > 0 && math.Abs(keptArea(m)-c.joined) > 1e-6 {
			t.Errorf("%s: welded %g mm² are kept, want %g", c.name, keptArea(m), c.joined)
		}
	}
}

func TestWeldKeepsHolesAndCurves(t *testing.T) {
	// Two rings that cross: the hole of each stays where the other's band
	// does not cover it. A circle apart from them keeps its arcs.
	const ringA, ringB = "M0 0H30V30H0Z M5 5H25V25H5Z", "M20 10H50V20H20Z"
	circle := geometry.Circle(geometry.Pt(100, 0), 10)
	a := drawn(t, ringA, ringB)
	a.Strokes = append(a.Strokes, artwork.Stroke{Path: circle, Operation: artwork.KissCut, Shape: 9})
	m := chart(t, a, weeding.Request{Purpose: weeding.Lettering, Stock: film, Weld: true})
	// Ring 900−400, bar 30·10, less where the bar lies on the ring's band (5·10).
	want := 500 + 300 - 50 + circle.Area()
	// Flattened within 0.01 mm, the circle loses less than 0.01 mm of its rim.
	if d := want - keptArea(m); d < 0 || d > 0.01*circle.Length() {
		t.Errorf("kept %g mm², want %g", keptArea(m), want)
	}
	if !slices.ContainsFunc(m.Strokes, func(s artwork.Stroke) bool {
		return len(s.Path.Segments) == 2 && s.Path.Segments[0].Kind == geometry.Arc
	}) {
		t.Error("the circle that crosses nothing lost its arcs")
	}
}

// Shapes that only touch, or share an edge, or lie in each other, are no
// crossing.
func TestTouchingIsNotCrossing(t *testing.T) {
	for _, data := range [][]string{
		{"M0 0H20V20H0Z", "M20 0H40V20H20Z"},
		{"M0 0H20V20H0Z", "M20 20H40V40H20Z"},
		{"M0 0H20V20H0Z", "M0 0H10V10H0Z"},
		{"M0 0H20V20H0Z", "M0 0H20V20H0Z"},
		{outer, inner, leaf},
	} {
		m := chart(t, drawn(t, data...), weeding.Request{Purpose: weeding.Lettering, Stock: card})
		if question(m, weeding.QuestionWeld) != nil {
			t.Errorf("%q: %s", data, m.Questions[0].Text)
		}
	}
}

// Regions turned over by number change sides, and no number moves; an unknown
// number is said.
func TestTurnedRegions(t *testing.T) {
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	a := goBold(t, 30, "BOARD")
	before := chart(t, a, req)
	req.Turned = []int{7}
	after := chart(t, a, req)
	for i := range 11 {
		p, q := before.Regions[i], after.Regions[i]
		if (p.Kept() != q.Kept()) != (p.Number == 7) || p.Pick != q.Pick || p.Number != q.Number {
			t.Errorf("region %d: %s at %v became %s at %v", p.Number, p.Class, p.Pick, q.Class, q.Pick)
		}
	}
	req.Turned = []int{99}
	if m := chart(t, a, req); !has(m, finding.RegionUnknown) {
		t.Error("turning a region that is not there went unnoticed")
	}
}

func has(m *weeding.Map, code finding.Code) bool {
	return slices.ContainsFunc(m.Findings, func(f finding.Finding) bool { return f.Code == code })
}

// The order of the strokes, and which way they run, change nothing but the
// order of the strokes.
func TestOrderOfStrokesDoesNotMatter(t *testing.T) {
	a := goBold(t, 20, "Orrin", "Point &")
	req := weeding.Request{Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true}
	want := chart(t, a, req)
	rng := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		b := &artwork.Artwork{Strokes: slices.Clone(a.Strokes), Bounds: a.Bounds}
		rng.Shuffle(len(b.Strokes), func(i, j int) { b.Strokes[i], b.Strokes[j] = b.Strokes[j], b.Strokes[i] })
		for i := range b.Strokes {
			if rng.IntN(2) == 0 {
				b.Strokes[i].Path = b.Strokes[i].Path.Reversed()
			}
		}
		got := chart(t, b, req)
		if len(got.Regions) != len(want.Regions) {
			t.Fatalf("%d regions, want %d", len(got.Regions), len(want.Regions))
		}
		for i, r := range got.Regions {
			w := want.Regions[i]
			if r.Class != w.Class || math.Abs(r.AreaMM2-w.AreaMM2) > 1e-3 || math.Abs(r.PerimeterMM-w.PerimeterMM) > 1e-3 {
				t.Errorf("region %d: %s of %g mm², want %s of %g", r.Number, r.Class, r.AreaMM2, w.Class, w.AreaMM2)
			}
		}
		if math.Abs(got.Effort.CopyS-want.Effort.CopyS) > 1e-3 {
			t.Errorf("one copy takes %g s, want %g", got.Effort.CopyS, want.Effort.CopyS)
		}
	}
}

// Kept and removed regions together are the whole inside of the weed border,
// whatever is turned, tied or cut.
func TestKeptAndRemovedAreAll(t *testing.T) {
	for _, turned := range [][]int{nil, {1, 3, 8}} {
		m := chart(t, goBold(t, 90, "Salt", "Gull"), weeding.Request{
			Purpose: weeding.Lettering, Stock: film, Border: true, Relief: true, Turned: turned,
		})
		sum := 0.0
		for _, r := range m.Regions {
			sum += r.AreaMM2
		}
		if all := m.Bounds.Width() * m.Bounds.Height(); math.Abs(sum-all) > 1e-3 {
			t.Errorf("turned %v: regions cover %.4f of %.4f mm²", turned, sum, all)
		}
	}
}
