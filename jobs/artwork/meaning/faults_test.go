package meaning_test

import (
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/workshop"
)

const (
	card = "card-220-a4"
	film = "film-removable-610"
	heat = "film-heat-500"
)

// painted makes a shape that is filled and has a line of the given width.
func painted(t testing.TB, d string, width float64) drawing.Shape {
	s := cut(t, d)
	s.Fill, s.FillRule, s.StrokeWidth = teal, drawing.NonZero, width
	return s
}

// wide makes a line without a fill.
func wide(t testing.TB, d string, width float64) drawing.Shape {
	s := cut(t, d)
	s.StrokeWidth = width
	return s
}

func penned(s drawing.Shape) drawing.Shape {
	s.Layer, s.Stroke = "PEN", slate
	return s
}

func mirrored(s drawing.Shape) drawing.Shape {
	s.Mirrored = true
	return s
}

// polygon24 is a circle of radius 20 as 24 chords: 0.17 mm off the arc.
const polygon24 = "M20 0 19.318517 5.176381 17.320508 10 14.142136 14.142136 10 17.320508 5.176381 19.318517 0 20" +
	" -5.176381 19.318517 -10 17.320508 -14.142136 14.142136 -17.320508 10 -19.318517 5.176381 -20 0" +
	" -19.318517 -5.176381 -17.320508 -10 -14.142136 -14.142136 -10 -17.320508 -5.176381 -19.318517 0 -20" +
	" 5.176381 -19.318517 10 -17.320508 14.142136 -14.142136 17.320508 -10 19.318517 -5.176381Z"

// Every row of the fault table that belongs to the artwork: a drawing that
// triggers it and a near miss that does not. The limits are those of job.md.
func TestFaults(t *testing.T) {
	type shapes = []drawing.Shape
	grey := drawing.RGB(0x99, 0x99, 0x99)
	tests := []struct {
		name, stock string
		trigger     shapes
		miss        shapes
		code        finding.Code
		severity    finding.Severity
		count       int
		asks, first string // ID of the question and of its first answer
	}{
		{"stray point", card, shapes{cut(t, "M0 0H9V9Z"), cut(t, "M20 0L20 0")}, shapes{cut(t, "M0 0H9V9Z"), cut(t, "M20 0H20.1")},
			finding.StrayPoints, finding.Mended, 1, "", ""},
		{"zero length within a line", card, shapes{cut(t, "M0 0H9V9V9Z")}, shapes{cut(t, "M0 0H9V9V9.1Z")},
			finding.StrayPoints, finding.Mended, 1, "", ""},
		{"tiny segments", card, shapes{cut(t, "M0 0H5H5.03H9V9Z")}, shapes{cut(t, "M0 0H5H5.06H9V9Z")},
			finding.TinySegments, finding.Mended, 1, "", ""},
		{"faceted curve", card, shapes{cut(t, polygon24)}, shapes{cut(t, "M20 0A20 20 0 0 1 -20 0A20 20 0 0 1 20 0Z")},
			finding.Faceted, finding.Warn, 1, "", ""},
		{"outline drawn twice", card, shapes{cut(t, "M0 0H9V9H0Z"), cut(t, "M0.01 0H9V9H0.01Z")}, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M2 2H18V18H2Z")},
			finding.DuplicateLines, finding.Mended, 1, "", ""},
		{"lines overlap in part", card, shapes{cut(t, "M0 0H9"), cut(t, "M5 0H15")}, shapes{cut(t, "M0 0H9"), cut(t, "M11 0H15")},
			finding.DuplicateLines, finding.Mended, 1, "", ""},
		{"arcs overlap in part", card, shapes{cut(t, "M5 0A5 5 0 0 1 -5 0"), cut(t, "M0 5A5 5 0 0 1 0 -5")}, shapes{cut(t, "M5 0A5 5 0 0 1 -5 0"), cut(t, "M0 5.2A5.2 5.2 0 0 1 0 -5.2")},
			finding.DuplicateLines, finding.Mended, 1, "", ""},
		{"a curve drawn back", card, shapes{cut(t, "M0 0C5 9 9 -9 20 0"), cut(t, "M20 0C9 -9 5 9 0 0")}, shapes{cut(t, "M0 0C5 9 9 -9 20 0"), cut(t, "M20 0C9 9 5 -9 0 0")},
			finding.DuplicateLines, finding.Mended, 1, "", ""},
		{"near gap", card, shapes{cut(t, "M0 0H9V9H0V0.09")}, shapes{cut(t, "M0 0H9V9H0V0")},
			finding.NearGap, finding.Mended, 1, "", ""},
		{"gap", card, shapes{cut(t, "M0 0H9V9H0V0.8")}, shapes{cut(t, "M0 0H9V9H0V2")},
			finding.Gap, finding.Ask, 1, "artwork/gaps", "join"},
		{"gap to a line", film, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 10H19.5")}, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 10H20")},
			finding.Gap, finding.Ask, 1, "artwork/gaps", "join"},
		{"spur", card, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 10H20.6")}, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 10H20")},
			finding.Spur, finding.Warn, 1, "", ""},
		{"slit in card", card, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M5 10H15")}, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 10H20")},
			finding.OpenLine, finding.Warn, 1, "", ""},
		{"open outline in card", card, shapes{cut(t, "M0 0H9V9H0V2")}, shapes{cut(t, "M0 0H9V9")},
			finding.OpenOutline, finding.Warn, 1, "", ""},
		{"open outline in film", film, shapes{cut(t, "M0 0H9V9H0V2")}, shapes{cut(t, "M0 0H9V9H0V0")},
			finding.OpenOutline, finding.Block, 1, "", ""},
		{"filled, no line", card, shapes{filled(t, "M0 0H9V9H0Z", "", teal)}, shapes{cut(t, "M0 0H9V9H0Z")},
			finding.FillOutline, finding.Warn, 1, "", ""},
		{"filled in an unknown colour", card, shapes{filled(t, "M0 0H9V9H0Z", "", grey)}, shapes{filled(t, "M0 0H9V9H0Z", "CUT", grey)},
			finding.FillOnly, finding.Ask, 1, "artwork/fill:#999999", "cut"},
		{"neither line nor fill", card, shapes{cut(t, "M0 0H9V9H0Z"), shape(t, "M0 0H5", "CUT", nil)}, shapes{cut(t, "M0 0H9V9H0Z")},
			finding.UnpaintedGeometry, finding.Warn, 1, "", ""},
		{"wide line on card", card, shapes{wide(t, "M0 0H50", 2)}, shapes{wide(t, "M0 0H50", 1.9)},
			finding.WideLine, finding.Warn, 1, "", ""},
		{"wide line of the pen", card, shapes{wide(t, "M0 0H50", 2)}, shapes{penned(wide(t, "M0 0H50", 5))},
			finding.WideLine, finding.Warn, 1, "", ""},
		{"filled, with a wide line", card, shapes{painted(t, "M0 0H9V9H0Z", 2)}, shapes{painted(t, "M0 0H9V9H0Z", 0.3)},
			finding.FillAndStroke, finding.Ask, 1, "artwork/painted_edge", "line"},
		{"filled, with a line wide but for rounding", card, shapes{painted(t, "M0 0H9V9H0Z", 0.5-1e-12)}, shapes{painted(t, "M0 0H9V9H0Z", 0.499)},
			finding.FillAndStroke, finding.Ask, 1, "artwork/painted_edge", "line"},
		{"a line turned into two", film, shapes{cut(t, "M0 0H30V20H0Z"), cut(t, "M0.7 0.7H29.3V19.3H0.7Z")}, shapes{cut(t, "M0 0H30V20H0Z"), cut(t, "M2 2H28V18H2Z")},
			finding.DoubledLine, finding.Ask, 1, "artwork/doubled_lines", "outer"},
		{"colour near the violet", card, shapes{shape(t, "M0 0H9", "", drawing.RGB(0x7a, 0x3e, 0xc0))}, shapes{shape(t, "M0 0H9", "", drawing.RGB(0x7b, 0x3e, 0xb1))},
			finding.ColourNear, finding.Ask, 1, "artwork/line:#7a3ec0", "score"},
		{"unknown colour", card, shapes{shape(t, "M0 0H9V9H0Z", "", drawing.RGB(0xff, 0, 0))}, shapes{shape(t, "M0 0H9V9H0Z", "cut", drawing.RGB(0xff, 0, 0))},
			finding.UnknownLine, finding.Ask, 1, "artwork/line:#ff0000", "cut"},
		{"unknown layer", card, shapes{shape(t, "M0 0H9", "Fold lines", drawing.RGB(0, 0, 0))}, shapes{shape(t, "M0 0H9", "fold", drawing.RGB(0, 0, 0))},
			finding.UnknownLine, finding.Ask, 1, "artwork/layer:Fold lines", "score"},
		{"score on film", film, shapes{cut(t, "M0 0H9V9H0Z"), shape(t, "M0 5H9", "FOLD", violet)}, shapes{cut(t, "M0 0H9V9H0Z"), cut(t, "M0 5H9")},
			finding.OperationUnsupported, finding.Ask, 1, "artwork/operation:score", "nothing"},
		{"pen on a stencil sheet", "stencil-a3", shapes{cut(t, "M0 0H9V9H0Z"), shape(t, "M0 5H9", "PEN", slate)}, shapes{cut(t, "M0 0H9V9H0Z")},
			finding.OperationUnsupported, finding.Ask, 1, "artwork/operation:pen", "nothing"},
		{"fold on a cut", card, shapes{cut(t, "M0 0H20V20H0Z"), shape(t, "M0 20H20", "FOLD", violet)}, shapes{cut(t, "M0 0H20V20H0Z"), shape(t, "M0 10H20", "FOLD", violet)},
			finding.FoldOnCut, finding.Ask, 1, "artwork/shared_edges", "cut"},
		{"fold between the panels of a net", card, shapes{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 20H20V40H0Z"), shape(t, "M0 20H20", "FOLD", violet)}, shapes{cut(t, "M0 0H20V40H0Z"), shape(t, "M0 20H20", "FOLD", violet)},
			finding.FoldOnCut, finding.Ask, 1, "artwork/shared_edges", "fold"},
		{"mirrored already", heat, shapes{cut(t, "M0 0H9V9H0Z"), mirrored(cut(t, "M2 2H4V4Z"))}, shapes{cut(t, "M0 0H9V9H0Z"), cut(t, "M2 2H4V4Z")},
			finding.MirroredAlready, finding.Ask, 1, "artwork/mirror", "as_drawn"},
		{"mirrored by mistake", film, shapes{mirrored(cut(t, "M2 2H4V4Z"))}, shapes{cut(t, "M0 0H9V9H0Z"), mirrored(cut(t, "M2 2H4V4Z"))},
			finding.DrawnMirrored, finding.Ask, 1, "artwork/mirror", "as_drawn"},
		{"nothing is left", card, shapes{shape(t, "M0 0H9", "PAGE", teal)}, shapes{shape(t, "M0 0H9", "CUT", teal)},
			finding.NothingToCut, finding.Block, 1, "", ""},
		{"left out by the convention", card, shapes{cut(t, "M0 0H9V9Z"), shape(t, "M0 0H9", "PAGE", teal)}, shapes{cut(t, "M0 0H9V9Z")},
			finding.LeftOut, finding.Warn, 1, "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := resolve(t, request(t, tt.stock), tt.trigger...)
			f := find(a, tt.code)
			if f == nil {
				t.Fatalf("no %s, found %q", tt.code, codes(a))
			}
			if f.Severity != tt.severity || f.Count != tt.count {
				t.Errorf("%s %d times, want %s %d times", f.Severity, f.Count, tt.severity, tt.count)
			}
			if tt.code != finding.NothingToCut && tt.code != finding.MirroredAlready && tt.code != finding.DrawnMirrored && len(f.Places) != tt.count {
				t.Errorf("%d places", len(f.Places))
			}
			for _, hint := range []string{f.Hint, f.TechnicianHint} {
				if hint == "" || strings.ContainsAny(hint, "{}") {
					t.Errorf("hint %q", hint)
				}
			}
			switch q := question(a, tt.asks); {
			case tt.asks == "" && len(a.Questions) > 0:
				t.Errorf("asks %+v", a.Questions)
			case tt.asks != "" && q == nil:
				t.Errorf("asks %+v, want %s", a.Questions, tt.asks)
			case q != nil && (q.Answers[0].ID != tt.first || q.Code != tt.code):
				t.Errorf("asks %+v, want %s first, for %s", q, tt.first, tt.code)
			}
			if near := resolve(t, request(t, tt.stock), tt.miss...); find(near, tt.code) != nil {
				t.Errorf("the near miss has it too: %+v", find(near, tt.code))
			}
		})
	}
}

// An answer goes on where the question stopped.
func TestReplies(t *testing.T) {
	square := "M0 0H20V20H0Z"
	net := []drawing.Shape{cut(t, "M0 0H20V20H0Z"), cut(t, "M0 20H20V40H0Z"), shape(t, "M0 20H20", "FOLD", violet)}
	ring := []drawing.Shape{cut(t, "M0 0H30V20H0Z"), cut(t, "M0.5 0.5H29.5V19.5H0.5Z")}
	tests := []struct {
		name, stock, question, answer string
		shapes                        []drawing.Shape
		want                          []string
	}{
		{"near colour taken as the rule's", card, "artwork/line:#7a3ec0", "score", []drawing.Shape{shape(t, "M0 0H9", "", drawing.RGB(0x7a, 0x3e, 0xc0))}, []string{"score M0 0L9 0"}},
		{"unknown colour left out", card, "artwork/line:#ff0000", "nothing", []drawing.Shape{cut(t, square), shape(t, "M0 5H9", "", drawing.RGB(0xff, 0, 0))}, []string{"through_cut M0 0L20 0L20 20L0 20L0 0Z"}},
		{"score on film dropped", film, "artwork/operation:score", "nothing", []drawing.Shape{cut(t, square), shape(t, "M0 5H20", "FOLD", violet)}, []string{"kiss_cut M0 0L20 0L20 20L0 20L0 0Z"}},
		{"score on film cut", film, "artwork/operation:score", "cut", []drawing.Shape{cut(t, square), shape(t, "M0 5H20", "FOLD", violet)}, []string{"kiss_cut M0 0L20 0L20 20L0 20L0 0Z", "kiss_cut M0 5L20 5"}},
		{"gap joined", card, "artwork/gaps", "join", []drawing.Shape{cut(t, "M0 0H9V9H0V0.8")}, []string{"through_cut M0 0L9 0L9 9L0 9L0 0.8L0 0Z"}},
		{"gap left", card, "artwork/gaps", "leave", []drawing.Shape{cut(t, "M0 0H9V9H0V0.8")}, []string{"through_cut M0 0L9 0L9 9L0 9L0 0.8"}},
		{"net folded between its panels", card, "artwork/shared_edges", "fold", net, []string{"through_cut M0 0L20 0L20 20L20 40L0 40L0 20L0 0Z", "score M0 20L20 20"}},
		{"net cut between its panels", card, "artwork/shared_edges", "cut", net, []string{"through_cut M0 0L20 0L20 20L0 20L0 0Z", "through_cut M20 20L20 40L0 40L0 20"}},
		{"outer outline only", film, "artwork/doubled_lines", "outer", ring, []string{"kiss_cut M0 0L30 0L30 20L0 20L0 0Z"}},
		{"inner outline only", film, "artwork/doubled_lines", "inner", ring, []string{"kiss_cut M0 0L29 0L29 19L0 19L0 0Z"}},
		{"along the visible edge, another as drawn", card, "artwork/painted_edge", "edge",
			[]drawing.Shape{painted(t, "M0 0H10V10H0Z", 2), cut(t, "M20 0V9"), cut(t, "M30 0H39V9H30Z M32 2H34V4H32Z")},
			[]string{"through_cut M0 0L12 0L12 12L0 12L0 0Z", "through_cut M21 1L21 10", "through_cut M31 1L40 1L40 10L31 10L31 1Z", "through_cut M33 3L35 3L35 5L33 5L33 3Z"}},
		{"along the visible edge", card, "artwork/painted_edge", "edge", []drawing.Shape{painted(t, "M0 0H10V10H0Z", 2)}, []string{"through_cut M0 0L12 0L12 12L0 12L0 0Z"}},
		{"heat film mirrored already", heat, "artwork/mirror", "as_drawn", []drawing.Shape{mirrored(cut(t, "M0 0H9V5Z"))}, []string{"kiss_cut M9 0L0 0L0 5L9 0Z"}},
		{"heat film not mirrored yet", heat, "artwork/mirror", "turn", []drawing.Shape{mirrored(cut(t, "M0 0H9V5Z"))}, []string{"kiss_cut M0 0L9 0L9 5L0 0Z"}},
		{"turned back", film, "artwork/mirror", "turn", []drawing.Shape{mirrored(cut(t, "M0 0H9V5Z"))}, []string{"kiss_cut M9 0L0 0L0 5L9 0Z"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			req := request(t, tt.stock)
			if a := resolve(t, req, tt.shapes...); question(a, tt.question) == nil {
				t.Fatalf("asks %+v, want %s", a.Questions, tt.question)
			}
			req.Replies = ask.Replies{tt.question: {Answer: tt.answer}}
			a := resolve(t, req, tt.shapes...)
			if len(a.Questions) > 0 {
				t.Errorf("asks again: %+v", a.Questions)
			}
			if got := texts(a); strings.Join(got, "\n") != strings.Join(tt.want, "\n") {
				t.Errorf("strokes\n%s, want\n%s", strings.Join(got, "\n"), strings.Join(tt.want, "\n"))
			}
			req.Replies = ask.Replies{tt.question: {Answer: "something else"}}
			if a := resolve(t, req, tt.shapes...); question(a, tt.question) == nil {
				t.Error("an answer that was not offered is taken")
			}
		})
	}
}

// A mend that is switched off is not made, and says what it would change.
func TestMendsOff(t *testing.T) {
	tests := []struct {
		mend, d string
		code    finding.Code
		strokes int
	}{
		{"duplicates", "M0 0H9V9H0ZM0 0H9V9H0Z", finding.DuplicateLines, 2},
		{"joins", "M0 0H9M9 0V9", finding.LooseSegments, 2},
		{"near_gaps", "M0 0H9M9.05 0V9", finding.NearGap, 2},
		{"tiny_segments", "M0 0H5H5.02H9", finding.TinySegments, 1},
	}
	for _, tt := range tests {
		req := request(t, card)
		on := resolve(t, req, cut(t, tt.d))
		req.MendsOff = []string{tt.mend}
		off := resolve(t, req, cut(t, tt.d))
		f, g := find(on, tt.code), find(off, tt.code)
		if f == nil || g == nil {
			t.Errorf("%s: findings %q on, %q off", tt.mend, codes(on), codes(off))
			continue
		}
		if !f.Mend.Applied || f.Severity != finding.Mended || g.Mend.Applied || g.Severity != finding.Warn || g.Mend.Effect != f.Mend.Effect || f.Mend.ID != tt.mend {
			t.Errorf("%s: on %s %+v, off %s %+v", tt.mend, f.Severity, *f.Mend, g.Severity, *g.Mend)
		}
		if len(off.Strokes) != tt.strokes {
			t.Errorf("%s off: %q", tt.mend, texts(off))
		}
		if strings.Join(texts(on), "") == strings.Join(texts(off), "") {
			t.Errorf("%s changes nothing", tt.mend)
		}
	}
}

// A band in lettering is asked about: who wants its middle cut goes on, who
// wants the band is told what to draw.
func TestBandInLettering(t *testing.T) {
	for answer, want := range map[string]finding.Severity{"": finding.Ask, "middle": finding.Warn, "band": finding.Block} {
		req := request(t, film)
		req.Purpose = "lettering"
		if answer != "" {
			req.Replies = ask.Replies{"artwork/wide_lines": {Answer: answer}}
		}
		a := resolve(t, req, wide(t, "M0 0H50V30Z", 2), wide(t, "M0 40H50V60Z", 3.5))
		f, q := find(a, finding.WideLine), question(a, "artwork/wide_lines")
		if f == nil || f.Severity != want || f.Count != 2 || f.Values.Num("most_mm") != 3.5 {
			t.Errorf("answer %q: %+v, want %s", answer, f, want)
		}
		if asked := answer == ""; (q != nil) != asked || len(a.Strokes) != 2 {
			t.Errorf("answer %q: question %+v, strokes %q", answer, q, texts(a))
		}
	}
}

// A caller that says itself whether to mirror is not asked, and a stencil
// whose opening is not closed is no stencil.
func TestRequestDecides(t *testing.T) {
	yes := true
	req := request(t, heat)
	req.Mirror = &yes
	if a := resolve(t, req, mirrored(cut(t, "M0 0H9V5Z"))); len(a.Questions) > 0 {
		t.Errorf("asks %+v", a.Questions)
	}
	req = request(t, "stencil-a3")
	for purpose, want := range map[string]finding.Severity{"pieces": finding.Warn, "stencil": finding.Block} {
		req.Purpose = purpose
		if f := find(resolve(t, req, cut(t, "M0 0H9V9H0V2")), finding.OpenOutline); f == nil || f.Severity != want {
			t.Errorf("an open outline for %s: %+v, want %s", purpose, f, want)
		}
	}
}

// Rules match by layer pattern, colour and line width, the first that matches
// decides, and a rule's conditions all have to hold.
func TestConvention(t *testing.T) {
	red := drawing.RGB(255, 0, 0)
	c := workshop.Convention{Name: "test", Rules: []workshop.Rule{
		{Layer: "note*", Means: workshop.MeansNothing},
		{Layer: "DIE?", Colour: red, Means: workshop.MeansPerforate},
		{Colour: red, WidthMM: 0.5, Means: workshop.MeansScore},
		{Colour: red, Means: workshop.MeansCut},
		{Layer: "[", Means: workshop.MeansPen},
	}}
	wide := shape(t, "M0 0H9", "", red)
	wide.StrokeWidth = 0.51
	tests := []struct {
		name  string
		shape drawing.Shape
		want  string
	}{
		{"pattern with a star, case ignored", shape(t, "M0 0H9", "Notes", red), ""},
		{"layer and colour", shape(t, "M0 0H9", "die1", red), "perforate M0 0L9 0"},
		{"layer without the colour", shape(t, "M0 0H9", "die1", drawing.RGB(0, 255, 0)), ""},
		{"colour and width", wide, "score M0 0L9 0"},
		{"colour alone", shape(t, "M0 0H9", "", red), "through_cut M0 0L9 0"},
		{"malformed pattern stands for itself", shape(t, "M0 0H9", "[", teal), "pen M0 0L9 0"},
	}
	for _, tt := range tests {
		req := meaning.Request{Convention: c, Stock: request(t, card).Stock}
		if got := strings.Join(texts(resolve(t, req, tt.shape)), "; "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
