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

// folding is a request by a convention that has these rules before its own.
func folding(t testing.TB, rules ...workshop.Rule) meaning.Request {
	req := request(t, card)
	req.Convention.Rules = append(rules, req.Convention.Rules...)
	return req
}

// A knife score has to lie on the outside of its fold (common practice, no
// source). Which folds do not is known from rules, from names of layers and
// answers, and never taken for granted where these tell folds apart.
func TestFoldSides(t *testing.T) {
	black := drawing.RGB(0, 0, 0)
	box := cut(t, "M0 0h90v60h-90z")
	on := func(layer, d string) drawing.Shape { return shape(t, d, layer, black) }
	drawn := func(as ask.Line, layer, d string) drawing.Shape {
		s := on(layer, d)
		s.Dashed, s.DashDot = as != ask.Whole, as == ask.DashDot
		return s
	}
	in := func(colour *drawing.Colour, d string) drawing.Shape { return shape(t, d, "FOLD", colour) }
	ridge := workshop.Rule{Layer: "RIDGE", Means: workshop.MeansScore, Fold: workshop.Mountain}
	groove := workshop.Rule{Layer: "GROOVE", Means: workshop.MeansScore, Fold: workshop.Valley}
	anyFold := workshop.Rule{Layer: "*fold*", Means: workshop.MeansScore}
	red, blue := drawing.RGB(0xff, 0, 0), drawing.RGB(0, 0, 0xff)
	yes := true
	for _, tt := range []struct {
		name    string
		req     meaning.Request
		shapes  []drawing.Shape
		replies ask.Replies
		mirror  *bool
		asks    string // ID of the question
		parts   int
		over    int    // folds that close over their score
		advice  string // a word of it
	}{
		{name: "one kind", req: folding(t, anyFold), shapes: []drawing.Shape{on("FOLD", "M10 10v40"), on("fold 2", "M30 10v40")}},
		{name: "all mountain by rule", req: folding(t, ridge), shapes: []drawing.Shape{on("RIDGE", "M10 10v40")}},
		{name: "all valley by rule", req: folding(t, groove), shapes: []drawing.Shape{on("GROOVE", "M10 10v40"), on("GROOVE", "M20 10v40")}, over: 2, advice: "cut from its back"},
		{name: "both by rule", req: folding(t, ridge, groove), shapes: []drawing.Shape{on("RIDGE", "M10 10v40"), on("RIDGE", "M30 10v40"), on("GROOVE", "M20 10v40")}, over: 1, advice: "turned over"},
		{name: "both, mirrored", req: folding(t, ridge, groove), mirror: &yes, shapes: []drawing.Shape{on("RIDGE", "M10 10v40"), on("RIDGE", "M30 10v40"), on("GROOVE", "M20 10v40")}, over: 2, advice: "turned over"},
		{name: "valley, mirrored", req: folding(t, groove), mirror: &yes, shapes: []drawing.Shape{on("GROOVE", "M10 10v40")}},
		{name: "one by rule", req: folding(t, groove, anyFold), shapes: []drawing.Shape{on("GROOVE", "M10 10v40"), on("FOLD", "M20 10v40")}, asks: "artwork/fold:FOLD", over: 1, advice: "mirrored"},
		{name: "one by rule, answered", req: folding(t, groove, anyFold), shapes: []drawing.Shape{on("GROOVE", "M10 10v40"), on("FOLD", "M20 10v40")}, replies: ask.Replies{"artwork/fold:FOLD": {Answer: "mountain"}}, over: 1, advice: "turned over"},
		{name: "by names", req: folding(t, anyFold), shapes: []drawing.Shape{on("Mountain folds", "M10 10v40"), on("Valley folds", "M20 10v40")}, asks: "artwork/folds", parts: 2},
		{name: "as the names say", req: folding(t, anyFold), shapes: []drawing.Shape{on("Mountain folds", "M10 10v40"), on("Valley folds", "M20 10v40")}, replies: ask.Replies{"artwork/folds": {Answer: ask.Suggested}}, over: 1, advice: "turned over"},
		{name: "all at once", req: folding(t, anyFold), shapes: []drawing.Shape{on("Mountain folds", "M10 10v40"), on("Valley folds", "M20 10v40")}, replies: ask.Replies{"artwork/folds": {Answer: "mountain"}}},
		{name: "the name of all says valley", req: folding(t, anyFold), shapes: []drawing.Shape{on("valley fold", "M10 10v40")}, asks: "artwork/fold:valley fold"},
		{name: "the name of all says mountain", req: folding(t, anyFold), shapes: []drawing.Shape{on("mountain fold", "M10 10v40")}},
		{name: "all dashed", req: folding(t, anyFold), shapes: []drawing.Shape{drawn(ask.Dashed, "FOLD", "M10 10v40"), drawn(ask.Dashed, "FOLD", "M20 10v40")}},
		{name: "by dashes alone", req: folding(t, anyFold), shapes: []drawing.Shape{drawn(ask.Dashed, "FOLD", "M10 10v40"), drawn(ask.DashDot, "FOLD", "M20 10v40")}, asks: "artwork/folds", parts: 2},
		{name: "by dashes, as mostly drawn", req: folding(t, anyFold), shapes: []drawing.Shape{drawn(ask.Dashed, "FOLD", "M10 10v40"), drawn(ask.DashDot, "FOLD", "M20 10v40")}, replies: ask.Replies{"artwork/folds": {Answer: ask.Suggested}}, over: 1, advice: "turned over"},
		{name: "whole and dashed", req: folding(t, anyFold), shapes: []drawing.Shape{drawn(ask.Dashed, "FOLD", "M10 10v40"), drawn(ask.Whole, "FOLD", "M20 10v40")}, asks: "artwork/folds", parts: 2},
		{name: "dashes of a side by rule", req: folding(t, groove), shapes: []drawing.Shape{drawn(ask.Dashed, "GROOVE", "M10 10v40"), drawn(ask.DashDot, "GROOVE", "M20 10v40")}, over: 2, advice: "cut from its back"},
		{name: "two colours of a layer", req: folding(t, groove, anyFold), shapes: []drawing.Shape{on("GROOVE", "M10 10v40"), in(red, "M20 10v40"), in(blue, "M30 10v40")}, asks: "artwork/folds", parts: 2, over: 1, advice: "mirrored"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.req.Replies, tt.req.Mirror = tt.replies, tt.mirror
			a := resolve(t, tt.req, append(tt.shapes, box)...)
			asked, parts := "", 0
			for _, q := range a.Questions {
				asked, parts = asked+q.ID, len(q.Parts)
			}
			if asked != tt.asks || parts != tt.parts {
				t.Errorf("asks %q with %d parts, want %q with %d", asked, parts, tt.asks, tt.parts)
			}
			over := 0
			if f := find(a, finding.FoldsOverScore); f != nil {
				over = f.Count
				if len(f.Places) != f.Count || !strings.Contains(f.Hint, tt.advice) || !strings.Contains(f.TechnicianHint, tt.advice) {
					t.Errorf("advice %q, want %q; %d places", f.Hint, tt.advice, len(f.Places))
				}
			}
			if over != tt.over {
				t.Errorf("%d folds close over their score, want %d", over, tt.over)
			}
		})
	}
}

// The question says of each kind of fold what it is called in the drawing, and
// offers first what the name says.
func TestFoldQuestion(t *testing.T) {
	req := folding(t, workshop.Rule{Layer: "*fold*", Means: workshop.MeansScore})
	a := resolve(t, req, shape(t, "M10 10v40", "Valley folds", teal), shape(t, "M20 10v40", "Mountain folds", teal), cut(t, "M0 0h90v60h-90z"))
	q := question(a, "artwork/folds")
	if q == nil || q.Answers[0].ID != ask.Suggested || !strings.Contains(q.Answers[0].Label, "Mountain folds stand up, Valley folds lie in") {
		t.Fatalf("asks %+v", a.Questions)
	}
	if v := q.Parts[1]; v.Text != "Hold your drawing in front of you. Which way does the fold on layer Valley folds go?" || v.Answers[0].ID != "valley" {
		t.Errorf("part %+v", v)
	}
}

// Folds that dashes alone tell apart are one question, whose parts say how each is drawn,
// for a picture; what is mostly drawn so comes first.
func TestFoldsByDashes(t *testing.T) {
	dash, dot := shape(t, "M10 10v40", "FOLD", teal), shape(t, "M20 10v40", "FOLD", teal)
	dash.Dashed, dot.Dashed, dot.DashDot = true, true, true
	req := folding(t, workshop.Rule{Layer: "*fold*", Means: workshop.MeansScore})
	q := question(resolve(t, req, dash, dot, cut(t, "M0 0h90v60h-90z")), "artwork/folds")
	if q == nil || len(q.Parts) != 2 || q.Answers[0].ID != ask.Suggested || !strings.Contains(q.Answers[0].Label, "As diagrams of folds are mostly drawn: ") {
		t.Fatalf("asks %+v", q)
	}
	for i, want := range []struct {
		line  ask.Line
		first string
		text  string
	}{{ask.DashDot, "mountain", "drawn in dash and dot on layer FOLD"}, {ask.Dashed, "valley", "drawn in dashes on layer FOLD"}} {
		if p := q.Parts[i]; p.Line != want.line || p.Answers[0].ID != want.first || !strings.Contains(p.Text, want.text) || p.Colour != teal.String() {
			t.Errorf("part %d: %+v", i, p)
		}
	}
}
