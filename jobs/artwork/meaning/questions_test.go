package meaning_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/finding"
)

// coloured is n squares side by side, each in a colour of its own that no
// convention knows.
func coloured(t testing.TB, n int) []drawing.Shape {
	var all []drawing.Shape
	for i := range n {
		all = append(all, shape(t, fmt.Sprintf("M%d 0h3v3h-3z", 5*i), "", drawing.RGB(0xff, uint8(i>>8), uint8(i))))
	}
	return all
}

// Lines in several colours that nobody knows are one question with a part for
// each colour, and one finding. An answer to the group settles all of them, and
// one to a part stands before it.
func TestColoursAreAskedAtOnce(t *testing.T) {
	req := request(t, card)
	shapes := append(coloured(t, 4), cut(t, "M0 20h40v9h-40z"))
	open := resolve(t, req, shapes...)
	if len(open.Questions) != 1 || open.Questions[0].ID != "artwork/lines" || len(open.Questions[0].Parts) != 4 {
		t.Fatalf("asks %+v", open.Questions)
	}
	if f := find(open, finding.UnknownLine); f == nil || f.Count != 4 || f.Severity != finding.Ask || len(open.Findings) != 1 {
		t.Errorf("findings %+v", open.Findings)
	}
	for _, tt := range []struct {
		replies ask.Replies
		asks    int // questions and parts that are left
		want    string
	}{
		{ask.Replies{"artwork/lines": {Answer: "cut"}}, 0, "through_cut 5"},
		{ask.Replies{"artwork/lines": {Answer: "nothing"}}, 0, "through_cut 1"},
		{ask.Replies{"artwork/lines": {Answer: "cut"}, "artwork/line:#ff0002": {Answer: "score"}}, 0, "through_cut 4, score 1"},
		{ask.Replies{"artwork/line:#ff0002": {Answer: "score"}}, 4, "through_cut 1, score 1"},
		{ask.Replies{"artwork/line:#ff0000": {Answer: "cut"}, "artwork/line:#ff0001": {Answer: "cut"}, "artwork/line:#ff0002": {Answer: "score"}}, 1, "through_cut 3, score 1"},
		{ask.Replies{"artwork/rest": {Answer: ask.Suggested}}, 0, "through_cut 5"},
		{ask.Replies{"artwork/lines": {Answer: "anything"}}, 5, "through_cut 1"},
	} {
		req.Replies = tt.replies
		a := resolve(t, req, shapes...)
		count := map[artwork.Operation]int{}
		for _, s := range a.Strokes {
			count[s.Operation]++
		}
		got := fmt.Sprintf("through_cut %d", count[artwork.ThroughCut])
		if n := count[artwork.Score]; n > 0 {
			got += fmt.Sprintf(", score %d", n)
		}
		if len(ask.All(a.Questions)) != tt.asks || got != tt.want {
			t.Errorf("%v: %s, asks %+v; want %s, %d", tt.replies, got, a.Questions, tt.want, tt.asks)
		}
	}
}

// The first answer of a group takes the likeliest of each part, where these
// differ.
func TestEachAsItLooks(t *testing.T) {
	req := request(t, card)
	shapes := []drawing.Shape{
		cut(t, "M0 0h60v60h-60z"), shape(t, "M0 10h60", "", drawing.RGB(0x7a, 0x3e, 0xc0)), shape(t, "M5 20h9v9h-9z", "", drawing.RGB(0xff, 0, 0)),
	}
	q := question(resolve(t, req, shapes...), "artwork/lines")
	if q == nil || q.Answers[0].ID != ask.Suggested || !strings.HasSuffix(q.Answers[0].Label, ": 1 to cut, 1 to score for folding") {
		t.Fatalf("asks %+v", q)
	}
	req.Replies = ask.Replies{q.ID: {Answer: ask.Suggested}}
	want := []string{"through_cut M0 0L60 0L60 60L0 60L0 0Z", "score M0 10L60 10", "through_cut M5 20L14 20L14 29L5 29L5 20Z"}
	if got := texts(resolve(t, req, shapes...)); !slices.Equal(got, want) {
		t.Errorf("strokes %q, want %q", got, want)
	}
}

// However many colours a drawing has, it gets one question, a few findings and
// a result of a bounded size.
func TestManyColours(t *testing.T) {
	const n = 30_000
	a := resolve(t, request(t, card), coloured(t, n)...)
	if len(a.Questions) != 1 || len(a.Questions[0].Parts) != ask.MostParts || len(a.Findings) != 1 || a.Findings[0].Count != n {
		t.Fatalf("%d questions, findings %+v", len(a.Questions), a.Findings)
	}
	body, err := json.Marshal(a)
	if err != nil || len(body) > 64<<10 {
		t.Errorf("the result takes %d bytes: %v", len(body), err)
	}
	if text := a.Questions[0].Text; !strings.Contains(text, "30000 lines in 30000 colours") || !strings.Contains(text, "the 12 with most lines") {
		t.Error(text)
	}
}

// awkward is a drawing with everything at once that this job asks about.
func awkward(t testing.TB) []drawing.Shape {
	return append(coloured(t, 2),
		cut(t, "M0 20h30v20h-30z"), cut(t, "M0.7 20.7h28.6v18.6h-28.6z"), // one line turned into two
		painted(t, "M40 20h9v9h-9z", 2), cut(t, "M60 20h9v9h-9v-8.2"), // a wide edge, a gap
		cut(t, "M80 20h20v20h-20z"), shape(t, "M80 40h20", "FOLD", violet)) // a fold on a cut
}

// What decides most comes first, three questions at most stand on the screen,
// and all can be answered at once.
func TestThreeQuestionsOnTheScreen(t *testing.T) {
	req := request(t, card)
	a := resolve(t, req, awkward(t)...)
	var ids []string
	for _, q := range a.Questions {
		ids = append(ids, q.ID)
	}
	if want := []string{"artwork/lines", "artwork/shared_edges", "artwork/rest"}; !slices.Equal(ids, want) {
		t.Fatalf("asks %q, want %q", ids, want)
	}
	if rest := a.Questions[2]; len(rest.Parts) != 3 || rest.Parts[0].ID != "artwork/painted_edge" {
		t.Errorf("the rest is %+v", rest.Parts)
	}
	req.Replies = ask.Replies{}
	for rounds := 0; len(a.Questions) > 0; rounds++ {
		if len(a.Questions) > 3 || rounds > 2 {
			t.Fatalf("round %d asks %+v", rounds, a.Questions)
		}
		for _, q := range a.Questions {
			req.Replies[q.ID] = ask.Reply{Answer: q.Answers[0].ID}
		}
		a = resolve(t, req, awkward(t)...)
	}
	if len(req.Replies) > 4 {
		t.Errorf("%d questions in all", len(req.Replies))
	}
}

// Several operations that a stock does not take have the same answers, and are
// asked about at once.
func TestOperationsTogether(t *testing.T) {
	req := request(t, film)
	shapes := []drawing.Shape{cut(t, "M0 0H9V9H0Z"), shape(t, "M0 5H9", "FOLD", violet), shape(t, "M0 6H9", "PEN", slate)}
	a := resolve(t, req, shapes...)
	if len(a.Questions) != 1 || a.Questions[0].ID != "artwork/operations" || len(a.Questions[0].Parts) != 2 {
		t.Fatalf("asks %+v", a.Questions)
	}
	req.Replies = ask.Replies{"artwork/operations": {Answer: "nothing"}}
	if a := resolve(t, req, shapes...); len(a.Questions) > 0 || len(a.Strokes) != 1 {
		t.Errorf("asks %+v, strokes %q", a.Questions, texts(a))
	}
}

// An answer that changes how large the work is says what it then measures; one
// that does not says nothing.
func TestAnswersTellTheFinishedSize(t *testing.T) {
	unknown := func(d string) []drawing.Shape { // with a note and a frame, which are no part of the work
		grey := drawing.RGB(0x90, 0x90, 0x90)
		return []drawing.Shape{
			cut(t, "M0 0h60v40h-60z"), shape(t, d, "", drawing.RGB(0xff, 0, 0)),
			shape(t, "M-30 -10h170", "NOTES", grey), shape(t, "M-50 -60h210v297h-210z", "PAGE", grey),
		}
	}
	for d, want := range map[string][2]string{"M0 0h90v40h-90z": {"90 × 40", "60 × 40"}, "M5 5h9v9h-9z": {"0 × 0", "0 × 0"}} {
		q := question(resolve(t, request(t, card), unknown(d)...), "artwork/line:#ff0000")
		if q == nil {
			t.Fatal("nothing is asked")
		}
		got := map[string]string{}
		for _, a := range q.Answers {
			got[a.ID] = fmt.Sprintf("%g × %g", a.WidthMM, a.HeightMM)
		}
		if got["cut"] != want[0] || got["nothing"] != want[1] {
			t.Errorf("%s: %v, want %q", d, got, want)
		}
	}
}

// Every answer tells what the finished work measures under it, as "width height"
// in mm, but one under which nothing is made. The sizes are worked out by hand.
func TestAnswersTellTheSize(t *testing.T) {
	type shapes = []drawing.Shape
	const none = "0 0"
	fold := func(d string) drawing.Shape { return shape(t, d, "FOLD", violet) }
	perforated := func(d string) drawing.Shape { return shape(t, d, "PERFORATE", teal) }
	box := cut(t, "M0 0h40v30h-40z")
	for _, tt := range []struct {
		name, stock, id string
		purpose         string
		shapes          shapes
		want            []string
	}{
		{"fold on a cut", card, "artwork/shared_edges", "", shapes{box, fold("M0 30h40")}, []string{"40 30", "40 30"}},
		{"wide line", film, "artwork/wide_lines", "lettering", shapes{wide(t, "M0 0h40v20", 3)}, []string{"40 20", none}},
		{"mirrored", film, "artwork/mirror", "", shapes{mirrored(box)}, []string{"40 30", "40 30"}},
		{"mirrored already", heat, "artwork/mirror", "", shapes{mirrored(box)}, []string{"40 30", "40 30"}},
		{"score on film", film, "artwork/operation:score", "", shapes{box, fold("M0 10h60")}, []string{"40 30", "60 30"}},
		{"score and pen on film", film, "artwork/operations", "", shapes{box, fold("M0 10h60"), perforated("M10 0v50")}, []string{"40 30", "60 50"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			req := request(t, tt.stock)
			req.Purpose = tt.purpose
			q := question(resolve(t, req, tt.shapes...), tt.id)
			if q == nil {
				t.Fatal("not asked")
			}
			var got []string
			for _, a := range q.Answers {
				got = append(got, fmt.Sprintf("%g %g", a.WidthMM, a.HeightMM))
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("sizes %q, want %q", got, tt.want)
			}
		})
	}
	// Each of several measures what it is without its own lines alone, and without
	// those that an answer has left out.
	req := request(t, film)
	req.Replies = ask.Replies{"artwork/operation:perforate": {Answer: "nothing"}}
	q := question(resolve(t, req, box, fold("M0 10h60"), perforated("M10 0v50")), "artwork/operation:score")
	if q == nil || q.Answers[0].HeightMM != 30 || q.Answers[1].WidthMM != 60 || q.Answers[1].HeightMM != 30 {
		t.Errorf("asks %+v", q)
	}
}

// The colour of a shape as an area is that of its fill; of one without a fill that of its
// line, and of one that shows nothing none.
func TestColourThatAShapeShows(t *testing.T) {
	for _, c := range []struct {
		shape drawing.Shape
		want  *drawing.Colour
	}{
		{filled(t, "M0 0h9v9z", "", teal), teal}, {lined(filled(t, "M0 0h9v9z", "", teal), violet), teal},
		{shape(t, "M0 0h9v9z", "", violet), violet}, {shape(t, "M0 0h9v9z", "", nil), nil},
	} {
		if got := meaning.Shows(&c.shape); got != c.want {
			t.Errorf("fill %v, line %v: shows %v", c.shape.Fill, c.shape.Stroke, got)
		}
	}
}
